import type { CaseView } from '../../src/case/case-view.ts'
import type { FieldValue } from '../../src/case/fields.ts'

/** The handover of the latest day; of two on one day the later in the record's own order. */
export const latestHandover = ({ events }: CaseView): FieldValue<'handover'> | undefined =>
  events.handover
    .map(event => event.value)
    .toSorted((a, b) => (a.handedOverOn < b.handedOverOn ? -1 : a.handedOverOn > b.handedOverOn ? 1 : 0))
    .at(-1)
