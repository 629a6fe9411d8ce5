import type { CaseView, Head } from '../../../src/case/case-view.ts'
import type { Reading } from '../../../src/case/fields.ts'
import { personOf } from '../../../src/case/person-of.ts'
import { targetOf } from '../../../src/outcome/target.ts'
import type { PartFacts } from '../case-part.ts'
import { answeredView } from '../choosing/weighed.ts'

/** Where the mass centre lies ahead of the axle: by the model, and by two scales once they were read. */
export interface MassCentre {
  readonly modelMm: number | null
  readonly measuredMm: number | null
  /** One standard error of the model, where the two are too far apart. */
  readonly doubtErrorMm: number | null
  /** The axle was set on a later day than the scales were read: the readings belong to the old place. */
  readonly axleSetSince: boolean
}

const withoutScales = (view: CaseView): CaseView => {
  const { scaleFrontKg: _front, scaleRearKg: _rear, ...values } = view.values
  return { ...view, values }
}

const axleSetSince = ({ heads, events }: CaseView): boolean => {
  const readings = [...(heads.scaleRearKg ?? []), ...(heads.scaleFrontKg ?? [])] as readonly Head<Reading>[]
  const days = readings.flatMap(({ value }) => value.on ?? [])
  const read = days.toSorted().at(0)
  return read !== undefined && events.stepDone.some(({ value: tick }) => tick.step === 'rear-axle' && tick.on > read)
}

export const massCentreOf = ({ view, outcome, context }: PartFacts): MassCentre => {
  const answered = answeredView(view)
  const { today, recommendation } = outcome
  const person = personOf(answered, today)
  const { catalogue, policy } = context
  const modelled = targetOf(withoutScales(answered), person, recommendation.doubts, catalogue, policy, today)
  const doubt = outcome.doubts.find(one => one.likely === 'centre-differs-from-model')
  return {
    modelMm: modelled.type === 'target' ? (modelled.target.predicted?.comAheadOfAxleMm ?? null) : null,
    measuredMm: outcome.target?.measuredComAheadMm ?? null,
    doubtErrorMm: doubt ? Number(doubt.reason.inputs.errorMm) : null,
    axleSetSince: axleSetSince(view),
  }
}
