import practiceCatalogue from '../../demo/practice-catalogue.json' with { type: 'json' }
import { checkFieldName, type FieldName } from '../../src/case/fields.ts'
import {
  type Catalogue,
  CHECK_KEYS,
  type ChairModel,
  type CheckKey,
  catalogueSchema,
  stepValues,
} from '../../src/chair/chair-model.ts'
import { type SetUp, settingTexts } from '../../src/chair/set-up.ts'
import { type CaseId, caseIdSchema, type EntryId } from '../../src/ids.ts'
import { checkAgainst } from '../../src/preparation/checks.ts'
import { stepAgainst } from '../../src/preparation/step-state.ts'
import { planSteps } from '../../src/preparation/steps.ts'
import { CaseDocument } from '../../sync/case-document.ts'
import { type SignedEntry, signEntry } from '../../sync/signed-entry.ts'
import { checkCaseSet } from '../../sync/statement.ts'
import type { DeviceKey } from '../../sync/trust/device-key.ts'
import { seededRandom } from '../support/seeded-random.ts'

type Random = () => number
type Said = Partial<Record<FieldName, unknown>>

const between = (random: Random, least: number, most: number): number =>
  least + Math.floor(random() * (most - least + 1))
const oneOf = <Value>(random: Random, values: readonly Value[]): Value => {
  const value = values[between(random, 0, values.length - 1)]
  if (value === undefined) throw new Error('nothing to choose from')
  return value
}

const SYLLABLES = ['ba', 'do', 'ka', 'li', 'mo', 'na', 'pe', 'ri', 'sa', 'tu', 've', 'zo', 'am', 'en', 'il', 'or']
const word = (random: Random): string => {
  const letters = Array.from({ length: between(random, 2, 4) }, () => oneOf(random, SYLLABLES)).join('')
  return letters.charAt(0).toUpperCase() + letters.slice(1)
}
const words = (random: Random, count: number): string => Array.from({ length: count }, () => word(random)).join(' ')
const day = (random: Random): string =>
  `202${between(random, 4, 6)}-${String(between(random, 1, 12)).padStart(2, '0')}-${String(between(random, 1, 28)).padStart(2, '0')}`

/** Seated lengths in mm and mass in kg of an adult, spread widely about the middle of usual bodies. */
const BODY = {
  hipWidthMm: [330, 470],
  thighDepthLeftMm: [420, 540],
  thighDepthRightMm: [420, 540],
  calfLengthLeftMm: [350, 470],
  calfLengthRightMm: [350, 470],
  ribHeightMm: [230, 310],
  scapulaHeightMm: [400, 480],
  axillaHeightMm: [410, 490],
  shoulderHeightMm: [520, 640],
  elbowHeightMm: [190, 280],
  upperArmMm: [300, 390],
  forearmGripMm: [310, 400],
  biacromialMm: [340, 430],
  statureMm: [1480, 1880],
} as const
type BodyField = keyof typeof BODY
const BODY_FIELDS = Object.keys(BODY) as readonly BodyField[]

/** The chairs of the practice trip: what these cases choose is offered there, so that its sheets and checks are worked out. */
export const PRACTICE_CATALOGUE: Catalogue = catalogueSchema.parse(practiceCatalogue)
/** For adults who drive the rims themselves. */
const CHAIRS = ['trail-folding', 'town-folding', 'fixed-rigid', 'rough-long'].map(key => {
  const model = PRACTICE_CATALOGUE.models.find(one => one.key === key)
  if (!model) throw new Error(`the practice catalogue has no ${key}`)
  return model
})
const STEPS = ['unpack', 'frame', 'rear-axle', 'rear-wheels', 'brakes', 'cushion', 'tighten', 'test-ride']

/** A person's body, so that two crew members who measure it differ by millimetres, not by decimetres. */
const bodyOf = (random: Random): Readonly<Record<BodyField, number>> => {
  const size = random()
  return Object.fromEntries(
    BODY_FIELDS.map(field => [
      field,
      Math.round(BODY[field][0] + (BODY[field][1] - BODY[field][0]) * (0.8 * size + 0.2 * random())),
    ]),
  ) as Record<BodyField, number>
}

const readings = (random: Random, body: Readonly<Record<BodyField, number>>, fields: readonly BodyField[]): Said =>
  Object.fromEntries(
    fields.map(field => [
      field,
      {
        typed: body[field] + between(random, -6, 6),
        unit: 'mm',
        how: oneOf(random, ['tape', 'callipers', 'books']),
        on: day(random),
      },
    ]),
  )

/** Of these values, all offered, the one next to what is wanted. */
const nearest = (values: readonly number[], wanted: number): number =>
  values.reduce((best, value) => (Math.abs(value - wanted) < Math.abs(best - wanted) ? value : best))

