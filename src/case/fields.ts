import * as z from 'zod'
import {
  ARM_LOSS_LEVELS,
  CLIMATES,
  GROUNDS,
  LIMB_LOSS_LEVELS,
  loadSchema,
  POSTURES,
  PROPULSIONS,
  SKILLS,
  TRUNK_NEEDS,
} from '../body/person.ts'
import { type MeasureOfPerson, POSSIBLE_RANGES } from '../body/possible-ranges.ts'
import { calendarDateSchema } from '../calendar-date.ts'
import { CHECK_KEYS, type CheckKey, SETTING_KEYS } from '../chair/chair-model.ts'
import { chosenSetUpSchema } from '../chair/set-up.ts'
import { photoHashSchema } from '../ids.ts'
import { type Quantity, unitFactor } from '../units.ts'

/** Parts of a case, in the order in which the job usually runs. Nothing forces that order. */
export const SECTIONS = [
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
  'photos',
  'exit',
] as const
export type Section = (typeof SECTIONS)[number]

/**
 * - `measure`: a reading with its unit as typed; repeats within tolerance are averaged (B9).
 * - `risk`: true or false; true holds until settled or tested again with a reason (B6).
 * - `check`: pass or fail against the settings it was made for; fail holds likewise (B6).
 * - `choice`, `text`, `date`: one value; entries apart that differ are a difference.
 * - `event`: something that happened; every one stands, none is ever a difference to another.
 */
export const FIELD_KINDS = ['measure', 'risk', 'check', 'choice', 'text', 'date', 'event'] as const
export type FieldKind = (typeof FIELD_KINDS)[number]

/** How a reading was come by. `guessed` serves angles, never a capacity limit. */
export const METHODS = [
  'tape',
  'callipers',
  'books',
  'scale',
  'scale-in-chair',
  'scale-in-arms',
  'two-scales',
  'angle-gauge',
  'phone-level',
  'gauge',
  'guessed',
  'reported',
  'from-segments',
] as const

/** Weighed with something else on the scale, which is weighed again alone: the chair sat in, the adult who holds a child. */
export const WEIGHED_WITH = { 'scale-in-chair': 'chair', 'scale-in-arms': 'adult' } as const
type Method = (typeof METHODS)[number]
export const isWeighedWith = (how: Method | undefined): how is keyof typeof WEIGHED_WITH =>
  how !== undefined && Object.hasOwn(WEIGHED_WITH, how)

/** Beyond this in any unit it is no reading of a person, a chair or a home; keeps every sum finite. */
const GREATEST_TYPED = 1_000_000
/** Only these can lie below zero. */
const SIGNED: readonly Quantity[] = ['angle', 'temperature', 'altitude']

const text = (most: number) => z.string().trim().min(1).max(most)

/**
 * A measured value exactly as typed. Its value in the field's own unit is derived, never stored beside it. Two weighings
 * are one reading: `typed` together, `less` the other alone, both in `unit`.
 */
const readingSchema = (quantity: Quantity) => {
  const number = z
    .number()
    .min(SIGNED.includes(quantity) ? -GREATEST_TYPED : 0, `a ${quantity} cannot be below 0`)
    .max(GREATEST_TYPED, 'too great to be a reading')
  return z
    .strictObject({
      typed: number,
      less: number.optional(),
      unit: z.string().refine(unit => unitFactor(quantity, unit) !== undefined, `not a unit of ${quantity}`),
      how: z.enum(METHODS).optional(),
      on: calendarDateSchema.optional(),
      /** Who held the tape, where that was not the one who typed: a name of the crew, or anybody's. */
      measuredBy: text(120).optional(),
      /** Where the place on the body or chair was unusual: "over a coat", "contracture". */
      note: z.string().max(200).optional(),
    })
    .refine(
      ({ less, how }) => isWeighedWith(how) === (less !== undefined),
      'what was weighed together is weighed alone too',
    )
    .refine(({ typed, less }) => less === undefined || less < typed, 'what was weighed along must weigh less than both')
}
export type Reading = z.infer<ReturnType<typeof readingSchema>>

const mmOrOff = z.number().min(0).max(3000).nullable()
const grade = z.enum(['ok', 'problem', 'not-done'])
const handCheck = z.enum(['even', 'firm', 'pinched'])

const checkSchema = z.strictObject({
  result: z.enum(['pass', 'fail', 'not-applicable']),
  on: calendarDateSchema,
  /** The settings the check was made for, as text by setting: what it is compared with to see whether it went stale. */
  against: z.partialRecord(z.enum(SETTING_KEYS), z.string().max(120)),
  note: z.string().max(400).optional(),
})
export type Check = z.infer<typeof checkSchema>

