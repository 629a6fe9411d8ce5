import type { CaseView } from '../../../src/case/case-view.ts'
import type { NamesOfKind } from '../../../src/case/fields.ts'
import type { CaseFacts } from '../case-section.ts'

export type MeasureName = NamesOfKind<'measure'>
/** Shapes of the seated figure on which a tape is drawn. */
export type Figure = 'side' | 'front' | 'back' | 'lying' | 'scale'

/** One place on the body where something is measured. */
export interface Landmark {
  readonly field: MeasureName
  readonly figure: Figure
  /** True where the fit cannot be made without it. */
  readonly wanted: boolean
}

/** In the order that moves the person least: seated heights together, the scale last. */
const LANDMARKS = [
  { field: 'hipWidthMm', figure: 'front', wanted: true },
  { field: 'thighDepthLeftMm', figure: 'side', wanted: true },
  { field: 'thighDepthRightMm', figure: 'side', wanted: true },
  { field: 'calfLengthLeftMm', figure: 'side', wanted: true },
  { field: 'calfLengthRightMm', figure: 'side', wanted: true },
  { field: 'ribHeightMm', figure: 'side', wanted: true },
  { field: 'scapulaHeightMm', figure: 'side', wanted: true },
  { field: 'axillaHeightMm', figure: 'side', wanted: false },
  { field: 'shoulderHeightMm', figure: 'side', wanted: false },
  { field: 'elbowHeightMm', figure: 'side', wanted: false },
  { field: 'massKg', figure: 'scale', wanted: true },
  { field: 'statureMm', figure: 'lying', wanted: false },
  { field: 'shoeSoleMm', figure: 'side', wanted: false },
  { field: 'upperArmMm', figure: 'side', wanted: false },
  { field: 'forearmGripMm', figure: 'side', wanted: false },
  { field: 'biacromialMm', figure: 'back', wanted: false },
  { field: 'hipFlexionLeftDeg', figure: 'lying', wanted: false },
  { field: 'hipFlexionRightDeg', figure: 'lying', wanted: false },
  { field: 'kneeExtensionLeftDeg', figure: 'side', wanted: false },
  { field: 'kneeExtensionRightDeg', figure: 'side', wanted: false },
] as const satisfies readonly Landmark[]

export type LandmarkField = (typeof LANDMARKS)[number]['field']

/** With high trunk support the back reaches above the shoulder blades: other heights are wanted. */
const HIGH_TRUNK: readonly MeasureName[] = ['axillaHeightMm', 'shoulderHeightMm']
const LOW_TRUNK: readonly MeasureName[] = ['ribHeightMm', 'scapulaHeightMm']

const hasThigh = (loss: CaseView['values']['limbLossLeft']): boolean =>
  loss?.level !== 'transfemoral' && loss?.level !== 'hip-disarticulation'
const hasCalf = (loss: CaseView['values']['limbLossLeft']): boolean => !loss || loss.prosthesisWorn === true

/** Parts that were lost need no measure (design of fitting: limb loss). */
export const isOnThisBody = ({ values }: CaseView, field: MeasureName): boolean => {
  const loss = field.includes('Left') ? values.limbLossLeft : values.limbLossRight
  if (field.startsWith('thighDepth') || field.startsWith('hipFlexion')) return hasThigh(loss)
  if (field.startsWith('calfLength') || field.startsWith('kneeExtension')) return hasCalf(loss)
  return true
}

/** What to measure on this person, in order. */
export const landmarksOf = (view: CaseView): readonly (Landmark & { readonly field: LandmarkField })[] => {
  const high = view.values.trunkNeed === 'high'
  return LANDMARKS.filter(({ field }) => isOnThisBody(view, field)).map(landmark => ({
    ...landmark,
    wanted:
      (landmark.wanted && !(high && LOW_TRUNK.includes(landmark.field))) ||
      (high && HIGH_TRUNK.includes(landmark.field)),
  }))
}

/** Fields with a reading that nobody can have. */
export const setAside = ({ outcome }: CaseFacts): readonly string[] => [
  ...new Set(outcome.doubts.filter(doubt => doubt.setAside).map(doubt => doubt.field)),
]
