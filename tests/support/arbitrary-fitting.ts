import * as fc from 'fast-check'
import {
  ARM_LOSS_LEVELS,
  CLIMATES,
  GROUNDS,
  LIMB_LOSS_LEVELS,
  LOAD_PLACES,
  type Person,
  POSTURES,
  PROPULSIONS,
  personSchema,
  SKILLS,
  TRUNK_NEEDS,
} from '../../src/body/person.ts'
import { type Catalogue, catalogueSchema } from '../../src/chair/chair-model.ts'
import { DEFAULT_POLICY, type Policy, policySchema } from '../../src/fitting/policy.ts'

const between = (min: number, max: number) => fc.integer({ min, max })
const side = fc.constantFrom('left' as const, 'right' as const)
/** Left out, usual, and now and then far outside of anything likely. */
const length = (min: number, max: number) =>
  fc.oneof({ weight: 8, arbitrary: between(min, max) }, { weight: 1, arbitrary: between(1, 9999) })

const personFields = {
  sex: fc.constantFrom('male' as const, 'female' as const),
  ageYears: fc.oneof(between(18, 90), between(0, 18)),
  massKg: fc.oneof({ weight: 8, arbitrary: between(12, 120) }, { weight: 1, arbitrary: between(1, 500) }),
  massGuessed: fc.boolean(),
  weighedWithProsthesis: fc.boolean(),
  statureMm: length(1000, 1950),
  hipWidthMm: length(210, 480),
  thighDepthLeftMm: length(270, 560),
  thighDepthRightMm: length(270, 560),
  calfLengthLeftMm: length(260, 480),
  calfLengthRightMm: length(260, 480),
  shoeSoleMm: between(0, 60),
  ribHeightMm: length(180, 330),
  scapulaHeightMm: length(280, 470),
  axillaHeightMm: length(330, 540),
  shoulderHeightMm: length(400, 680),
  elbowHeightMm: length(140, 310),
  upperArmMm: length(220, 400),
  forearmGripMm: length(220, 390),
  biacromialMm: length(250, 450),
  hipFlexionLeftDeg: between(40, 120),
  kneeExtensionRightDeg: between(-30, 90),
  propulsion: fc.uniqueArray(fc.constantFrom(...PROPULSIONS), { maxLength: 3 }),
  skill: fc.constantFrom(...SKILLS),
  ground: fc.constantFrom(...GROUNDS),
  steepestSlopeDeg: between(0, 12),
  narrowestDoorMm: between(500, 900),
  climate: fc.constantFrom(...CLIMATES),
  posture: fc.constantFrom(...POSTURES),
  trunkNeed: fc.constantFrom(...TRUNK_NEEDS),
  skin: fc.record(
    {
      presentSore: fc.boolean(),
      pastSore: fc.boolean(),
      reducedSensation: fc.boolean(),
      cannotReposition: fc.boolean(),
      moisture: fc.boolean(),
    },
    { requiredKeys: [] },
  ),
  progressive: fc.boolean(),
  loads: fc.array(
    fc.record(
      {
        massKg: between(1, 30),
        at: fc.constantFrom(...LOAD_PLACES),
        when: fc.constantFrom('usual' as const, 'worst' as const),
      },
      { requiredKeys: ['massKg', 'at'] },
    ),
    { maxLength: 3 },
  ),
  limbLoss: fc.uniqueArray(
    fc.record(
      {
        side,
        level: fc.constantFrom(...LIMB_LOSS_LEVELS),
        remainingFraction: fc.double({ min: 0, max: 1, noNaN: true }),
        prosthesisWorn: fc.boolean(),
      },
      { requiredKeys: ['side', 'level'] },
    ),
    { maxLength: 2, selector: loss => loss.side },
  ),
  armLoss: fc.uniqueArray(fc.record({ side, level: fc.constantFrom(...ARM_LOSS_LEVELS) }), {
    maxLength: 2,
    selector: loss => loss.side,
  }),
}

/** Any subset of what may be known of a person. */
export const anyPerson: fc.Arbitrary<Person> = fc
  .record(personFields, { requiredKeys: [] })
  .map(person => personSchema.parse(person))

