import * as z from 'zod'
import { POSTURES } from '../body/person.ts'

const key = z.string().regex(/^[a-z0-9][a-z0-9-]{0,39}$/, 'a key is lower-case letters, digits and hyphens, at most 40')
const lengthMm = z.number().positive().max(5000)
const shiftMm = z.number().min(-2000).max(2000)
const massKg = z.number().positive('a mass must be above 0 kg').max(500)

/** Settings that fitting chooses and a technician adjusts; what checks and build steps depend on. */
export const SETTING_KEYS = [
  'size',
  'seatHeight',
  'axle',
  'backHeight',
  'cushion',
  'footrestLeft',
  'footrestRight',
  'armrest',
] as const
export type SettingKey = (typeof SETTING_KEYS)[number]

/** The checks of fitting.md part 6 (common practice, no source). A model names those that apply to it. */
export const CHECK_KEYS = [
  'wheelsTurnFreely',
  'castersTurnFreely',
  'axleNutsTight',
  'fastenersTight',
  'tyrePressures',
  'valvesStraightAndCapped',
  'brakesHold',
  'casterStemsUpright',
  'footrestsFirmAndClear',
  'backTensionEven',
  'seatFlat',
  'armrestsFirm',
  'antiTipSet',
  'nothingSharp',
  'foldsAndOpens',
  'rollsStraight',
  'testRide',
  'fitWhileMoving',
  'handCheckUnderSeatBones',
] as const
export type CheckKey = (typeof CHECK_KEYS)[number]

/**
 * Preparation steps that any chair may need (`preparation/steps.ts`). A model's own step of the same key refines the
 * usual one: its title, its bolts, its parts. A model's own step may come `after` a usual one.
 */
export const STANDARD_STEP_KEYS = [
  'unpack',
  'frame',
  'seat-height',
  'rear-axle',
  'rear-wheels',
  'caster-stems',
  'tyre-pressures',
  'brakes',
  'anti-tip',
  'back-height',
  'back-tension',
  'cushion',
  'footrest-left',
  'footrest-right',
  'footrest-clearance',
  'armrest',
  'label',
  'tighten',
  'spin-and-roll',
  'fold-and-open',
  'test-ride',
] as const
export type StandardStepKey = (typeof STANDARD_STEP_KEYS)[number]

const steps = z
  .strictObject({ minMm: z.number().min(0).max(3000), maxMm: lengthMm, stepMm: lengthMm })
  .refine(range => range.maxMm >= range.minMm, 'maxMm lies below minMm')
export type StepRange = z.infer<typeof steps>

const uniqueKeys = (rows: readonly { readonly key: string }[]): boolean =>
  new Set(rows.map(row => row.key)).size === rows.length
const DUPLICATE = 'a key stands twice; keys name one thing'

const tyre = z
  .strictObject({ minKPa: z.number().positive().max(1500), maxKPa: z.number().positive().max(1500) })
  .refine(range => range.maxKPa >= range.minKPa, 'maxKPa lies below minKPa')

export const cushionSchema = z.strictObject({
  key,
  title: z.string().min(1).max(80),
  /** Thickness under the seat bones with the person on it; under the thighs `loadedFrontMm`, the same when absent. */
  loadedMm: z.number().min(0).max(300),
  loadedFrontMm: z.number().min(0).max(300).optional(),
  relief: z.enum(['basic', 'pressure-relief']),
  lifeMonths: z.number().positive().max(240),
})
export type Cushion = z.infer<typeof cushionSchema>

export const fastenerSchema = z.strictObject({
  key,
  at: z.string().min(1).max(120),
  thread: z.string().regex(/^M\d{1,2}$/, 'a metric thread such as M8'),
  acrossFlatsMm: lengthMm,
  propertyClass: z.string().regex(/^\d{1,2}\.\d$/, 'a property class such as 8.8'),
  /** As printed on the part or in the chair's own papers: wins over anything computed. */
  torqueNm: z.number().positive().optional(),
})
export type Fastener = z.infer<typeof fastenerSchema>

