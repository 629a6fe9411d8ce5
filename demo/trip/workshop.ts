import { checkFieldName } from '../../src/case/fields.ts'
import { CHECK_KEYS } from '../../src/chair/chair-model.ts'
import { settingTexts } from '../../src/chair/set-up.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import type { BuildStep } from '../../src/preparation/build-sheet.ts'
import type { TripDevice } from './devices.ts'
import { lookAt, state, type Trip } from './trip.ts'

/** Takes the chair that the ranking puts first. Its settings stay open: they follow the facts. */
export const chooseFirst = async (trip: Trip, device: TripDevice, key: string): Promise<void> => {
  const { outcome } = await lookAt(trip, device, key)
  const [first] = outcome.recommendation.options
  if (!first) throw new Error(`nothing is recommended for "${key}"`)
  const { chair, seatWidthMm, seatDepth, cushion } = first.setUp
  await state(trip, device, key, { chosenSetUp: { chair, seatWidthMm, seatDepth, cushion } })
}

const targetOf = (outcome: Outcome, key: string) => {
  if (!outcome.target) throw new Error(`"${key}" has no chair that can be built`)
  return outcome.target.setUp
}

/** What is read from the finished chair: it was built as the sheet says. */
const reading = (trip: Trip, device: TripDevice, outcome: Outcome, key: string) => {
  const setUp = targetOf(outcome, key)
  const model = device.casebook.context().catalogue.models.find(one => one.key === setUp.chair)
  const depth = model?.seatDepths.find(one => one.key === setUp.seatDepth)
  const back = model?.backHeights.find(one => one.key === setUp.backHeight)
  if (!depth || !back) throw new Error(`no size of "${setUp.chair}" as chosen for "${key}"`)
  return {
    builtChair: setUp.chair,
    builtSeatWidthMm: setUp.seatWidthMm,
    builtSeatDepthMm: depth.valueMm,
    builtSeatHeight: setUp.seatHeight,
    builtAxle: setUp.axle,
    builtBackHeightMm: back.valueMm,
    builtCushion: setUp.cushion,
    builtFootrestLeftMm: setUp.footrestLeftMm,
    builtFootrestRightMm: setUp.footrestRightMm,
    builtArmrestMm: setUp.armrestMm,
    serialNumber: serialOf(trip, key),
  }
}

/** Serial numbers of this trip: LK and the place on the list. */
export const serialOf = (trip: Trip, key: string): string =>
  `LK-${String(trip.people.findIndex(one => one.key === key) + 1).padStart(4, '0')}`

/** Works through the build sheet: ticks every step that is on it, then reads the chair. Gives the steps that were done. */
export const build = async (trip: Trip, device: TripDevice, key: string): Promise<readonly BuildStep[]> => {
  const { outcome } = await lookAt(trip, device, key)
  const steps = outcome.build?.steps ?? []
  const on = trip.calendar.today()
  for (const { key: step, against, needsSecondName } of steps)
    await state(trip, device, key, {
      stepDone: { step, on, against, ...(needsSecondName ? { secondName: 'Sira Vellanke' } : {}) },
    })
  await state(trip, device, key, reading(trip, device, outcome, key))
  return steps
}

/** Makes every check that is not passed, on the chair as it now stands. Gives how many. */
export const check = async (trip: Trip, device: TripDevice, key: string): Promise<number> => {
  const { outcome } = await lookAt(trip, device, key)
  const against = settingTexts(targetOf(outcome, key))
  const open = CHECK_KEYS.filter(one =>
    outcome.checks.some(({ check: made, state: standing }) => made === one && standing !== 'passed'),
  )
  for (const one of open)
    await state(
      trip,
      device,
      key,
      { [checkFieldName(one)]: { result: 'pass', on: trip.calendar.today(), against } },
      { kind: 'retest', why: 'done on the chair as it stands' },
    )
  return open.length
}
