import * as z from 'zod'
import { calendarDateSchema } from '../calendar-date.ts'

/** Why a value is refused at once: it is not a measure of anything. Unlikely values pass and become doubts. */
const lengthMm = z.number().positive('a length must be above 0 mm').max(10_000, 'longer than 10 m')
const angleDeg = z.number().min(-180).max(180)

export const LIMB_LOSS_LEVELS = [
  'hip-disarticulation',
  'transfemoral',
  'knee-disarticulation',
  'transtibial',
  'ankle-disarticulation',
] as const
export const ARM_LOSS_LEVELS = ['whole-arm', 'below-elbow'] as const
export const SIDES = ['left', 'right'] as const
export type Side = (typeof SIDES)[number]

/** Loss of a leg or part of it. `remainingFraction` of the cut segment's length: 0.5 is mid-thigh or mid-leg. */
export const limbLossSchema = z.strictObject({
  side: z.enum(SIDES),
  level: z.enum(LIMB_LOSS_LEVELS),
  remainingFraction: z.number().min(0).max(1).optional(),
  /** Own mass of a prosthesis is added (3 kg transtibial, 4 kg transfemoral and above: project value) when it is worn in the chair. */
  prosthesisWorn: z.boolean().optional(),
})
export type LimbLoss = z.infer<typeof limbLossSchema>

export const armLossSchema = z.strictObject({ side: z.enum(SIDES), level: z.enum(ARM_LOSS_LEVELS) })
export type ArmLoss = z.infer<typeof armLossSchema>

export const LOAD_PLACES = ['handles', 'lap', 'under'] as const
/** Something usually carried: a bag on the handles, a child on the lap, water under the seat. `worst` marks the heaviest usual day. */
export const loadSchema = z.strictObject({
  massKg: z.number().positive('a load must weigh more than 0 kg').max(200),
  at: z.enum(LOAD_PLACES),
  when: z.enum(['usual', 'worst']).optional(),
})
export type Load = z.infer<typeof loadSchema>

export const PROPULSIONS = ['hands', 'left-hand', 'right-hand', 'left-foot', 'right-foot', 'pushed'] as const
export type Propulsion = (typeof PROPULSIONS)[number]
export const SKILLS = ['new', 'practised', 'expert'] as const
export type Skill = (typeof SKILLS)[number]
export const GROUNDS = ['smooth', 'mixed', 'rough'] as const
export type Ground = (typeof GROUNDS)[number]
export const POSTURES = ['sits-well', 'some-support', 'complex'] as const
export type Posture = (typeof POSTURES)[number]
export const TRUNK_NEEDS = ['free', 'some', 'high'] as const
export type TrunkNeed = (typeof TRUNK_NEEDS)[number]
export const CLIMATES = ['hot', 'cool', 'cold'] as const
export type Climate = (typeof CLIMATES)[number]

export const skinSchema = z.strictObject({
  presentSore: z.boolean().optional(),
  pastSore: z.boolean().optional(),
  reducedSensation: z.boolean().optional(),
  cannotReposition: z.boolean().optional(),
  moisture: z.boolean().optional(),
})
export type Skin = z.infer<typeof skinSchema>

const onePerSide = (entries: readonly { readonly side: Side }[]): boolean =>
  new Set(entries.map(entry => entry.side)).size === entries.length

/**
 * Everything that fitting takes about a person. Each field may be absent: what is absent is named in the answer.
 * Seated heights are taken from the firm surface sat on; calf length is popliteal fold to floor in the shoes worn.
 * `statureMm` is stature before any limb loss. A guessed mass serves angles (+-15 kg), never a capacity limit.
 */
export const personSchema = z.strictObject({
  sex: z.enum(['male', 'female']).optional(),
  dateOfBirth: calendarDateSchema.optional(),
  ageYears: z.number().min(0).max(125).optional(),
  massKg: z.number().positive('a mass must be above 0 kg').max(500).optional(),
  massGuessed: z.boolean().optional(),
  /** What was on the scale too and was taken off again: the chair sat in, or the adult who held a child. */
  weighedWith: z.strictObject({ what: z.enum(['chair', 'adult']), massKg: z.number().min(0).max(500) }).optional(),
  weighedWithProsthesis: z.boolean().optional(),
  statureMm: lengthMm.optional(),
  statureMethod: z.string().max(80).optional(),
  hipWidthMm: lengthMm.optional(),
  thighDepthLeftMm: lengthMm.optional(),
  thighDepthRightMm: lengthMm.optional(),
  calfLengthLeftMm: lengthMm.optional(),
  calfLengthRightMm: lengthMm.optional(),
  shoeSoleMm: z.number().min(0).max(200).optional(),
  ribHeightMm: lengthMm.optional(),
  scapulaHeightMm: lengthMm.optional(),
  axillaHeightMm: lengthMm.optional(),
  shoulderHeightMm: lengthMm.optional(),
  elbowHeightMm: lengthMm.optional(),
  upperArmMm: lengthMm.optional(),
  forearmGripMm: lengthMm.optional(),
  biacromialMm: lengthMm.optional(),
  hipFlexionLeftDeg: angleDeg.optional(),
  hipFlexionRightDeg: angleDeg.optional(),
  kneeExtensionLeftDeg: angleDeg.optional(),
  kneeExtensionRightDeg: angleDeg.optional(),
  propulsion: z.array(z.enum(PROPULSIONS)).max(PROPULSIONS.length).optional(),
  skill: z.enum(SKILLS).optional(),
  ground: z.enum(GROUNDS).optional(),
  steepestSlopeDeg: z.number().min(0).max(45).optional(),
  narrowestDoorMm: lengthMm.optional(),
  climate: z.enum(CLIMATES).optional(),
  posture: z.enum(POSTURES).optional(),
  trunkNeed: z.enum(TRUNK_NEEDS).optional(),
  skin: skinSchema.optional(),
  progressive: z.boolean().optional(),
  loads: z.array(loadSchema).max(12).optional(),
  limbLoss: z
    .array(limbLossSchema)
    .max(2)
    .refine(onePerSide, 'two losses of leg named on one side: one level a side')
    .optional(),
  armLoss: z
    .array(armLossSchema)
    .max(2)
    .refine(onePerSide, 'two losses of arm named on one side: one level a side')
    .optional(),
})
export type Person = z.infer<typeof personSchema>
