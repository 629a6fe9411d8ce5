import type { CalendarDate } from '../calendar-date.ts'
import type { TripDay } from '../crew/trips.ts'
import { compareText, type DeviceId } from '../ids.ts'
import { VISIT_RISKS, type VisitNeeds } from './visit-needs.ts'

/** One crew member's day at one place. */
export interface PlannedShift {
  readonly on: CalendarDate
  readonly place: string
  readonly member: DeviceId
  readonly minutes: number
  readonly usedMinutes: number
  /** The riskiest first. */
  readonly visits: readonly VisitNeeds[]
}

/**
 * `place-unknown`, `place-not-on-trip`: nobody goes where the person is. `longer-than-a-shift`: no shift there is long
 * enough even when empty: more hours, or two visits. `no-time-left`: those before took it.
 */
export type Unplanned = 'place-unknown' | 'place-not-on-trip' | 'longer-than-a-shift' | 'no-time-left'

export interface TripPlan {
  readonly shifts: readonly PlannedShift[]
  /** Whoever does not fit, the riskiest first. */
  readonly left: readonly { readonly needs: VisitNeeds; readonly why: Unplanned }[]
  /** Crew members who stand in two places on one day: each is planned with the hours of both. */
  readonly inTwoPlaces: readonly { readonly on: CalendarDate; readonly member: DeviceId }[]
}

/** The same place however it was typed: spaces and capitals do not count. */
const placeKey = (place: string): string => place.normalize('NFC').trim().replaceAll(/\s+/g, ' ').toLowerCase()

interface OpenShift {
  readonly on: CalendarDate
  readonly place: string
  readonly member: DeviceId
  readonly minutes: number
  left: number
  readonly visits: VisitNeeds[]
}

const byRisk = (a: VisitNeeds, b: VisitNeeds): number =>
  VISIT_RISKS.indexOf(a.risk) - VISIT_RISKS.indexOf(b.risk) || b.minutes - a.minutes || compareText(a.case, b.case)

const minutesOf = ({ hours }: TripDay): number => Math.floor(hours * 60)

/**
 * Shares the work of a trip among its shifts. People are taken in the order of risk, within one risk the longest work
 * first, then by case id; each goes to the shift at their place that has most time left, of equals the earliest day. So
 * nobody of lower risk takes a place that one of higher risk could have had, shifts come out even, and none is ever longer
 * than its hours. Everybody is planned or listed; the order of the lists handed in changes nothing.
 */
export const planTrip = (needs: readonly VisitNeeds[], days: readonly TripDay[]): TripPlan => {
  const shifts = days
    .flatMap((day): OpenShift[] =>
      [...new Set(day.crew)].map(member => {
        const minutes = minutesOf(day)
        return { on: day.on, place: day.place, member, minutes, left: minutes, visits: [] }
      }),
    )
    .sort((a, b) => compareText(a.on, b.on) || compareText(a.place, b.place) || compareText(a.member, b.member))
  const left: { needs: VisitNeeds; why: Unplanned }[] = []
  for (const one of needs.toSorted(byRisk)) {
    const there = shifts.filter(shift => one.place !== null && placeKey(shift.place) === placeKey(one.place))
    const roomiest = there.reduce<OpenShift | undefined>(
      (best, shift) => (best === undefined || shift.left > best.left ? shift : best),
      undefined,
    )
    if (roomiest && roomiest.left >= one.minutes) {
      roomiest.left -= one.minutes
      roomiest.visits.push(one)
    } else left.push({ needs: one, why: whyLeft(one, there) })
  }
  return {
    shifts: shifts.map(({ left: spare, ...shift }) => ({ ...shift, usedMinutes: shift.minutes - spare })),
    left,
    inTwoPlaces: twice(shifts),
  }
}

const whyLeft = ({ place, minutes }: VisitNeeds, there: readonly OpenShift[]): Unplanned => {
  if (place === null) return 'place-unknown'
  if (there.length === 0) return 'place-not-on-trip'
  return there.some(shift => shift.minutes >= minutes) ? 'no-time-left' : 'longer-than-a-shift'
}

const twice = (shifts: readonly OpenShift[]): TripPlan['inTwoPlaces'] => {
  const seen = new Map<string, { on: CalendarDate; member: DeviceId; shifts: number }>()
  for (const { on, member } of shifts) {
    const key = `${on} ${member}`
    seen.set(key, { on, member, shifts: (seen.get(key)?.shifts ?? 0) + 1 })
  }
  return [...seen.values()].filter(one => one.shifts > 1).map(({ on, member }) => ({ on, member }))
}