interface FieldBase<Schema extends z.ZodType> {
  readonly section: Section
  readonly schema: Schema
  /** An unreadable later value of a safety field holds the handover (B7). */
  readonly safety: boolean
}
interface MeasureField extends FieldBase<ReturnType<typeof readingSchema>> {
  readonly kind: 'measure'
  readonly quantity: Quantity
  /** Repeats no further apart than this are one value. In the field's own unit, like `step` and `plausible`. */
  readonly tolerance: number
  readonly step: number
  readonly plausible: readonly [least: number, most: number]
}
interface PlainField<Kind extends FieldKind, Schema extends z.ZodType> extends FieldBase<Schema> {
  readonly kind: Kind
}

const measure = (
  section: Section,
  quantity: Quantity,
  plausible: readonly [number, number],
  tolerance: number,
  options: { step?: number; safety?: boolean } = {},
): MeasureField => ({
  kind: 'measure',
  section,
  quantity,
  schema: readingSchema(quantity),
  plausible,
  tolerance,
  step: options.step ?? 1,
  safety: options.safety ?? true,
})
const risk = (section: Section): PlainField<'risk', z.ZodBoolean> => ({
  kind: 'risk',
  section,
  schema: z.boolean(),
  safety: true,
})
const check = (section: Section): PlainField<'check', typeof checkSchema> => ({
  kind: 'check',
  section,
  schema: checkSchema,
  safety: true,
})
const choice = <Schema extends z.ZodType>(
  section: Section,
  schema: Schema,
  safety = false,
): PlainField<'choice', Schema> => ({
  kind: 'choice',
  section,
  schema,
  safety,
})
const words = (section: Section, most = 200): PlainField<'text', z.ZodString> => ({
  kind: 'text',
  section,
  schema: text(most),
  safety: false,
})
const date = (section: Section, safety = false): PlainField<'date', typeof calendarDateSchema> => ({
  kind: 'date',
  section,
  schema: calendarDateSchema,
  safety,
})
const event = <Schema extends z.ZodType>(
  section: Section,
  schema: Schema,
  safety = true,
): PlainField<'event', Schema> => ({
  kind: 'event',
  section,
  schema,
  safety,
})

/**
 * What a photo shows. Sitting is looked at from the front and the side (WHO 2008, posture); from behind a pelvis that
 * leans is seen best (common practice, no source). Skin: a place to watch. Part: worn or broken, or to be ordered.
 */
export const PHOTO_SUBJECTS = [
  'seated-front',
  'seated-side',
  'seated-behind',
  'skin',
  'chair',
  'part',
  'home',
  'other',
] as const
export type PhotoSubject = (typeof PHOTO_SUBJECTS)[number]

/** Why a photo was taken out of a case. */
export const PHOTO_REMOVAL_REASONS = ['asked', 'not-agreed', 'wrong-case', 'unclear', 'not-needed'] as const
/** So many hashes fit an entry with room to spare. */
export const MOST_PHOTOS_REMOVED_AT_ONCE = 200

const legLoss = z
  .strictObject({
    level: z.enum(LIMB_LOSS_LEVELS),
    remainingFraction: z.number().min(0).max(1).optional(),
    prosthesisWorn: z.boolean().optional(),
  })
  .nullable()
const armLoss = z.enum(ARM_LOSS_LEVELS).nullable()

/** Lengths: repeats within 10 mm are one value, hip width within 5 (project value; 20 mm is most of a size). */
const LENGTH_TOLERANCE_MM = 10
const HIP_TOLERANCE_MM = 5
const length = (name: MeasureOfPerson, tolerance = LENGTH_TOLERANCE_MM) =>
  measure('measuring', 'length', POSSIBLE_RANGES[name], tolerance)
const jointAngle = (name: MeasureOfPerson) => measure('measuring', 'angle', POSSIBLE_RANGES[name], 10)

const CHECK_FIELDS = Object.fromEntries(CHECK_KEYS.map(key => [checkFieldName(key), check('checks')])) as {
  readonly [Key in CheckKey as `check${Capitalize<Key>}`]: PlainField<'check', typeof checkSchema>
}

/** `brakesHold` -> `checkBrakesHold`. */
export function checkFieldName<Key extends CheckKey>(key: Key): `check${Capitalize<Key>}` {
  return `check${key.charAt(0).toUpperCase()}${key.slice(1)}` as `check${Capitalize<Key>}`
}

