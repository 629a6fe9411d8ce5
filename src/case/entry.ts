import * as z from 'zod'
import { caseIdSchema, deviceIdSchema, type EntryId, entryIdSchema } from '../ids.ts'
import { failure, type Result, success } from '../result.ts'

export const ENTRY_VERSION = 1
export const ENTRY_TEXT_LIMIT = 16 * 1024
export const ENTRY_DEPTH_LIMIT = 4

/**
 * `save`: what a form states. `settle`: a person ends a difference, naming all heads shown. `retest`: the same thing was
 * looked at or done again. Only the last two, with `why`, lower a risk, turn a failed check or re-open a handover (B6).
 */
export const ENTRY_KINDS = ['save', 'settle', 'retest'] as const
export type EntryKind = (typeof ENTRY_KINDS)[number]

/** What was set, by field: values are for each field to judge. Parsed from JSON, so that its keys are its own. */
const setSchema = z.custom<Readonly<Record<string, unknown>>>(
  value =>
    typeof value === 'object' &&
    value !== null &&
    !Array.isArray(value) &&
    Object.keys(value).every(field => field.length >= 1 && field.length <= 60),
  'fields with names of 1 to 60 letters',
)

const envelope = z.strictObject({
  v: z.literal(ENTRY_VERSION),
  case: caseIdSchema,
  by: deviceIdSchema,
  /** The device's claim, milliseconds since 1970. Shown; never decides anything. */
  at: z.number().int().min(0),
  kind: z.enum(ENTRY_KINDS),
  set: setSchema,
  over: z.array(entryIdSchema).max(600),
  why: z.string().min(1).max(2000).optional(),
})

/** The least that any version of an entry must say to be kept, passed on and marked as written by a later version. */
const newerEnvelope = z.looseObject({
  v: z.number().int().min(1),
  case: caseIdSchema,
  by: deviceIdSchema,
  set: setSchema,
})

/** A statement that counts by B1 (hash, signature, case and signer were checked in `sync`). Frozen; never re-serialised. */
export type Entry = z.infer<typeof envelope>

/** An entry of a later version: kept, counted, shown; its `over` has no effect here (B7). */
export interface NewerEntry {
  readonly v: number
  readonly case: Entry['case']
  readonly by: Entry['by']
  readonly set: Readonly<Record<string, unknown>>
}

export type Counted =
  | { readonly id: EntryId; readonly readable: true; readonly entry: Entry }
  | { readonly id: EntryId; readonly readable: false; readonly entry: NewerEntry }

export type EntryFailure = {
  readonly type: 'too-long' | 'too-deep' | 'not-json' | 'not-an-entry'
  readonly message: string
}

/**
 * Freezes parsed JSON all through, and names what makes it unsafe to hold: nesting, or a key `__proto__` (JSON.parse makes
 * it an own key, others would inherit it).
 */
const freezeShape = (value: unknown, depthLeft: number): EntryFailure | undefined => {
  if (typeof value !== 'object' || value === null) return undefined
  if (depthLeft === 0) return { type: 'too-deep', message: `an entry nested deeper than ${ENTRY_DEPTH_LIMIT}` }
  for (const key of Object.keys(value)) {
    if (key === '__proto__') return { type: 'not-an-entry', message: 'an entry with a key __proto__' }
    const inner = freezeShape((value as Readonly<Record<string, unknown>>)[key], depthLeft - 1)
    if (inner) return inner
  }
  Object.freeze(value)
  return undefined
}

/**
 * Reads the text of an entry. The caller has checked the text's byte length against `ENTRY_TEXT_LIMIT` (bytes are not
 * seen here) and checks the id afterwards. A key `__proto__` is refused: it would be inherited, not owned.
 */
export const readEntry = (
  text: string,
): Result<{ readable: true; entry: Entry } | { readable: false; entry: NewerEntry }, EntryFailure> => {
  if (text.length > ENTRY_TEXT_LIMIT)
    return failure({ type: 'too-long', message: `an entry's text is over ${ENTRY_TEXT_LIMIT} bytes` })
  let value: unknown
  try {
    value = JSON.parse(text)
  } catch {
    return failure({ type: 'not-json', message: 'an entry that is not JSON text' })
  }
  const unsafe = freezeShape(value, ENTRY_DEPTH_LIMIT)
  if (unsafe) return failure(unsafe)
  const now = envelope.safeParse(value)
  // The schemas make the envelope and its list anew; what was set stays the frozen one.
  if (now.success) {
    Object.freeze(now.data.over)
    return success({ readable: true, entry: Object.freeze(now.data) })
  }
  const later = newerEnvelope.safeParse(value)
  if (!later.success) return failure({ type: 'not-an-entry', message: z.prettifyError(now.error) })
  const { v, set } = later.data
  return success({ readable: false, entry: Object.freeze({ v, case: later.data.case, by: later.data.by, set }) })
}
