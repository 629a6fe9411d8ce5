import type { LimbLoss, Person, Side } from '../body/person.ts'
import { type CalendarDate, toCalendarDate } from '../calendar-date.ts'
import type { CaseView } from './case-view.ts'
import { type FieldValue, isWeighedWith, type Reading, readingValue, WEIGHED_WITH } from './fields.ts'

/** Fields of a case that fitting takes as they are, under the same name. */
const SAME_NAME = [
  'sex',
  'massKg',
  'weighedWithProsthesis',
  'statureMm',
  'hipWidthMm',
  'thighDepthLeftMm',
  'thighDepthRightMm',
  'calfLengthLeftMm',
  'calfLengthRightMm',
  'shoeSoleMm',
  'ribHeightMm',
  'scapulaHeightMm',
  'axillaHeightMm',
  'shoulderHeightMm',
  'elbowHeightMm',
  'upperArmMm',
  'forearmGripMm',
  'biacromialMm',
  'hipFlexionLeftDeg',
  'hipFlexionRightDeg',
  'kneeExtensionLeftDeg',
  'kneeExtensionRightDeg',
  'propulsion',
  'skill',
  'ground',
  'steepestSlopeDeg',
  'narrowestDoorMm',
  'climate',
  'posture',
  'trunkNeed',
  'progressive',
  'loads',
] as const satisfies readonly (keyof Person & keyof CaseView['values'])[]

const SKIN_RISKS = ['presentSore', 'pastSore', 'reducedSensation', 'cannotReposition', 'moisture'] as const

type Kept<Shape> = { [Key in keyof Shape]?: Exclude<Shape[Key], undefined> }

/** The parts that were given: absent stays absent, never undefined. */
const given = <Shape extends object>(shape: Shape): Kept<Shape> => taken(shape, Object.keys(shape) as (keyof Shape)[])

const taken = <Shape extends object, Key extends keyof Shape>(from: Shape, keys: readonly Key[]) => {
  const kept: Kept<Pick<Shape, Key>> = {}
  for (const key of keys) {
    const value = from[key]
    if (value !== undefined) kept[key] = value as Exclude<Shape[Key], undefined>
  }
  return kept
}

/**
 * Only the year known: 31 December of it, the younger, so that the rules for children end late rather than early; a
 * child born this year is taken as born today.
 */
const dateOfBirthOf = ({ values }: CaseView, today: CalendarDate): CalendarDate | undefined => {
  if (values.dateOfBirth !== undefined || values.birthYear === undefined) return values.dateOfBirth
  return today.startsWith(`${values.birthYear}-`) ? today : toCalendarDate(`${values.birthYear}-12-31`)
}

/** `null` says that nothing is lost on that side; both sides null are an empty list, nothing said is absent. */
const lossesOf = <Loss, Found>(
  losses: readonly [Side, Loss | null | undefined][],
  toLoss: (side: Side, loss: Loss) => Found,
): readonly Found[] | undefined => {
  const said = losses.filter(([, loss]) => loss !== undefined)
  if (said.length === 0) return undefined
  return said.flatMap(([side, loss]) => (loss === null || loss === undefined ? [] : [toLoss(side, loss)]))
}

const toLegLoss = (side: Side, loss: NonNullable<FieldValue<'limbLossLeft'>>): LimbLoss => ({ side, ...loss })

/** How stature was come by, where its standing readings agree and say so. */
const statureMethodOf = (view: CaseView): string | undefined => {
  const methods = new Set((view.heads.statureMm ?? []).map(head => (head.value as Reading).how))
  return methods.size === 1 ? [...methods][0] : undefined
}

/** What was on the scale with the person by this reading; undefined where they were weighed alone. */
export const weighedWithOf = (reading: Reading): Person['weighedWith'] =>
  reading.less !== undefined && isWeighedWith(reading.how)
    ? { what: WEIGHED_WITH[reading.how], massKg: readingValue('massKg', { typed: reading.less, unit: reading.unit }) }
    : undefined

/** Of several weighings by difference the one with most taken off, so that no doubt about one is hidden by another. */
const mostWeighedWith = (view: CaseView): Person['weighedWith'] =>
  (view.heads.massKg ?? [])
    .flatMap(head => weighedWithOf(head.value as Reading) ?? [])
    .toSorted((a, b) => b.massKg - a.massKg)[0]

/**
 * The person of a case as fitting takes them, on the day `today`. What is not recorded, or an open difference, is
 * absent; a reading outside any possibility passes through and is met by `doubtsOf`.
 */
export const personOf = (view: CaseView, today: CalendarDate): Person => {
  const { limbLossLeft, limbLossRight, armLossLeft, armLossRight } = view.values
  const skin = taken(view.values, SKIN_RISKS)
  const person = given({
    ...taken(view.values, SAME_NAME),
    dateOfBirth: dateOfBirthOf(view, today),
    statureMethod: statureMethodOf(view),
    massGuessed: view.massGuessed && view.values.massKg !== undefined ? true : undefined,
    weighedWith: view.values.massKg === undefined ? undefined : mostWeighedWith(view),
    skin: Object.keys(skin).length > 0 ? skin : undefined,
    limbLoss: lossesOf(
      [
        ['left', limbLossLeft],
        ['right', limbLossRight],
      ],
      toLegLoss,
    ),
    armLoss: lossesOf(
      [
        ['left', armLossLeft],
        ['right', armLossRight],
      ],
      (side, level) => ({ side, level }),
    ),
  })
  return person as Person
}
