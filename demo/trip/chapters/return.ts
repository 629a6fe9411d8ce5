import { fitAndTrain, handOver } from '../handing-over.ts'
import { meet } from '../meetings.ts'
import { lookAt, personOfKey, state, type Trip } from '../trip.ts'
import { dueWords, holdWords } from '../words.ts'
import { HEAVY_BAG, SORE } from './bad-news.ts'

/** Six weeks later: the first reviews, and the chair that waited. */
export const comingBack = async (trip: Trip): Promise<void> => {
  const { notebook, therapist, technician } = trip
  notebook.heading(`${trip.calendar.today()}: six weeks later`)
  await meet(therapist, technician)
  const { outcome: due } = await lookAt(trip, therapist, HEAVY_BAG)
  const [first] = due.dues.items
  const visitedOn = trip.calendar.today()
  await state(trip, therapist, HEAVY_BAG, {
    review: { visitedOn, fit: 'ok', skin: 'ok', chair: 'ok', skills: 'ok', inUse: 'daily' },
  })
  const { outcome: reviewed } = await lookAt(trip, therapist, HEAVY_BAG)
  const next = reviewed.dues.items.find(one => one.kind === 'review')
  notebook.turn(
    'a review that was due is done and the next one follows',
    first?.kind === 'review' && first.state === 'due' && next && next.date > first.date && { first, next },
    found =>
      `${personOfKey(trip, HEAVY_BAG).name} was on the list (${found.first.state}, ${found.first.date}). Size, skin, chair and skills are well, and the chair is used daily; next ${dueWords(found.next)}.`,
  )

  const why = 'closed and dry for two weeks; seen by the nurse of Kesse Mill and by the therapist'
  await state(trip, therapist, SORE, { presentSore: false }, { kind: 'settle', why })
  const { view, outcome } = await lookAt(trip, therapist, SORE)
  await fitAndTrain(trip, therapist, SORE)
  const inTheWay = await handOver(trip, therapist, SORE)
  const { outcome: handed } = await lookAt(trip, therapist, SORE)
  notebook.turn(
    'a risk is lowered by a person who says why, and the chair is handed over',
    view.values.presentSore === false &&
      outcome.holds.every(hold => hold.key !== 'present-sore') &&
      inTheWay.length === 0 &&
      handed.dues.items[0],
    found =>
      `The sore of ${personOfKey(trip, SORE).name} is settled with a reason: ${view.heads.presentSore?.[0]?.why}. In the way now: ${holdWords(outcome.holds)}. The chair that waited is fitted and handed over; first, ${dueWords(found)}.`,
  )
}