export const modelStepSchema = z.strictObject({
  key,
  title: z.string().min(1).max(160),
  /** The settings that bring this step in: it is redone when one of them changes. Empty: done once for each new chair. */
  settings: z.array(z.enum(SETTING_KEYS)),
  after: z.array(key).optional(),
  tools: z.array(z.string().min(1).max(60)).optional(),
  fasteners: z.array(key).optional(),
  parts: z.array(key).optional(),
  makesStale: z.array(z.enum(CHECK_KEYS)).optional(),
  /** Drilling, cutting: needs a second person's name. */
  cannotBeUndone: z.boolean().optional(),
})
export type ModelStep = z.infer<typeof modelStepSchema>

/**
 * A chair as a tape, an angle gauge and two scales describe it. On level ground, x forward from S (where the seat line,
 * rail without cushion, meets the back line), z up from the ground. Masses and centre are of the empty chair as weighed:
 * first seat height, reference axle, no cushion, casters trailing back.
 */
export const chairModelSchema = z
  .strictObject({
    key,
    title: z.string().min(1).max(80),
    frame: z.enum(['folding', 'rigid']),
    capacityKg: massKg,
    massKg,
    centreOfMassXMm: shiftMm,
    centreOfMassZMm: lengthMm,
    referenceAxle: key,
    /** Both rear wheels. */
    wheelMassKg: massKg,
    seatWidthsMm: z.array(lengthMm).min(1),
    seatDepths: z
      .array(z.strictObject({ key, valueMm: lengthMm, adds: z.array(key).optional() }))
      .min(1)
      .refine(uniqueKeys, DUPLICATE),
    /** Rail heights above ground at S and at the front (at `seatReferenceDepthMm`); the first as weighed. */
    seatHeights: z
      .array(z.strictObject({ key, rearMm: lengthMm, frontMm: lengthMm }))
      .min(1)
      .refine(uniqueKeys, DUPLICATE),
    seatReferenceDepthMm: lengthMm,
    /** From the vertical, backward positive. */
    backReclineDeg: z.number().min(-10).max(60),
    /** Lean of the footrest hanger from the vertical, forward positive. */
    footrestForwardDeg: z.number().min(-20).max(90),
    /** From the plate's heel support down to the lowest point of plate or tube. */
    footplateDropMm: z.number().min(0).max(300),
    backSagMm: z.number().min(0).max(200),
    seatSagMm: z.number().min(0).max(200),
    /** Rear to front. `raiseMm`: how far the hole lies above the reference hole. */
    axlePositions: z
      .array(z.strictObject({ key, xMm: shiftMm, raiseMm: z.number().min(-150).max(150) }))
      .min(1, 'a model needs at least one axle position')
      .refine(uniqueKeys, DUPLICATE)
      .refine(
        rows => rows.every((row, index) => index === 0 || row.xMm >= (rows[index - 1]?.xMm ?? 0)),
        'axle positions are listed rear to front',
      ),
    rearWheelRadiusMm: lengthMm,
    pushrimRadiusMm: lengthMm,
    /** Contact tracks and overall width, each as what is added to the seat width. */
    rearTrackAddMm: shiftMm,
    frontTrackAddMm: shiftMm,
    overallWidthAddMm: shiftMm,
    /** Caster contact with the caster trailing back (rolling forward). */
    casterContactXMm: lengthMm,
    casterRadiusMm: lengthMm,
    casterTrailMm: z.number().min(0).max(200),
    backHeights: z
      .array(z.strictObject({ key, valueMm: lengthMm }))
      .min(1)
      .refine(uniqueKeys, DUPLICATE),
    /** Along the hanger from rail top at the front to the plate's heel support, no cushion. */
    footrest: steps,
    /** From rail to pad, normal to the rail. Absent: the model takes no armrest. */
    armrest: steps.optional(),
    /** Anti-tip wheels: contact `xMm` from S (behind the axle), `clearanceMm` above the ground. */
    antiTip: z.strictObject({ xMm: shiftMm, clearanceMm: z.number().min(0).max(200) }).optional(),
    cushions: z.array(cushionSchema).min(1).refine(uniqueKeys, DUPLICATE),
    /** What the frame and its supports can hold: a posture need beyond it excludes the model. */
    postures: z.array(z.enum(POSTURES)).min(1).optional(),
    tyres: z.strictObject({ rear: z.union([tyre, z.literal('solid')]), caster: z.union([tyre, z.literal('solid')]) }),
    fasteners: z.array(fastenerSchema).refine(uniqueKeys, DUPLICATE),
    parts: z.array(z.strictObject({ key, title: z.string().min(1).max(80) })).refine(uniqueKeys, DUPLICATE),
    steps: z.array(modelStepSchema).refine(uniqueKeys, DUPLICATE),
    checks: z.array(z.enum(CHECK_KEYS)),
    /** Folded for the vehicle, where known. */
    folded: z.strictObject({ lengthMm, widthMm: lengthMm, heightMm: lengthMm }).optional(),
  })
  .superRefine((model, context) => {
    const problem = (path: (string | number)[], message: string): void => {
      context.addIssue({ code: 'custom', path, message })
    }
    if (new Set(model.seatWidthsMm).size !== model.seatWidthsMm.length)
      problem(['seatWidthsMm'], 'a width stands twice')
    if (model.wheelMassKg >= model.massKg) problem(['wheelMassKg'], 'the wheels weigh as much as the whole chair')
    if (!model.axlePositions.some(axle => axle.key === model.referenceAxle))
      problem(['referenceAxle'], 'names no axle position of this model')
    for (const [index, axle] of model.axlePositions.entries())
      if (axle.xMm >= model.casterContactXMm)
        problem(['axlePositions', index], 'the axle lies at or ahead of the caster contact: no wheelbase is left')
    if (model.antiTip && model.axlePositions.some(axle => model.antiTip !== undefined && model.antiTip.xMm >= axle.xMm))
      problem(['antiTip'], 'anti-tip wheels must lie behind every axle position')
    const parts = new Set(model.parts.map(part => part.key))
    const fasteners = new Set(model.fasteners.map(fastener => fastener.key))
    const steps = new Set<string>([...STANDARD_STEP_KEYS, ...model.steps.map(step => step.key)])
    for (const [index, depth] of model.seatDepths.entries())
      for (const part of depth.adds ?? [])
        if (!parts.has(part)) problem(['seatDepths', index, 'adds'], `no part "${part}" in this model`)
    for (const [index, step] of model.steps.entries()) {
      for (const part of step.parts ?? []) if (!parts.has(part)) problem(['steps', index], `no part "${part}"`)
      for (const one of step.fasteners ?? []) if (!fasteners.has(one)) problem(['steps', index], `no fastener "${one}"`)
      for (const before of step.after ?? []) if (!steps.has(before)) problem(['steps', index], `no step "${before}"`)
    }
  })
export type ChairModel = z.infer<typeof chairModelSchema>

/** The models a crew can provide. */
export const catalogueSchema = z.strictObject({
  catalogue: z.literal(1),
  title: z.string().max(120),
  models: z
    .array(chairModelSchema)
    .min(1, 'an empty catalogue: no chair model to choose from')
    .refine(uniqueKeys, DUPLICATE),
})
export type Catalogue = z.infer<typeof catalogueSchema>

/** The values a step range offers, least first. The last step never passes `maxMm`. */
export const stepValues = (range: StepRange): readonly number[] => {
  const count = Math.floor((range.maxMm - range.minMm) / range.stepMm + 1e-9) + 1
  return Array.from({ length: count }, (_, index) => range.minMm + index * range.stepMm)
}
