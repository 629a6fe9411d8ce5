import { fitAndTrain, handOver } from '../handing-over.ts'
import { meet } from '../meetings.ts'
import { lookAt, personOfKey, state, type Trip } from '../trip.ts'
import { chairWords, checkNames, counted, dueWords, holdWords, listed, plain } from '../words.ts'
import { build, check, chooseFirst } from '../workshop.ts'
import { DOES_NOT_MATTER, MATTERS } from './apart.ts'
import { CHILD, HEAVY_BAG, SORE } from './bad-news.ts'
import { hipDifference } from './evening.ts'

/** Differences end, work is redone, chairs are handed over. */
export const settling = async (trip: Trip): Promise<void> => {
  trip.notebook.heading(`${trip.calendar.today()}: differences are settled, work is redone, chairs are handed over`)
  await measuredAgain(trip)
  await keptOne(trip)
  await redone(trip)
  await notLowered(trip)
  await meet(trip.therapist, trip.technician)
  await handedOver(trip)
}

const measuredAgain = async (trip: Trip): Promise<void> => {
  const { notebook, therapist } = trip
  const hipWidthMm = { typed: 386, unit: 'mm', how: 'callipers', on: trip.calendar.today() }
  await state(trip, therapist, MATTERS, { hipWidthMm }, { kind: 'retest', why: 'both measured together, coat off' })
  const { outcome, view } = await lookAt(trip, therapist, MATTERS)
  const settled = hipDifference(outcome) === undefined && outcome.holds.every(hold => hold.key !== 'difference')
  notebook.turn(
    'measuring again settles the difference',
    settled && outcome.recommendation.options[0],
    option =>
      `Therapist and technician measure ${personOfKey(trip, MATTERS).name} once more, together and without the coat: ${view.values.hipWidthMm} mm. The difference is settled; all ${view.readings.hipWidthMm?.length} readings stay in the record. First choice: ${chairWords(option)}.`,
  )
}

const keptOne = async (trip: Trip): Promise<void> => {
  const { notebook, technician } = trip
  const { view } = await lookAt(trip, technician, DOES_NOT_MATTER)
  const kept = view.heads.hipWidthMm?.find(head => (head.value as { typed: number }).typed === 344)
  const why = 'the second was taken over a folded blanket'
  await state(trip, technician, DOES_NOT_MATTER, { hipWidthMm: kept?.value }, { kind: 'settle', why })
  const after = await lookAt(trip, technician, DOES_NOT_MATTER)
  notebook.turn(
    'one of two readings is kept, with a reason',
    hipDifference(after.outcome) === undefined && after.view.heads.hipWidthMm?.[0]?.why,
    reason =>
      `For ${personOfKey(trip, DOES_NOT_MATTER).name} they keep ${after.view.values.hipWidthMm} mm and write why: ${reason}.`,
  )
}

const redone = async (trip: Trip): Promise<void> => {
  const { notebook, technician } = trip
  const steps = await build(trip, technician, HEAVY_BAG)
  const { outcome: built } = await lookAt(trip, technician, HEAVY_BAG)
  const stale = built.checks.filter(one => one.state !== 'passed').map(one => one.check)
  await check(trip, technician, HEAVY_BAG)
  const { outcome } = await lookAt(trip, technician, HEAVY_BAG)
  const clean =
    built.build?.steps.length === 0 && stale.length > 0 && outcome.checks.every(one => one.state === 'passed')
  notebook.turn(
    'the steps are redone and the stale checks repeated',
    clean && outcome.target,
    ({ setUp }) =>
      `The technician moves the axle of ${personOfKey(trip, HEAVY_BAG).name} to ${plain(setUp.axle)} and goes through the ${counted(steps.length, 'step')}. Doing them does not make a check good again: ${checkNames(stale)} had to be repeated, and were. In the way now: ${holdWords(outcome.holds)}.`,
  )
}

/** A tick in a box does not heal. */
const notLowered = async (trip: Trip): Promise<void> => {
  const { notebook, technician } = trip
  await state(trip, technician, SORE, { presentSore: false })
  const { outcome, view } = await lookAt(trip, technician, SORE)
  const handover = await handOver(trip, technician, SORE)
  notebook.turn(
    'a risk that is unticked without a reason stays held',
    view.values.presentSore === true && handover.some(hold => hold.key === 'present-sore') && outcome,
    ({ holds }) =>
      `In a hurry the technician unticks the sore of ${personOfKey(trip, SORE).name} and saves. Both statements are kept, the sore stands, and the handover is still held: ${holdWords(holds)}.`,
  )
}

const handedOver = async (trip: Trip): Promise<void> => {
  const { notebook, technician, therapist } = trip
  await chooseFirst(trip, technician, MATTERS)
  await build(trip, technician, MATTERS)
  await check(trip, technician, MATTERS)
  await meet(therapist, technician)
  const kept: string[] = []
  for (const key of [HEAVY_BAG, CHILD, MATTERS]) {
    await fitAndTrain(trip, therapist, key)
    const inTheWay = await handOver(trip, therapist, key)
    if (inTheWay.length > 0) kept.push(`${personOfKey(trip, key).name}: ${holdWords(inTheWay)}`)
  }
  const due = async (key: string, kind: string) => {
    const { outcome } = await lookAt(trip, therapist, key)
    return outcome.dues.items.find(one => one.kind === kind)
  }
  const [young, child, adult] = [
    await due(HEAVY_BAG, 'review'),
    await due(CHILD, 'growth'),
    await due(MATTERS, 'review'),
  ]
  const cushion = await due(CHILD, 'cushion-review')
  const statures = (await lookAt(trip, therapist, CHILD)).view.events.stature.length
  notebook.turn(
    'three chairs are handed over',
    kept.length === 0 && [HEAVY_BAG, CHILD, MATTERS].map(key => personOfKey(trip, key).name),
    names => `Fitted, trained, every part demonstrated: ${listed(names)} go home in their chairs.`,
  )
  notebook.turn(
    'a priority case is seen after six weeks, another one after six months',
    young && adult && young.date < adult.date && { young, adult },
    found =>
      `Nobody typed a date for what comes next. ${personOfKey(trip, HEAVY_BAG).name}: ${dueWords(found.young)} (priority: ${found.young.reason.inputs.because}). ${personOfKey(trip, MATTERS).name}: ${dueWords(found.adult)}.`,
  )
  notebook.turn(
    'a child outgrows the chair within a window that is told beforehand',
    child?.window && cushion && { child, cushion, statures },
    found =>
      `${personOfKey(trip, CHILD).name} grows, and her chair has an end: ${dueWords(found.child)}, worked out from ${found.statures} statures; ${dueWords(found.cushion)}.`,
  )
}
