import { meetUntilNothingMoves } from '../meetings.ts'
import { type Proof, prove } from '../proof.ts'
import type { Trip } from '../trip.ts'
import { counted } from '../words.ts'

/** All three meet until nothing moves; then each says what it has, and the three are compared. */
export const together = async (trip: Trip): Promise<Proof> => {
  const { notebook, coordinator, therapist, technician } = trip
  const devices = [coordinator, therapist, technician]
  notebook.heading(`${trip.calendar.today()}, evening: all together`)
  const moved = await meetUntilNothingMoves(devices)
  for (const { casebook } of devices) await casebook.settled()
  notebook.turn(
    'they meet until nothing moves, and nobody has a problem to show',
    devices.every(({ casebook }) => casebook.problems().length === 0) && moved > 0,
    () =>
      `The three meet in turn until a whole round moves nothing: ${counted(moved, 'entry', 'entries')} changed hands.`,
  )
  const cases = coordinator.casebook.summaries()
  const stageCount = (stage: string) => cases.filter(({ brief }) => brief?.stage === stage).length
  const soon = cases
    .flatMap(({ name, brief }) => (brief?.nextDue ? [{ name, ...brief.nextDue }] : []))
    .toSorted((a, b) => (a.date < b.date ? -1 : 1))
  notebook.turn(
    'the coordinator reads from her list who has a chair and who is next',
    soon.length > 0 && soon,
    ([first]) =>
      `On the laptop: ${counted(cases.length, 'case')}, ${stageCount('follow-up')} with a chair, ${stageCount('closed')} closed, ${cases.filter(({ brief }) => brief?.holds.some(key => key !== 'not-chosen')).length} held for more than the want of a choice. Next: ${first?.name}, ${first?.key.split(' ')[0]} on ${first?.date}.`,
  )
  const proof = await prove(devices, trip.calendar.today())
  proofShown(trip, proof)
  return proof
}

const proofShown = ({ notebook }: Trip, { statements, holds }: Proof): void => {
  notebook.say(
    'Each device works out every case for itself. SHA-256 over the outcomes as JSON text, in order of the case ids:',
  )
  const width = Math.max(...statements.map(({ device }) => device.length))
  notebook.lines(statements.map(({ device, outcomes }) => `  ${device.padEnd(width)}  ${outcomes}`).join('\n'))
  notebook.turn(
    'the three outcomes are byte-identical',
    holds && statements[0],
    ({ caseCount }) => `The same, byte for byte, for ${counted(caseCount, 'case')}, and the same entries underneath.`,
  )
}