/** A person with the measures that options need; everything else is there or not. */
export const measuredPerson: fc.Arbitrary<Person> = fc
  .record(personFields, {
    requiredKeys: [
      'massKg',
      'statureMm',
      'hipWidthMm',
      'thighDepthLeftMm',
      'thighDepthRightMm',
      'calfLengthLeftMm',
      'calfLengthRightMm',
    ],
  })
  .map(person => personSchema.parse(person))

const few = <Value>(arbitrary: fc.Arbitrary<Value>, most: number) =>
  fc.uniqueArray(arbitrary, { minLength: 1, maxLength: most })
const keyed = <Row extends object>(rows: readonly Row[], name: string): (Row & { key: string })[] =>
  rows.map((row, index) => ({ key: `${name}-${index + 1}`, ...row }))

const chairModel = fc
  .record({
    frame: fc.constantFrom('folding' as const, 'rigid' as const),
    capacityKg: between(50, 160),
    massKg: between(10, 25),
    centreOfMassXMm: between(60, 220),
    centreOfMassZMm: between(220, 450),
    seatWidthsMm: few(
      between(22, 52).map(tens => tens * 10),
      4,
    ),
    seatDepths: few(
      between(22, 54).map(tens => tens * 10),
      4,
    ),
    seatHeights: fc.array(fc.record({ rearMm: between(280, 520), frontMm: between(290, 560) }), {
      minLength: 1,
      maxLength: 2,
    }),
    seatReferenceDepthMm: between(300, 500),
    backReclineDeg: between(0, 25),
    footrestForwardDeg: between(0, 40),
    footplateDropMm: between(0, 40),
    backSagMm: between(0, 40),
    seatSagMm: between(0, 30),
    axles: fc.array(fc.record({ xMm: between(-120, 120), raiseMm: fc.constantFrom(0, 0, 0, 20, -20) }), {
      minLength: 1,
      maxLength: 4,
    }),
    rearWheelRadiusMm: between(200, 330),
    pushrimRadiusMm: between(180, 290),
    rearTrackAddMm: between(120, 260),
    frontTrackAddMm: between(-40, 160),
    overallWidthAddMm: between(180, 280),
    casterContactXMm: between(250, 520),
    casterRadiusMm: between(50, 110),
    casterTrailMm: between(20, 70),
    backHeights: few(
      between(25, 55).map(tens => tens * 10),
      3,
    ),
    footrest: fc.record({ minMm: between(150, 320), extra: between(0, 120), stepMm: between(15, 60) }),
    armrest: fc.option(fc.record({ minMm: between(150, 250), extra: between(0, 100), stepMm: between(15, 60) })),
    antiTip: fc.option(between(150, 300)),
    cushions: fc.array(
      fc.record(
        {
          loadedMm: between(15, 80),
          loadedFrontMm: between(15, 90),
          relief: fc.constantFrom('basic' as const, 'pressure-relief' as const),
        },
        { requiredKeys: ['loadedMm', 'relief'] },
      ),
      { minLength: 1, maxLength: 3 },
    ),
    postures: fc.option(fc.constantFrom([...POSTURES], ['sits-well' as const, 'some-support' as const])),
  })
  .map(raw => {
    const { axles, antiTip, armrest, footrest, postures, cushions, seatHeights, backHeights, seatDepths, ...rest } = raw
    const positions = keyed(
      axles.toSorted((a, b) => a.xMm - b.xMm),
      'hole',
    )
    return {
      ...rest,
      key: 'model',
      title: 'made for a property test',
      wheelMassKg: 4,
      referenceAxle: 'hole-1',
      axlePositions: positions,
      seatDepths: keyed(
        seatDepths.map(valueMm => ({ valueMm })),
        'depth',
      ),
      seatHeights: keyed(seatHeights, 'height'),
      backHeights: keyed(
        backHeights.map(valueMm => ({ valueMm })),
        'back',
      ),
      cushions: keyed(
        cushions.map(cushion => ({ title: 'cushion', lifeMonths: 24, ...cushion })),
        'cushion',
      ),
      footrest: { minMm: footrest.minMm, maxMm: footrest.minMm + footrest.extra, stepMm: footrest.stepMm },
      ...(armrest
        ? { armrest: { minMm: armrest.minMm, maxMm: armrest.minMm + armrest.extra, stepMm: armrest.stepMm } }
        : {}),
      ...(antiTip !== null ? { antiTip: { xMm: (positions[0]?.xMm ?? 0) - antiTip, clearanceMm: 40 } } : {}),
      ...(postures ? { postures } : {}),
      tyres: { rear: { minKPa: 310, maxKPa: 450 }, caster: 'solid' as const },
      fasteners: [],
      parts: [],
      steps: [],
      checks: [],
    }
  })

