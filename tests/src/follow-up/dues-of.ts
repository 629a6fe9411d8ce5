import { toCalendarDate } from '../../../src/calendar-date.ts'
import { viewOfCase } from '../../../src/case/case-view-of.ts'
import type { Counted } from '../../../src/case/entry.ts'
import { DEFAULT_POLICY } from '../../../src/fitting/policy.ts'
import type { Due, DueKind } from '../../../src/follow-up/due.ts'
import { type Dues, type DuesContext, dues } from '../../../src/follow-up/dues.ts'
import { type Said, said, testCase } from '../../support/case-entries.ts'
import { catalogueOf, EXAMPLE_CHILD, EXAMPLE_FOLDING } from '../../support/example-chairs.ts'

export const CONTEXT: DuesContext = {
  policy: DEFAULT_POLICY,
  catalogue: catalogueOf(EXAMPLE_FOLDING, EXAMPLE_CHILD),
}

/** What falls due for a case, from entries that count. */
export const duesOfEntries = (entries: readonly Counted[], today: string, context: DuesContext = CONTEXT): Dues =>
  dues(viewOfCase(testCase, entries), context, toCalendarDate(today))

/** What falls due for a case, from entries as devices write them. */
export const duesOf = (entries: readonly Said[], today: string, context: DuesContext = CONTEXT): Dues =>
  duesOfEntries(entries.map(said), today, context)

/** The only due of a kind. */
export const theDue = ({ items }: Dues, kind: DueKind): Due => {
  const found = items.filter(item => item.kind === kind)
  const [only] = found
  if (!only || found.length > 1) throw new Error(`${found.length} dues of kind ${kind}`)
  return only
}
export const hasDue = ({ items }: Dues, kind: DueKind): boolean => items.some(item => item.kind === kind)

export const ADULT: Said = { set: { dateOfBirth: '1980-05-04' } }
export const handover = (handedOverOn: string, more: object = {}): Said => ({
  set: { handover: { handedOverOn, ...more } },
})
const OK = { fit: 'ok', skin: 'ok', chair: 'ok', skills: 'ok' }
export const review = (visitedOn: string, parts: object = {}): Said => ({
  set: { review: { visitedOn, ...OK, ...parts } },
})
export const tyre = (on: string, more: object): Said => ({
  set: { tyreReading: { on, tyre: 'rear-left', celsius: 20, altitudeM: 0, ...more } },
})