/** Training is ticked only when it was demonstrated (WHO 2008 p. 84). */
const demonstrated = () => choice('training', z.strictObject({ demonstrated: z.boolean(), on: calendarDateSchema }))

/**
 * THE registry: each field of a case, once. Forms, validation, resolution, exports and the data dictionary are made from
 * it. A field never changes meaning, unit or tolerance: a new meaning is a new name. Fields are added or retired, never
 * re-used. Plausible ranges span children and adults; those of the
 * person are `body/possible-ranges.ts`, and sharper expectations stand in `body/expected-body.ts`.
 */
export const FIELDS = {
  // referral
  personName: words('referral'),
  otherNames: words('referral', 400),
  sex: choice('referral', z.enum(['male', 'female'])),
  dateOfBirth: date('referral'),
  birthYear: choice('referral', z.number().int().min(1900).max(2200)),
  place: words('referral'),
  household: words('referral'),
  telephone: words('referral', 60),
  spokenLanguage: words('referral', 80),
  interpreter: words('referral'),
  referredOn: date('referral'),
  referredBy: words('referral'),
  /** What the person was told about this record, and who agreed for whom. The basis is kept because consent alone may not be one. */
  toldAndAgreed: choice(
    'referral',
    z.strictObject({
      told: z.boolean(),
      agreed: z.boolean(),
      by: z.enum(['person', 'guardian', 'relative']),
      byName: text(120).optional(),
      on: calendarDateSchema,
    }),
  ),
  photoAgreed: choice('referral', z.boolean()),
  presentChair: words('referral', 400),

  // assessment
  posture: choice('assessment', z.enum(POSTURES), true),
  trunkNeed: choice('assessment', z.enum(TRUNK_NEEDS), true),
  propulsion: choice('assessment', z.array(z.enum(PROPULSIONS)).min(1).max(PROPULSIONS.length), true),
  skill: choice('assessment', z.enum(SKILLS), true),
  ground: choice('assessment', z.enum(GROUNDS), true),
  steepestSlopeDeg: measure('assessment', 'angle', POSSIBLE_RANGES.steepestSlopeDeg, 1),
  climate: choice('assessment', z.enum(CLIMATES)),
  narrowestDoorMm: measure('assessment', 'length', POSSIBLE_RANGES.narrowestDoorMm, 10),
  latrineDoorMm: measure('assessment', 'length', [350, 2000], 10, { safety: false }),
  narrowestPathMm: measure('assessment', 'length', [300, 5000], 20, { safety: false }),
  bedHeightMm: measure('assessment', 'length', [0, 1200], 20, { safety: false }),
  latrineHeightMm: measure('assessment', 'length', [0, 800], 20, { safety: false }),
  transport: words('assessment', 400),
  transfer: choice('assessment', z.enum(['standing', 'sitting', 'lifted', 'hoist', 'unsure'])),
  loads: choice('assessment', z.array(loadSchema).max(12), true),
  goals: words('assessment', 1000),
  condition: words('assessment', 400),
  limbLossLeft: choice('assessment', legLoss, true),
  limbLossRight: choice('assessment', legLoss, true),
  armLossLeft: choice('assessment', armLoss, true),
  armLossRight: choice('assessment', armLoss, true),
  presentSore: risk('assessment'),
  pastSore: risk('assessment'),
  reducedSensation: risk('assessment'),
  cannotReposition: risk('assessment'),
  moisture: risk('assessment'),
  progressive: risk('assessment'),
  newWeakness: risk('assessment'),
  breathingTrouble: risk('assessment'),
  swallowingTrouble: risk('assessment'),
  uncontrolledSpasms: risk('assessment'),
  recentSurgery: risk('assessment'),
  fracture: risk('assessment'),
  seizures: risk('assessment'),
  pregnancy: risk('assessment'),
  weightChanging: risk('assessment'),
  trainingTrouble: risk('training'),
  shoulderPain: choice('assessment', z.enum(['none', 'some', 'strong'])),
  handGrip: choice('assessment', z.enum(['firm', 'weak', 'none'])),
  supports: choice(
    'assessment',
    z
      .array(
        z.enum(['pelvic-strap', 'calf-strap', 'heel-straps', 'tray', 'lateral-pads', 'solid-seat', 'head-support']),
      )
      .max(7),
  ),
  pressureReliefPlan: words('assessment', 400),

  // measuring
  weighedWithProsthesis: choice('measuring', z.boolean(), true),
  massKg: measure('measuring', 'mass', POSSIBLE_RANGES.massKg, 1, { step: 0.1 }),
  statureMm: length('statureMm'),
  hipWidthMm: length('hipWidthMm', HIP_TOLERANCE_MM),
  thighDepthLeftMm: length('thighDepthLeftMm'),
  thighDepthRightMm: length('thighDepthRightMm'),
  calfLengthLeftMm: length('calfLengthLeftMm'),
  calfLengthRightMm: length('calfLengthRightMm'),
  shoeSoleMm: measure('measuring', 'length', POSSIBLE_RANGES.shoeSoleMm, 5),
  ribHeightMm: length('ribHeightMm'),
  scapulaHeightMm: length('scapulaHeightMm'),
  axillaHeightMm: length('axillaHeightMm'),
  shoulderHeightMm: length('shoulderHeightMm'),
  elbowHeightMm: length('elbowHeightMm'),
  upperArmMm: length('upperArmMm'),
  forearmGripMm: length('forearmGripMm'),
  biacromialMm: length('biacromialMm'),
  hipFlexionLeftDeg: jointAngle('hipFlexionLeftDeg'),
  hipFlexionRightDeg: jointAngle('hipFlexionRightDeg'),
  kneeExtensionLeftDeg: jointAngle('kneeExtensionLeftDeg'),
  kneeExtensionRightDeg: jointAngle('kneeExtensionRightDeg'),

  // choosing
  chosenSetUp: choice('choosing', chosenSetUpSchema, true),
  chosenWhy: words('choosing', 1000),
  acceptedGapWhy: words('choosing', 400),
  cannotIssue: choice(
    'choosing',
    z
      .strictObject({
        what: z.enum(['wait', 'refer', 'temporary-chair']),
        until: calendarDateSchema.optional(),
        why: text(400),
      })
      .nullable(),
    true,
  ),

  // preparing: as read from the real chair
  builtChair: choice('preparing', text(40), true),
  builtSeatWidthMm: choice('preparing', z.number().positive().max(2000), true),
  builtSeatDepthMm: choice('preparing', z.number().positive().max(2000), true),
  builtSeatHeight: choice('preparing', text(40), true),
  builtAxle: choice('preparing', text(40), true),
  builtBackHeightMm: choice('preparing', z.number().positive().max(2000), true),
  builtCushion: choice('preparing', text(40), true),
  builtFootrestLeftMm: choice('preparing', mmOrOff, true),
  builtFootrestRightMm: choice('preparing', mmOrOff, true),
  builtArmrestMm: choice('preparing', mmOrOff, true),
  serialNumber: words('preparing', 60),
  stepDone: event(
    'preparing',
    z.strictObject({
      step: text(40),
      on: calendarDateSchema,
      against: z.partialRecord(z.enum(SETTING_KEYS), z.string().max(120)),
      secondName: text(120).optional(),
    }),
  ),

  // checks
  ...CHECK_FIELDS,

  // fitting: in the order size, posture, pressure, then moving
  fitSize: choice('fitting', grade),
  fitPosture: choice('fitting', grade),
  handCheckLeft: choice('fitting', handCheck, true),
  handCheckRight: choice('fitting', handCheck, true),
  handCheckLeftNoCushion: choice('fitting', handCheck),
  handCheckRightNoCushion: choice('fitting', handCheck),
  fitMoving: choice('fitting', grade),
  brakeReach: choice('fitting', z.enum(['both-hands', 'left-hand', 'right-hand', 'caregiver', 'none']), true),
  scaleFrontKg: measure('fitting', 'mass', [0, 250], 1, { step: 0.1 }),
  scaleRearKg: measure('fitting', 'mass', [0, 300], 1, { step: 0.1 }),
  skinAfterFirstHour: choice('fitting', z.enum(['clear', 'fading-red', 'lasting-red', 'broken']), true),
  strapReleasedBy: choice('fitting', z.enum(['person', 'caregiver', 'nobody']), true),

  // training
  trainedTransfers: demonstrated(),
  trainedHandlingChair: demonstrated(),
  trainedMobility: demonstrated(),
  trainedStayingHealthy: demonstrated(),
  trainedCareOfChair: demonstrated(),
  trainedWhomToContact: demonstrated(),
  caregiverName: words('training'),

  // handover
  handover: event(
    'handover',
    z.strictObject({
      handedOverOn: calendarDateSchema,
      serialNumber: text(60).optional(),
      temporaryUntil: calendarDateSchema.optional(),
    }),
  ),
  cushionIssued: event('handover', z.strictObject({ on: calendarDateSchema, cushion: text(40) })),
  oldChair: choice('handover', z.enum(['none', 'kept', 'returned', 'scrapped', 'passed-on'])),
  localRepairer: words('handover', 400),

  // follow-up and repairs
  review: event(
    'follow-up',
    z.strictObject({
      visitedOn: calendarDateSchema,
      fit: grade,
      skin: grade,
      chair: grade,
      skills: grade,
      skinHealedWhy: text(400).optional(),
      inUse: z.enum(['daily', 'sometimes', 'no']).optional(),
      satisfactionChair: z.number().int().min(1).max(5).optional(),
      satisfactionService: z.number().int().min(1).max(5).optional(),
      note: text(1000).optional(),
    }),
  ),
  notFound: event('follow-up', z.strictObject({ on: calendarDateSchema, why: text(400) })),
  skinLook: event('follow-up', z.strictObject({ on: calendarDateSchema, found: z.enum(['clear', 'red', 'sore']) })),
  problem: event(
    'follow-up',
    z.strictObject({ reportedOn: calendarDateSchema, key: text(40), unsafe: z.boolean(), what: text(400) }),
  ),
  repair: event(
    'follow-up',
    z.strictObject({
      repairedOn: calendarDateSchema,
      problem: text(40).optional(),
      part: text(60),
      fault: text(200),
      cause: text(200).optional(),
      chairUsable: z.boolean(),
      doneBy: text(120).optional(),
    }),
  ),
  tyreReading: event(
    'follow-up',
    z.strictObject({
      on: calendarDateSchema,
      tyre: z.enum(['rear-left', 'rear-right', 'caster-left', 'caster-right']),
      foundKPa: z.number().min(0).max(1500).optional(),
      leftKPa: z.number().min(0).max(1500).optional(),
      celsius: z.number().min(-40).max(60),
      altitudeM: z.number().min(-450).max(6000),
      puncture: z.boolean().optional(),
    }),
  ),
  stature: event('follow-up', z.strictObject({ on: calendarDateSchema, mm: z.number().min(300).max(2400) })),
  chairReturned: event('follow-up', z.strictObject({ on: calendarDateSchema, serialNumber: text(60).optional() })),

  // photos: an entry says which and of what; the bytes are kept beside the record, by their hash
  photo: event(
    'photos',
    z.strictObject({
      hash: photoHashSchema,
      shows: z.enum(PHOTO_SUBJECTS),
      on: calendarDateSchema,
      note: text(200).optional(),
    }),
    false,
  ),
  /** Taken back for ever: hidden everywhere, its bytes deleted on each device that hears of it. */
  photoRemoved: event(
    'photos',
    z.strictObject({
      hashes: z.array(photoHashSchema).min(1).max(MOST_PHOTOS_REMOVED_AT_ONCE),
      on: calendarDateSchema,
      why: z.enum(PHOTO_REMOVAL_REASONS),
    }),
    false,
  ),

  // exit
  exit: choice(
    'exit',
    z
      .strictObject({
        on: calendarDateSchema,
        why: z.enum(['died', 'moved', 'no-longer-needed', 'refused', 'returned', 'not-found']),
      })
      .nullable(),
    true,
  ),
} as const

