import * as z from 'zod'
import { calendarDateSchema } from '../calendar-date.ts'
import { caseIdSchema, deviceIdSchema, entryIdSchema } from '../ids.ts'

/** What a member may do. A visitor looks on: what a visitor writes is kept and shown, and counts nowhere. */
export const ROLES = ['technician', 'therapist', 'coordinator', 'visitor'] as const
export type Role = (typeof ROLES)[number]

/** A vouch of this many ids fills most of an entry's 16 KiB. */
export const VOUCH_LIMIT = 600

/** Why a case is erased: chosen, never typed, for the team document says nothing about a person. */
export const ERASE_REASONS = ['asked', 'mistake', 'twice', 'kept-long-enough'] as const
export type EraseReason = (typeof ERASE_REASONS)[number]

const memberName = z.string().trim().min(1).max(80)
/** Raw P-256 point, 65 bytes in base64url. That it is the device's own key is checked where entries are admitted. */
const publicKey = z.string().regex(/^[A-Za-z0-9_-]{87}$/, 'not a public key of 65 bytes in base64url')
const random = z.string().regex(/^[A-Za-z0-9_-]{21}[AQgw]$/, 'not 16 bytes in base64url')
const stockText = z.string().trim().min(1).max(80)
const pieces = z
  .number()
  .int('stock is counted in whole pieces')
  .min(-100_000)
  .max(100_000)
  .refine(count => count !== 0, 'a movement of nothing')

/**
 * What entries of the team document may set. Nothing medical: who is in the crew, who was struck off, which cases are to
 * be erased, what went in and out of stock. Fields are only ever added; a field never changes its meaning.
 */
export const TEAM_FIELDS = {
  /** Said once, by the founder; the casebook's id is made from it. */
  found: z.strictObject({
    key: publicKey,
    name: memberName,
    random,
    /** A founder may write; unsaid, the founder is the coordinator. */
    role: z.enum(ROLES).exclude(['visitor']).optional(),
  }),
  /** What the crew calls itself and where it works: the heading of every list. */
  title: z.strictObject({ crewName: memberName, place: memberName }),
  /** Whom people call about their chair: somebody of the crew, or the service of the place. Null: nobody any more. */
  contact: z.strictObject({ who: memberName, telephone: z.string().trim().min(1).max(60) }).nullable(),
  add: z.strictObject({ device: deviceIdSchema, key: publicKey, name: memberName, role: z.enum(ROLES) }),
  /** `secondName`: who decided it as well, for a step that cannot be undone. */
  strike: z.strictObject({ device: deviceIdSchema, secondName: memberName.optional() }),
  /** These entries of a struck device were here before the strike was heard of, or a person stands up for them. */
  vouch: z.strictObject({ device: deviceIdSchema, ids: z.array(entryIdSchema).min(1).max(VOUCH_LIMIT) }),
  /** One device's word hides the case, a second device's removes it. Stands for ever. */
  erase: z.strictObject({ case: caseIdSchema, why: z.enum(ERASE_REASONS).optional() }),
  /** Two cases, in the order of their ids, are of one person, or are not. Said again over what was said, it is taken back. */
  samePerson: z.strictObject({
    cases: z
      .tuple([caseIdSchema, caseIdSchema])
      .refine(([first, second]) => first < second, 'two cases in the order of their ids'),
    same: z.boolean(),
  }),
  /** In (above 0) or out (below 0) of a place. A statement of what happened, never a number that is set (B11). */
  movement: z.strictObject({ line: stockText, place: stockText, amount: pieces, case: caseIdSchema.optional() }),
  /** Put aside for a case (above 0) or given free again (below 0); it has not left the place. */
  reservation: z.strictObject({ line: stockText, place: stockText, amount: pieces, case: caseIdSchema }),
  /** So many pieces of a line are to stay at a place, whoever waits; 0 ends the rule. */
  keep: z.strictObject({ line: stockText, place: stockText, amount: z.number().int().min(0).max(100_000) }),
  /** A journey; null as the title: called off. Its days are said one by one, so that two people can plan different ones. */
  trip: z.strictObject({ trip: random, title: memberName.nullable() }),
  /** A day of a trip at one place: who works there and for how long, the way there and back not counted. 0 hours: not that day. */
  tripDay: z.strictObject({
    trip: random,
    on: calendarDateSchema,
    place: stockText,
    hours: z.number().min(0).max(16),
    crew: z.array(deviceIdSchema).max(40),
  }),
} as const

export type TeamFieldName = keyof typeof TEAM_FIELDS
export type TeamValue<Name extends TeamFieldName> = z.infer<(typeof TEAM_FIELDS)[Name]>
/** One statement may set several fields: a chair goes out and its reservation ends. */
export type TeamStatement = { readonly [Name in TeamFieldName]?: TeamValue<Name> }

export const isTeamFieldName = (name: string): name is TeamFieldName => Object.hasOwn(TEAM_FIELDS, name)
