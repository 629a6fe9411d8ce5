import type { Outcome } from '../../../src/outcome/outcome.ts'
import { meet, sealBundle, takeIn } from '../meetings.ts'
import { rootsAgree } from '../proof.ts'
import { lookAt, personOfKey, type Trip } from '../trip.ts'
import { changeWords, counted, holdWords, listed, plain } from '../words.ts'
import { DOES_NOT_MATTER, MATTERS } from './apart.ts'
import { DOUBLE } from './office.ts'

/** The line is lost after so many messages: the technician's entries have come over, the therapist's have not. */
const CUT_AFTER_MESSAGES = 8

export const hipDifference = ({ differences }: Outcome) => differences.find(one => one.field === 'hipWidthMm')

/** Two meet over a line that breaks; the third is reached by a file. Gives that file: it is met again later. */
export const evening = async (trip: Trip): Promise<Uint8Array> => {
  const { notebook, therapist, technician, trainee, coordinator } = trip
  notebook.heading(`${trip.calendar.today()}, evening at the vehicle: two meet, the third gets a file`)
  await meet(technician, trainee)
  const [first] = await meet(therapist, technician, CUT_AFTER_MESSAGES)
  const [second] = await meet(therapist, technician)
  const cut = first.status === 'broken-off' && first.entriesReceived > 0
  const whole = second.status === 'equal' && second.entriesSent > 0 && second.entriesReceived === 0
  notebook.turn(
    'a line that breaks loses nothing and is not begun again from the start',
    cut && whole && { first, second },
    () =>
      `Therapist and technician hold their phones together; after ${counted(first.entriesReceived, 'entry', 'entries')} the line breaks. They try again: what had come over is kept and not sent twice, the other ${counted(second.entriesSent, 'entry', 'entries')} follow, and both hold the same.`,
  )

  const file = await sealBundle(technician)
  const account = await takeIn(file, coordinator)
  notebook.turn(
    'a sealed file brings the coordinator level',
    account.entriesNew > 0 && account.refusedCount === 0 && (await rootsAgree([therapist, technician, coordinator])),
    () =>
      `The driver takes a sealed file down to the coordinator, who could not come: ${counted(account.entriesNew, 'new entry', 'new entries')} in ${counted(account.changed.length, 'document')}, ${account.refusedCount} refused. Nobody can read it on the way, and her laptop now holds what the phones hold.`,
  )

  await differencesShown(trip)
  await doubleShown(trip)
  return file
}

const differencesShown = async (trip: Trip): Promise<void> => {
  const { notebook, therapist, technician } = trip
  const matters = await lookAt(trip, therapist, MATTERS)
  const difference = hipDifference(matters.outcome)
  notebook.turn(
    'a difference that changes the chair holds the handover',
    difference?.effect === 'changes' && matters.outcome.holds.some(hold => hold.key === 'difference') && difference,
    found =>
      `Both measured the hips of ${personOfKey(trip, MATTERS).name}: ${found.options.map(option => `${option.value} mm`).join(' or ')}. Nothing was overwritten. Worked through with each value it matters: ${changeWords(found)}. In the way of a handover: ${holdWords(matters.outcome.holds)}.`,
  )
  const other = await lookAt(trip, technician, DOES_NOT_MATTER)
  const small = hipDifference(other.outcome)
  notebook.turn(
    'a difference that changes nothing is shown and holds nothing',
    small?.effect === 'none' && other.outcome.holds.every(hold => hold.key !== 'difference') && small,
    found =>
      `${personOfKey(trip, DOES_NOT_MATTER).name} was measured twice as well: ${found.options.map(option => `${option.value} mm`).join(' or ')}. The same chair, settings and dates come out either way: the difference is shown, and holds nothing.`,
  )
}

const digits = (telephone: string | undefined): string => (telephone ?? '').replaceAll(/\D/g, '')

/** Who is likely to be the same is for people to say; the coordinator looks through names beside telephone and birth. */
const doubleShown = async (trip: Trip): Promise<void> => {
  const { notebook, coordinator } = trip
  const one = (await lookAt(trip, coordinator, DOUBLE.first)).view.values
  const two = (await lookAt(trip, coordinator, DOUBLE.second)).view.values
  const born = two.birthYear
  const alike = [
    ...(digits(one.telephone) === digits(two.telephone) ? ['telephone'] : []),
    ...(born !== undefined && one.dateOfBirth?.startsWith(`${born}-`) ? ['year of birth'] : []),
    ...(['sex', 'propulsion', 'ground'] as const).filter(
      name => JSON.stringify(one[name]) === JSON.stringify(two[name]),
    ),
  ]
  notebook.turn(
    'one woman stands in the casebook twice',
    alike.length > 3 && alike,
    found =>
      `On the laptop ${one.personName} of ${one.place} and ${two.personName} of ${two.place} share ${listed(found.map(plain))}: one woman, registered on two phones. Nothing is merged by itself: both cases stay until somebody has spoken to her.`,
  )
}
