import { settingTexts } from '../../src/chair/set-up.ts'
import type { Hold } from '../../src/fitting/reason.ts'
import type { TripDevice } from './devices.ts'
import { lookAt, state, type Trip } from './trip.ts'
import { serialOf } from './workshop.ts'

/** Fits the person in the chair and trains them, each part as it was demonstrated. */
export const fitAndTrain = async (trip: Trip, device: TripDevice, key: string): Promise<void> => {
  const demonstrated = { demonstrated: true, on: trip.calendar.today() }
  await state(trip, device, key, {
    fitSize: 'ok',
    fitPosture: 'ok',
    handCheckLeft: 'even',
    handCheckRight: 'even',
    fitMoving: 'ok',
    brakeReach: 'both-hands',
    skinAfterFirstHour: 'clear',
  })
  await state(trip, device, key, {
    trainedTransfers: demonstrated,
    trainedHandlingChair: demonstrated,
    trainedMobility: demonstrated,
    trainedStayingHealthy: demonstrated,
    trainedCareOfChair: demonstrated,
    trainedWhomToContact: demonstrated,
  })
}

/** Hands the chair over if nothing stands in the way; gives what does. */
export const handOver = async (trip: Trip, device: TripDevice, key: string): Promise<readonly Hold[]> => {
  const { outcome } = await lookAt(trip, device, key)
  if (outcome.holds.length > 0 || !outcome.target) return outcome.holds
  const on = trip.calendar.today()
  const { cushion } = settingTexts(outcome.target.setUp)
  await state(trip, device, key, {
    handover: { handedOverOn: on, serialNumber: serialOf(trip, key) },
    cushionIssued: { on, cushion },
  })
  return []
}
