import type { DeviceId, EntryId, PhotoHash } from '../ids.ts'
import type { CaseView } from './case-view.ts'
import type { FieldValue } from './fields.ts'

/** A photo that stands in a case: what the record says of it. */
export interface PhotoOfCase extends FieldValue<'photo'> {
  readonly id: EntryId
  readonly by: DeviceId
}

/**
 * Whether photos may be taken and shown. Only `yes` may: a "no", two answers apart, and an answer or a removal that this
 * version cannot read keep every photo out of sight until a person decides.
 */
export type PhotoAgreement = 'yes' | 'no' | 'not-asked' | 'differs' | 'newer'

export const photoAgreementOf = ({ values, differences, newer }: CaseView): PhotoAgreement => {
  if (newer.includes('photoAgreed') || newer.includes('photoRemoved')) return 'newer'
  if (differences.some(({ field }) => field === 'photoAgreed')) return 'differs'
  if (values.photoAgreed === undefined) return 'not-asked'
  return values.photoAgreed ? 'yes' : 'no'
}

/** Photos that stand, the earliest first; one that was named twice comes once, as it was named last. */
export const photosOf = ({ events }: CaseView): readonly PhotoOfCase[] => {
  const byHash = new Map<PhotoHash, PhotoOfCase>()
  for (const { id, by, value } of events.photo) byHash.set(value.hash, { ...value, id, by })
  return [...byHash.values()]
}

/** Photos that were taken back: their bytes are kept nowhere. */
export const removedPhotosOf = ({ events }: CaseView): readonly PhotoHash[] => [
  ...new Set(events.photoRemoved.flatMap(({ value }) => value.hashes)),
]