export type FieldName = keyof typeof FIELDS
export type FieldValue<Name extends FieldName> = z.infer<(typeof FIELDS)[Name]['schema']>
export type Field = MeasureField | PlainField<Exclude<FieldKind, 'measure'>, z.ZodType>
export type NamesOfKind<Kind extends FieldKind> = {
  [Name in FieldName]: (typeof FIELDS)[Name]['kind'] extends Kind ? Name : never
}[FieldName]

export const FIELD_NAMES = Object.keys(FIELDS) as readonly FieldName[]

export const isFieldName = (name: string): name is FieldName => Object.hasOwn(FIELDS, name)

/** The registry row of a field, seen as one of the general shapes. */
export const fieldOf = (name: FieldName): Field => FIELDS[name]

/** Value of a reading in its field's own unit (mm, kg, deg ...), or NaN for a unit that the schema has refused. */
export const readingValue = (name: NamesOfKind<'measure'>, { typed, less = 0, unit }: Reading): number =>
  (typed - less) * (unitFactor(FIELDS[name].quantity, unit) ?? Number.NaN)

/** How far apart repeats may lie to be one value. Two weighings can each be off: once their difference is among them, twice as far. */
export const repeatTolerance = (name: NamesOfKind<'measure'>, readings: readonly Reading[]): number =>
  FIELDS[name].tolerance * (readings.some(reading => reading.less !== undefined) ? 2 : 1)
