import { CHECK_KEYS, type CheckKey } from '../chair/chair-model.ts'
import type { CaseView } from './case-view.ts'
import { checkFieldName, type FieldName, type Section } from './fields.ts'

/** Where a case stands, in the order in which the job usually runs. Nothing forces that order. */
export const STAGES = [
  'referral',
  'assessment',
  'measuring',
  'choosing',
  'preparing',
  'checks',
  'fitting',
  'training',
  'handover',
  'follow-up',
  'closed',
] as const
export type Stage = (typeof STAGES)[number]

/** What a section still lacks before a chair can be handed over: names of fields. */
export interface Lack {
  readonly section: Section
  readonly needs: readonly FieldName[]
}

export interface CaseStage {
  readonly stage: Stage
  /** Every section that still lacks something, in order, also those before and after the stage. Empty once handed over. */
  readonly next: readonly Lack[]
}

const isRecorded = (view: CaseView, name: FieldName): boolean => (view.heads[name] ?? []).length > 0

/** The facts that fitting cannot do without, on this person. Stature is never waited for (10 mm of it move an angle by 0.04 deg). */
const measuringNeeds = ({ values }: CaseView): readonly FieldName[] => {
  const { limbLossLeft, limbLossRight, trunkNeed } = values
  const hasThigh = (loss: typeof limbLossLeft): boolean =>
    loss?.level !== 'transfemoral' && loss?.level !== 'hip-disarticulation'
  const hasCalf = (loss: typeof limbLossLeft): boolean => !loss || loss.prosthesisWorn === true
  const trunk: readonly FieldName[] =
    trunkNeed === 'high' ? ['axillaHeightMm', 'shoulderHeightMm'] : ['ribHeightMm', 'scapulaHeightMm']
  return [
    'massKg',
    'hipWidthMm',
    ...(hasThigh(limbLossLeft) ? (['thighDepthLeftMm'] as const) : []),
    ...(hasThigh(limbLossRight) ? (['thighDepthRightMm'] as const) : []),
    ...(hasCalf(limbLossLeft) ? (['calfLengthLeftMm'] as const) : []),
    ...(hasCalf(limbLossRight) ? (['calfLengthRightMm'] as const) : []),
    ...trunk,
  ]
}

/** What each section gives before handover (project value; the sections follow WHO 2008, table 3.2). */
const needsOf = (view: CaseView, checks: readonly CheckKey[]): readonly Lack[] => [
  { section: 'referral', needs: ['personName', 'dateOfBirth', 'toldAndAgreed'] },
  {
    section: 'assessment',
    needs: [
      'posture',
      'trunkNeed',
      'propulsion',
      'skill',
      'ground',
      'presentSore',
      'pastSore',
      'reducedSensation',
      'cannotReposition',
      'moisture',
      'newWeakness',
      'breathingTrouble',
      'swallowingTrouble',
      'uncontrolledSpasms',
    ],
  },
  { section: 'measuring', needs: measuringNeeds(view) },
  { section: 'choosing', needs: ['chosenSetUp'] },
  {
    section: 'preparing',
    needs: [
      'builtChair',
      'builtSeatWidthMm',
      'builtSeatDepthMm',
      'builtSeatHeight',
      'builtAxle',
      'builtBackHeightMm',
      'builtCushion',
      'builtFootrestLeftMm',
      'builtFootrestRightMm',
      'builtArmrestMm',
      'serialNumber',
    ],
  },
  { section: 'checks', needs: checks.map(checkFieldName) },
  {
    section: 'fitting',
    needs: ['fitSize', 'fitPosture', 'handCheckLeft', 'handCheckRight', 'fitMoving', 'brakeReach'],
  },
  {
    section: 'training',
    needs: [
      'trainedTransfers',
      'trainedHandlingChair',
      'trainedMobility',
      'trainedStayingHealthy',
      'trainedCareOfChair',
      'trainedWhomToContact',
    ],
  },
  { section: 'handover', needs: ['handover'] },
]

/** Another field that serves as well. */
const STANDS_IN: { readonly [Name in FieldName]?: FieldName } = {
  dateOfBirth: 'birthYear',
  scapulaHeightMm: 'axillaHeightMm',
}

/** Recorded, and saying what is wanted: a check that failed or training that was only talked about is still to do. */
const isMet = (view: CaseView, name: FieldName): boolean => {
  const standIn = STANDS_IN[name]
  if (!isRecorded(view, name)) return standIn !== undefined && isRecorded(view, standIn)
  if (name === 'handover') return hasOpenHandover(view)
  if (!Object.hasOwn(view.values, name)) return true
  const value = view.values[name as keyof CaseView['values']]
  if (value === 'not-done') return false
  if (typeof value !== 'object' || value === null) return true
  if ('result' in value) return value.result !== 'fail'
  if ('demonstrated' in value) return value.demonstrated
  return true
}

/** A chair handed over and not come back since. Without a serial number on both, a return ends any earlier handover. */
export const hasOpenHandover = ({ events }: CaseView): boolean =>
  events.handover.some(
    ({ value: given }) =>
      !events.chairReturned.some(
        ({ value: back }) =>
          back.on >= given.handedOverOn &&
          (back.serialNumber === undefined ||
            given.serialNumber === undefined ||
            back.serialNumber === given.serialNumber),
      ),
  )

/** What each section lacks, in order, also those that lack nothing; whatever came of the case since. */
export const lacksOf = (view: CaseView, checks: readonly CheckKey[] = CHECK_KEYS): readonly Lack[] =>
  needsOf(view, checks).map(({ section, needs }) => ({ section, needs: needs.filter(name => !isMet(view, name)) }))

/**
 * Where the case stands: the furthest section in which something is recorded, or, once that lacks nothing, the next one
 * that does. `checks`: those that the chosen chair model asks for.
 */
export const stageOf = (view: CaseView, checks: readonly CheckKey[] = CHECK_KEYS): CaseStage => {
  if (view.values.exit) return { stage: 'closed', next: [] }
  if (hasOpenHandover(view)) return { stage: 'follow-up', next: [] }
  const sections = needsOf(view, checks)
  const lacks = lacksOf(view, checks)
  const furthest = sections.findLastIndex(
    ({ section, needs }) => section !== 'handover' && needs.some(name => isRecorded(view, name)),
  )
  const standing = lacks.find(({ needs }, index) => index >= Math.max(furthest, 0) && needs.length > 0)
  return {
    stage: (standing?.section ?? 'handover') as Stage,
    next: lacks.filter(({ needs }) => needs.length > 0),
  }
}