/** Small catalogues that pass their schema, odd chairs among them. */
export const anyCatalogue = (mostModels: number): fc.Arbitrary<Catalogue> =>
  fc.array(chairModel, { minLength: 1, maxLength: mostModels }).map(models =>
    catalogueSchema.parse({
      catalogue: 1,
      title: 'made',
      models: models.map((model, index) => ({ ...model, key: `model-${index + 1}` })),
    }),
  )

/** Policies that pass their schema: the default bent here and there, and wholly odd ones. */
export const anyPolicy: fc.Arbitrary<Policy> = fc
  .record({
    crewCompetence: fc.constantFrom(...POSTURES),
    slope: between(0, 15),
    margin: between(0, 10),
    standardErrors: fc.double({ min: 0, max: 3, noNaN: true }),
    slack: between(-50, 200),
    gap: fc.tuple(between(-100, 200), between(-100, 200)),
    clearance: between(-100, 200),
    elbow: fc.tuple(between(60, 180), between(60, 180)),
    share: fc.double({ min: 0.3, max: 1, noNaN: true }),
  })
  .map(({ crewCompetence, slope, margin, standardErrors, slack, gap, clearance, elbow, share }) =>
    policySchema.parse({
      ...DEFAULT_POLICY,
      crewCompetence,
      angles: {
        ...DEFAULT_POLICY.angles,
        standardErrors,
        steepestSlopeDeg: { smooth: slope, mixed: slope, rough: slope },
        pushMarginDeg: { new: margin, practised: margin, expert: 0 },
      },
      width: { ...DEFAULT_POLICY.width, greatestSlackMm: slack },
      depth: { ...DEFAULT_POLICY.depth, rightGapMm: gap },
      footrest: {
        ...DEFAULT_POLICY.footrest,
        groundClearanceMm: { smooth: clearance, mixed: clearance, rough: clearance },
      },
      elbowDeg: elbow,
      pushedRearShare: share,
    }),
  )

/** The same catalogue with one width, one depth and one capacity made near this person, so that options are common. */
export const madeNear = (catalogue: Catalogue, person: Person): Catalogue => {
  const thigh = Math.min(person.thighDepthLeftMm ?? 450, person.thighDepthRightMm ?? 450)
  const within = (lengthMm: number): number => Math.min(5000, Math.max(1, lengthMm))
  return catalogueSchema.parse({
    ...catalogue,
    models: catalogue.models.map(model => ({
      ...model,
      capacityKg: 400,
      seatWidthsMm: [...new Set([...model.seatWidthsMm, within((person.hipWidthMm ?? 380) + 15)])],
      seatDepths: [
        ...model.seatDepths,
        { key: 'near', valueMm: within(thigh - 45) },
        { key: 'nearer', valueMm: within(thigh - 60) },
      ],
      footrest: { ...model.footrest, minMm: 0, maxMm: 120 + model.footrest.stepMm },
      cushions: [
        ...model.cushions,
        { key: 'near', title: 'near', loadedMm: 30, relief: 'pressure-relief', lifeMonths: 24 },
      ],
      antiTip: { xMm: (model.axlePositions[0]?.xMm ?? 0) - 250, clearanceMm: 40 },
    })),
  })
}

/** The same person on easy ground, without what excludes every chair at once. */
export const onEasyGround = ({
  posture: _posture,
  narrowestDoorMm: _door,
  steepestSlopeDeg: _slope,
  ...person
}: Person): Person => ({
  ...person,
  ground: 'smooth',
})
