import * as z from 'zod'
import { type CalendarDate, calendarDateSchema } from '../src/calendar-date.ts'
import type { Counted } from '../src/case/entry.ts'
import type { Crew } from '../src/crew/crew.ts'
import { CONTEXT_PARTS, type ContextPart } from '../src/crew/shared-context.ts'
import { caseIdSchema, compareText, deviceIdSchema, type EntryId, entryIdSchema } from '../src/ids.ts'
import { toBase64Url } from './bytes.ts'
import { sha256AtOnce } from './trust/digest.ts'

const hashText = z.string().regex(/^[A-Za-z0-9_-]{43}$/, 'not 32 bytes in base64url')

const derivedSchema = z.strictObject({
  /** Content hash of the document, and who of its authors counted, when this was derived. */
  ofHash: hashText,
  standing: z.string(),
  /** Hashes of the parts of the shared context that were read. */
  parts: z.partialRecord(z.enum(CONTEXT_PARTS), hashText),
  rulesVersion: z.string(),
  on: calendarDateSchema,
  changesOn: calendarDateSchema.nullable(),
  /** For lists: the person's name as it stands. */
  name: z.string().nullable(),
  /** False once an exit is recorded: catalogue and policy then no longer touch the case. */
  open: z.boolean(),
  brief: z.unknown(),
})
export type Derived = Readonly<z.infer<typeof derivedSchema>>

const summarySchema = z.strictObject({
  summary: z.literal(1),
  document: z.union([z.literal('team'), z.literal('catalogue'), caseIdSchema]),
  hash: hashText,
  entryCount: z.number().int().min(0),
  rowCount: z.number().int().min(0),
  /** Whose entries are inside: finds the cases that a strike-off touches without opening any. */
  authors: z.array(deviceIdSchema),
  /** Entries of this device that no other one is known to hold. Null in a summary of before this was kept: not known. */
  onlyHere: z.array(entryIdSchema).nullable().default(null),
  derived: derivedSchema.nullable(),
})

/** What is known of a document without opening it. Facts of the entries, and what was last derived from them. */
export type Summary = Readonly<z.infer<typeof summarySchema>>

export const writeSummary = (summary: Summary): Uint8Array => new TextEncoder().encode(JSON.stringify(summary))

/** Undefined when it is none (of this version): it is then made anew from the rows. */
export const readSummary = (bytes: Uint8Array): Summary | undefined => {
  try {
    const read = summarySchema.safeParse(JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes)))
    return read.success ? read.data : undefined
  } catch {
    return undefined
  }
}

/** Content hash of a document or of its counting entries: SHA-256 over the ids, sorted by code unit, one after the other. */
export const hashOfIds = (ids: readonly EntryId[]): Uint8Array =>
  sha256AtOnce(new TextEncoder().encode(ids.toSorted().join('')))

export const authorsOf = (entries: readonly Counted[]): Summary['authors'] =>
  [...new Set(entries.map(({ entry }) => entry.by))].sort(compareText)

export type PartHashes = Readonly<Record<ContextPart, string>>

/** Content hash of each part of the shared context. The parts are built in a fixed order, so equal parts are equal text. */
export const hashParts = (context: Readonly<Record<ContextPart, unknown>>): PartHashes => {
  const hashOf = (part: ContextPart): [ContextPart, string] => [
    part,
    toBase64Url(sha256AtOnce(new TextEncoder().encode(JSON.stringify(context[part])))),
  ]
  return Object.fromEntries(CONTEXT_PARTS.map(hashOf)) as PartHashes
}

/** How the authors of a document stand with the crew, as text to compare: when it changes, other entries count. */
export const standingOf = (crew: Crew, authors: Summary['authors']): string =>
  authors
    .map(device => {
      const member = crew.members.get(device)
      if (!member) return 'out'
      const role = member.role === 'visitor' ? 'visitor' : 'in'
      return member.struckBy === null ? role : `${role}, struck, ${crew.vouched.size} vouched`
    })
    .join('; ')

/** Whether what was derived would come out the same today. A closed case keeps its last outcome for the same entries. */
export const isCurrent = (
  { hash, authors, derived }: Summary,
  crew: Crew,
  parts: PartHashes,
  rulesVersion: string,
  today: CalendarDate,
): boolean => {
  if (derived === null || derived.ofHash !== hash || derived.standing !== standingOf(crew, authors)) return false
  if (!derived.open) return true
  if (derived.rulesVersion !== rulesVersion || today < derived.on) return false
  if (derived.changesOn !== null && today >= derived.changesOn) return false
  return CONTEXT_PARTS.every(part => derived.parts[part] === undefined || derived.parts[part] === parts[part])
}