/** A set-up that this model offers and that goes about with this body, the axle somewhere. */
const builtFor = (random: Random, model: ChairModel, body: Readonly<Record<BodyField, number>>): SetUp => {
  const depthMm = nearest(
    model.seatDepths.map(depth => depth.valueMm),
    body.thighDepthLeftMm - 40,
  )
  const footrestMm = nearest(stepValues(model.footrest), body.calfLengthLeftMm - 50)
  return {
    chair: model.key,
    seatWidthMm: nearest(model.seatWidthsMm, body.hipWidthMm + 10),
    seatDepth: oneOf(
      random,
      model.seatDepths.filter(depth => depth.valueMm === depthMm),
    ).key,
    seatHeight: model.seatHeights[0]?.key ?? '',
    axle: oneOf(random, model.axlePositions).key,
    backHeight: oneOf(random, model.backHeights).key,
    cushion: oneOf(random, model.cushions).key,
    footrestLeftMm: footrestMm,
    footrestRightMm: footrestMm,
    armrestMm: model.armrest ? nearest(stepValues(model.armrest), body.elbowHeightMm + 50) : null,
  }
}

const readingsOf = (model: ChairModel, setUp: SetUp): Said => ({
  builtChair: setUp.chair,
  builtSeatWidthMm: setUp.seatWidthMm,
  builtSeatDepthMm: model.seatDepths.find(depth => depth.key === setUp.seatDepth)?.valueMm,
  builtSeatHeight: setUp.seatHeight,
  builtAxle: setUp.axle,
  builtBackHeightMm: model.backHeights.find(back => back.key === setUp.backHeight)?.valueMm,
  builtFootrestLeftMm: setUp.footrestLeftMm,
  builtFootrestRightMm: setUp.footrestRightMm,
  builtArmrestMm: setUp.armrestMm,
})

