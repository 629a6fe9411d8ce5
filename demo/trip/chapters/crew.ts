import { accepted, handOverSecrets } from '../devices.ts'
import { meet, meetUntilNothingMoves, sealBundle, takeIn } from '../meetings.ts'
import { caseOf, type Look, lookAt, personOfKey, state, type Trip } from '../trip.ts'
import { counted, dueWords, listed, plain } from '../words.ts'
import { BY_TRAINEE } from './apart.ts'
import { EARLIER, FILLED_KPA } from './office.ts'

/** Asks that what was written about him be removed. */
const ERASED = 'rosh'
const FOUND_KPA = 330
const DOOR_MM = 580

/** A person moves away, a phone is lost, a record is to be removed. `oldFile` was sealed three days before. */
export const crewMatters = async (trip: Trip, oldFile: Uint8Array): Promise<void> => {
  const { notebook, coordinator, therapist, technician } = trip
  notebook.heading(`${trip.calendar.today()}: one moves away, one phone is lost, one record is removed`)
  await tyreThenExit(trip)
  await meetUntilNothingMoves([coordinator, therapist, technician])
  await lostPhone(trip)
  await erasure(trip, oldFile)
}

const tyreThenExit = async (trip: Trip): Promise<void> => {
  const { notebook, technician } = trip
  const on = trip.calendar.today()
  await state(trip, technician, EARLIER, {
    tyreReading: { on, tyre: 'rear-left', foundKPa: FOUND_KPA, leftKPa: FILLED_KPA, celsius: 31, altitudeM: 640 },
  })
  const { outcome } = await lookAt(trip, technician, EARLIER)
  notebook.turn(
    'a tyre that loses air is forecast',
    outcome.dues.items.find(due => due.kind === 'tyre' && due.window),
    due =>
      `${personOfKey(trip, EARLIER).name} is asked in on the way: the tyre filled to ${FILLED_KPA} kPa in November stands at ${FOUND_KPA} on a hot day. Pumped up again; from what it lost: ${dueWords(due)}.`,
  )
  await state(trip, technician, EARLIER, { exit: { on, why: 'moved' } })
  const { outcome: after } = await lookAt(trip, technician, EARLIER)
  notebook.turn(
    'an exit ends every due',
    after.dues.ended && after.dues.items.length === 0 && after.dues.ended,
    ended =>
      `She is packing: she moves to her son at the coast. Exit noted (${ended.why}, ${ended.on}); of ${counted(outcome.dues.items.length, 'due')} none is left, and the case is ${after.stage}.`,
  )
}

const isSame = (one: Look, other: Look): boolean => JSON.stringify(one.outcome) === JSON.stringify(other.outcome)

const lostPhone = async (trip: Trip): Promise<void> => {
  const { notebook, coordinator, therapist, technician, trainee } = trip
  const doorMm = { typed: DOOR_MM, unit: 'mm', how: 'tape', on: '2026-05-12' }
  await state(trip, trainee, BY_TRAINEE, { narrowestDoorMm: doorMm })
  const unstruck = await lookAt(trip, technician, BY_TRAINEE)
  accepted(await coordinator.casebook.strike(trainee.casebook.device))
  for (const device of [therapist, technician]) {
    await meet(coordinator, device)
    await handOverSecrets(coordinator, device)
  }
  const before = await lookAt(trip, technician, BY_TRAINEE)
  await takeIn(await sealBundle(trainee), technician)
  const after = await lookAt(trip, technician, BY_TRAINEE)
  const late = (await technician.casebook.record(caseOf(trip, BY_TRAINEE))).filter(
    entry => entry.notCounting === 'came-after-strike',
  )
  const secrets = technician.casebook.secrets().length
  notebook.turn(
    'what a struck phone brings later is kept and does not count',
    late.length > 0 && isSame(unstruck, before) && isSame(before, after) && secrets > 1 && late,
    found =>
      `The trainee's phone fell into the river. The coordinator strikes it off and renews the secret (${counted(secrets, 'secret')} now, the newest for all that is sealed from here on). What was known of it goes on counting. Then the ferryman brings the phone, and it still has something: ${counted(found.length, 'entry', 'entries')} on ${personOfKey(trip, BY_TRAINEE).name}, kept, marked "came after", and without any effect.`,
  )
  const ids = late.map(({ counted: { id } }) => id)
  accepted(await technician.casebook.vouch(trainee.casebook.device, ids))
  const vouched = await lookAt(trip, technician, BY_TRAINEE)
  const [then] = before.outcome.recommendation.options
  const out = vouched.outcome.recommendation.excluded.find(row => row.chair === then?.chair && row.rule === 'door')
  const others = vouched.outcome.recommendation.options.length
  notebook.turn(
    'it counts once somebody of the crew stands up for it',
    then && vouched.view.values.narrowestDoorMm === DOOR_MM && out && { then, out, others },
    found =>
      `The trainee remembers the door, ${DOOR_MM} mm, measured before the phone was lost. The technician vouches for it and it counts: the ${plain(found.then.chair)} that stood first is ${found.out.shortBy} mm too wide for it. ${found.others === 0 ? 'No other chair of the catalogue serves him: the door or another chair has to be seen to.' : `${counted(found.others, 'other chair')} can be chosen.`}`,
  )
}

const erasure = async (trip: Trip, oldFile: Uint8Array): Promise<void> => {
  const { notebook, coordinator, therapist, technician } = trip
  const crew = [coordinator, therapist, technician]
  const caseId = caseOf(trip, ERASED)
  const isListed = () => crew.filter(({ casebook }) => casebook.summaries().some(one => one.caseId === caseId))
  accepted(await coordinator.casebook.eraseCase(caseId))
  const afterOne = coordinator.casebook.erasures().get(caseId)?.state
  await meet(coordinator, therapist)
  accepted(await therapist.casebook.eraseCase(caseId))
  await meetUntilNothingMoves(crew)
  const accounts = []
  for (const device of crew) accounts.push(await takeIn(oldFile, device))
  const refusals = accounts.map(({ refused }) => refused.filter(({ key }) => key === caseId))
  const gone = isListed().length === 0 && crew.every(one => one.casebook.erasures().get(caseId)?.state === 'erased')
  notebook.turn(
    'an erased case comes back by no bundle',
    gone && afterOne === 'hidden' && refusals.every(found => found.length > 0) && refusals[0]?.[0],
    ({ message }) =>
      `${personOfKey(trip, ERASED).name} wants nothing written down about him. At one word, the coordinator's, the case is ${afterOne}; the therapist agrees, and it is removed on ${listed(crew.map(({ name }) => name))}. Somebody takes in the file of three days ago once more: "${message}"`,
  )
}
