import type { SettingKey } from '../../../src/chair/chair-model.ts'
import type { Outcome } from '../../../src/outcome/outcome.ts'
import type { CheckState, StaleCheck } from '../../../src/preparation/checks.ts'
import { dayNeeds } from '../../../src/preparation/day-needs.ts'
import { meet } from '../meetings.ts'
import { type Look, lookAt, personOfKey, state, type Trip } from '../trip.ts'
import { checkNames, counted, holdWords, listed, plain } from '../words.ts'
import { build, check, chooseFirst } from '../workshop.ts'

/** Built in the morning; in the afternoon the therapist learns what she carries to college. */
export const HEAVY_BAG = 'selka'
/** Built in the morning; in the afternoon the therapist sees his skin. */
export const SORE = 'davor'
/** A child who grows. */
export const CHILD = 'ansa'

/** On a college day. */
const BAG_KG = 18

/** The technician builds while the therapist visits; what she learns comes after the chairs are done. */
export const badNews = async (trip: Trip): Promise<void> => {
  const { notebook, therapist, technician } = trip
  notebook.heading(`${trip.calendar.today()}: chairs are built, and the news comes late`)
  const stepCounts: string[] = []
  for (const key of [HEAVY_BAG, SORE, CHILD]) {
    await chooseFirst(trip, technician, key)
    const steps = await build(trip, technician, key)
    const checked = await check(trip, technician, key)
    stepCounts.push(`${personOfKey(trip, key).name} ${steps.length} steps and ${counted(checked, 'check')}`)
  }
  const before = await lookAt(trip, technician, HEAVY_BAG)
  const ready = before.outcome.holds.length === 0 && before.outcome.checks.every(one => one.state === 'passed')
  notebook.turn(
    'a chair is built, checked and ready to be handed over',
    ready && before.outcome.target,
    ({ setUp, predicted }) =>
      `The technician takes the first choice for three people and builds: ${listed(stepCounts)}. The chair of ${personOfKey(trip, HEAVY_BAG).name} (${plain(setUp.chair)}, ${setUp.seatWidthMm} mm wide, axle in ${plain(setUp.axle)}, tips back at ${predicted?.rearTyrePivotDeg} degrees) is done, and nothing stands in the way.`,
  )

  await state(trip, therapist, HEAVY_BAG, { loads: [{ massKg: BAG_KG, at: 'handles', when: 'usual' }] })
  await state(trip, therapist, SORE, { presentSore: true })
  await meet(therapist, technician)
  const after = await lookAt(trip, technician, HEAVY_BAG)
  axleMoved(trip, before, after)
  checksWentStale(trip, after.outcome)
  sheetShown(trip, after.outcome)
  await soreHolds(trip)
}

const axleMoved = ({ notebook }: Trip, earlier: Look, later: Look): void => {
  const [before, after] = [earlier.outcome, later.outcome]
  const [saidKg, bagKg] = [earlier, later].map(({ view }) => view.values.loads?.[0]?.massKg)
  const [then, now] = [before.target, after.target]
  const [advisedThen, advisedNow] = [before.recommendation.options[0], after.recommendation.options[0]]
  const moved = then && now && then.setUp.axle !== now.setUp.axle && advisedThen?.axle !== advisedNow?.axle
  notebook.turn(
    'the recommended and the wanted axle move after the merge',
    moved && advisedThen && advisedNow && { then, now, advisedThen, advisedNow, saidKg, bagKg },
    found =>
      `Meanwhile the therapist is told at home that the bag on the handles weighs ${found.bagKg} kg, not ${found.saidKg}. In the evening the phones meet, and the chair that was ready is so no more: the recommended axle goes from ${plain(found.advisedThen.axle)} to ${plain(found.advisedNow.axle)}, and so does the one to build to, from ${plain(found.then.setUp.axle)} to ${plain(found.now.setUp.axle)}. There the chair with that bag tips back at ${found.now.predicted?.rearTyrePivotDeg} degrees (standard error ${found.now.predicted?.standardErrors.rearTyrePivotDeg}).`,
  )
}

const isStale = (one: CheckState): one is StaleCheck => one.state === 'stale'

const checksWentStale = ({ notebook }: Trip, { checks }: Outcome): void => {
  const stale = checks.filter(isStale)
  const brakes = stale.find(one => one.check === 'brakesHold')
  notebook.turn(
    'the brake check goes stale',
    brakes?.changed.find(one => one.setting === ('axle' satisfies SettingKey)),
    ({ from, to }) =>
      `The brakes were tried with the axle in ${plain(from ?? 'no hole')}; for ${plain(to)} that counts no longer. Stale: ${checkNames(stale.map(one => one.check))}. Still good: ${checkNames(checks.filter(one => one.state === 'passed').map(one => one.check))}.`,
  )
}

const sheetShown = ({ notebook }: Trip, { build: sheet, holds }: Outcome): void => {
  const redone = sheet?.steps.filter(step => step.state !== 'done') ?? []
  notebook.turn(
    'the build sheet shows only what is redone, and with which tools',
    sheet && redone.some(step => step.key === 'rear-axle') && redone.some(step => step.key === 'brakes') && sheet,
    found =>
      `The build sheet keeps ${counted(found.done.length, 'step')} as done and brings back ${found.steps.length}, in order: ${listed(found.steps.map(step => plain(step.key)))}. Tools: ${listed(dayNeeds([found]).tools)}. In the way of the handover: ${holdWords(holds)}.`,
  )
}

const soreHolds = async (trip: Trip): Promise<void> => {
  const { outcome } = await lookAt(trip, trip.technician, SORE)
  trip.notebook.turn(
    'a present sore holds the chair and refers the person',
    outcome.holds.find(hold => hold.key === 'present-sore' && hold.refer === 'health'),
    () =>
      `Worse news for ${personOfKey(trip, SORE).name}: the therapist found a sore. His chair is built and checked, and it waits. In the way: ${holdWords(outcome.holds)}.`,
  )
}