/** Forty forms of 2 to 7 fields, as one person's provision brings them about: referral to repairs. */
export const fortyForms = (random: Random): readonly Said[] => {
  const body = bodyOf(random)
  const model = oneOf(random, CHAIRS)
  const setUp = builtFor(random, model, body)
  const { chair, seatWidthMm, seatDepth, cushion } = setUp
  const checks = (keys: readonly CheckKey[]): Said =>
    Object.fromEntries(
      keys.map(key => [
        checkFieldName(key),
        {
          result: random() < 0.93 ? 'pass' : 'fail',
          on: day(random),
          against: checkAgainst(model, key, setUp),
        },
      ]),
    )
  const risk = (): boolean => random() < 0.15
  const forms: Said[] = [
    {
      personName: words(random, 2),
      otherNames: word(random),
      sex: oneOf(random, ['male', 'female']),
      dateOfBirth: `19${between(random, 30, 99)}-0${between(random, 1, 9)}-1${between(random, 0, 9)}`,
      place: word(random),
      telephone: String(between(random, 1e8, 1e9)),
    },
    {
      referredOn: day(random),
      referredBy: words(random, 2),
      spokenLanguage: word(random),
      toldAndAgreed: { told: true, agreed: true, by: 'person', on: day(random) },
    },
    { condition: words(random, 5), goals: words(random, 12), presentChair: words(random, 3) },
    {
      posture: oneOf(random, ['sits-well', 'some-support']),
      trunkNeed: oneOf(random, ['free', 'some', 'high']),
      propulsion: ['hands'],
      skill: 'new',
      ground: oneOf(random, ['smooth', 'mixed', 'rough']),
      climate: 'hot',
    },
    {
      presentSore: risk(),
      pastSore: risk(),
      reducedSensation: risk(),
      cannotReposition: risk(),
      moisture: risk(),
      progressive: risk(),
      seizures: risk(),
    },
    {
      newWeakness: false,
      breathingTrouble: false,
      swallowingTrouble: false,
      uncontrolledSpasms: risk(),
      weightChanging: risk(),
    },
    {
      narrowestDoorMm: { typed: between(random, 62, 90), unit: 'cm' },
      latrineDoorMm: { typed: between(random, 60, 80), unit: 'cm' },
      bedHeightMm: { typed: between(random, 300, 550), unit: 'mm' },
      transfer: oneOf(random, ['standing', 'sitting', 'lifted']),
    },
    {
      massKg: { typed: between(random, 450, 950) / 10, unit: 'kg', how: 'scale', on: day(random) },
      ...readings(random, body, ['hipWidthMm', 'statureMm']),
    },
    readings(random, body, BODY_FIELDS.slice(1, 7)),
    readings(random, body, BODY_FIELDS.slice(7, 13)),
    readings(random, body, BODY_FIELDS.slice(0, 5)),
    readings(random, body, BODY_FIELDS.slice(5, 9)),
    {
      hipFlexionLeftDeg: { typed: between(random, 90, 120), unit: 'deg', how: 'angle-gauge' },
      kneeExtensionLeftDeg: { typed: between(random, 0, 40), unit: 'deg', how: 'angle-gauge' },
      shoulderPain: 'none',
      handGrip: 'firm',
    },
    { chosenSetUp: { chair, seatWidthMm, seatDepth, cushion }, chosenWhy: words(random, 6) },
    { ...readingsOf(model, setUp), serialNumber: `S${between(random, 1e5, 1e6)}` },
    ...planSteps(model)
      .all.filter(step => STEPS.includes(step.key))
      .map(step => ({
        stepDone: { step: step.key, on: day(random), against: stepAgainst(step, settingTexts(setUp)) },
        builtCushion: cushion,
      })),
    checks(CHECK_KEYS.slice(0, 5)),
    checks(CHECK_KEYS.slice(5, 8)),
    checks(CHECK_KEYS.slice(8, 12)),
    checks(CHECK_KEYS.slice(12, 15)),
    checks(CHECK_KEYS.slice(15, 19)),
    {
      fitSize: 'ok',
      fitPosture: 'ok',
      fitMoving: oneOf(random, ['ok', 'problem']),
      handCheckLeft: 'even',
      handCheckRight: 'even',
      brakeReach: 'both-hands',
    },
    {
      scaleFrontKg: { typed: between(random, 150, 300) / 10, unit: 'kg' },
      scaleRearKg: { typed: between(random, 350, 600) / 10, unit: 'kg' },
    },
    { skinAfterFirstHour: oneOf(random, ['clear', 'fading-red']), strapReleasedBy: 'person' },
    {
      trainedTransfers: { demonstrated: true, on: day(random) },
      trainedMobility: { demonstrated: true, on: day(random) },
      trainedHandlingChair: { demonstrated: true, on: day(random) },
    },
    {
      trainedStayingHealthy: { demonstrated: true, on: day(random) },
      trainedCareOfChair: { demonstrated: true, on: day(random) },
      caregiverName: words(random, 2),
    },
    {
      handover: { handedOverOn: day(random) },
      oldChair: oneOf(random, ['none', 'kept', 'scrapped']),
      localRepairer: words(random, 3),
    },
  ]
  while (forms.length < 40)
    forms.push({
      review: {
        visitedOn: day(random),
        fit: oneOf(random, ['ok', 'problem']),
        skin: 'ok',
        chair: 'ok',
        skills: 'ok',
        inUse: 'daily',
        note: words(random, 8),
      },
      tyreReading: {
        on: day(random),
        tyre: oneOf(random, ['rear-left', 'rear-right']),
        foundKPa: between(random, 120, 380),
        celsius: between(random, 5, 40),
        altitudeM: between(random, 0, 3000),
      },
      ...(random() < 0.4
        ? { repair: { repairedOn: day(random), part: word(random), fault: words(random, 4), chairUsable: true } }
        : {}),
    })
  return forms
}

export interface RealisticCase {
  readonly caseId: CaseId
  readonly entries: readonly SignedEntry[]
  /** As it lies in a store: written by several devices in sessions of six forms, each with a Yjs client of its own. */
  readonly document: CaseDocument
}

const FORMS_A_SESSION = 6

/** One case of forty signed entries. What sets a field again names what stood before. */
export const realisticCase = async (seed: number, devices: readonly DeviceKey[]): Promise<RealisticCase> => {
  const random = seededRandom(seed)
  const caseId = caseIdSchema.parse(
    Buffer.from(Array.from({ length: 16 }, () => between(random, 0, 255))).toString('base64url'),
  )
  const lastByField = new Map<string, EntryId>()
  const entries: SignedEntry[] = []
  let document = new CaseDocument()
  for (const [index, set] of fortyForms(random).entries()) {
    const checked = checkCaseSet(set)
    if (!checked.ok) throw new Error(checked.failure.message)
    const over = [...new Set(Object.keys(set).flatMap(field => lastByField.get(field) ?? []))]
    const session = Math.floor(index / FORMS_A_SESSION)
    const device = devices[session % devices.length]
    if (!device) throw new Error('no device to write with')
    const at = 1_760_000_000_000 + seed * 1_000_000 + index * 61_007
    const signed = await signEntry(device, { case: caseId, at, kind: 'save', set, over })
    if (!signed.ok) throw new Error(signed.failure.message)
    for (const field of Object.keys(set)) lastByField.set(field, signed.value.id)
    if (index % FORMS_A_SESSION === 0) {
      const before = document
      document = new CaseDocument()
      document.apply(before.snapshot(), [])
    }
    document.put([signed.value])
    entries.push(signed.value)
  }
  return { caseId, entries, document }
}
