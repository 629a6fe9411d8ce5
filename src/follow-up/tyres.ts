import { addDays, addMonths, type CalendarDate, daysBetween } from '../calendar-date.ts'
import type { ChairModel } from '../chair/chair-model.ts'
import { gaugePressureKPa } from '../gas-law.ts'
import type { Formula, SumInputs } from '../sum.ts'
import { roundTo } from '../units.ts'
import type { DueDraft } from './due.ts'
import type { Facts } from './facts.ts'

type Reading = Facts['tyreReading'][number]
export type Tyre = Reading['tyre']
export const TYRES: readonly Tyre[] = ['rear-left', 'rear-right', 'caster-left', 'caster-right']

/** Two readings nearer than this say little about a slow loss. Project value. */
const LEAST_DAYS = 7
/** Putting a gauge on loses air by itself: a smaller drop is no measured loss. Project value. */
const LEAST_DROP_KPA = 20
/** Reading error of a hand gauge. Project value. */
const GAUGE_ERROR_KPA = 10
/** However slow the loss, the technician's half-yearly check puts a gauge on. Common practice, no source. */
const LONGEST_MONTHS = 6

/** Loss of air of one tyre between two visits: p(t) = left e^(-k t), k in 1/day, with the ends that the reading error allows. */
export interface AirLoss {
  readonly perDay: number
  readonly slowestPerDay: number
  /** Infinite when the error allows for a tyre that was flat. */
  readonly fastestPerDay: number
  readonly days: number
  readonly leftKPa: number
  /** Found pressure as it would show at the temperature and altitude of the filling. */
  readonly foundKPa: number
}

const lossPerDay = (leftKPa: number, foundKPa: number, days: number): number =>
  foundKPa <= 0 ? Number.POSITIVE_INFINITY : Math.log(leftKPa / foundKPa) / days

/**
 * k = ln(left / found) / days, found brought to the temperature and altitude of the filling first. Undefined when the
 * pair says nothing: under 7 days, a drop under 20 kPa, a puncture, or a tyre found flat.
 */
export const airLossBetween = (filled: Reading, later: Reading): AirLoss | undefined => {
  const { leftKPa } = filled
  const days = daysBetween(filled.on, later.on)
  if (leftKPa === undefined || later.foundKPa === undefined || later.puncture || days < LEAST_DAYS) return undefined
  const asAtFilling = gaugePressureKPa({
    gaugeKPa: later.foundKPa,
    fromCelsius: later.celsius,
    toCelsius: filled.celsius,
    fromAltitudeM: later.altitudeM,
    toAltitudeM: filled.altitudeM,
  })
  // Without its binary tail, so that a drop of exactly 20 kPa is one.
  const foundKPa = roundTo(asAtFilling, 6)
  if (foundKPa <= 0 || leftKPa - foundKPa < LEAST_DROP_KPA) return undefined
  return {
    perDay: lossPerDay(leftKPa, foundKPa, days),
    slowestPerDay: lossPerDay(leftKPa, foundKPa + GAUGE_ERROR_KPA, days),
    fastestPerDay: lossPerDay(leftKPa, foundKPa - GAUGE_ERROR_KPA, days),
    days,
    leftKPa,
    foundKPa,
  }
}

/** Whole days until a tyre filled to `leftKPa` is down to `minKPa`: floor(ln(left / min) / k). 0 when it is there already. */
export const daysToMinimum = (leftKPa: number, minKPa: number, perDay: number): number =>
  leftKPa <= minKPa ? 0 : Math.floor(Math.log(leftKPa / minKPa) / perDay)

const minimumKPa = (tyre: Tyre, model: ChairModel): number | undefined => {
  const tyres = tyre === 'rear-left' || tyre === 'rear-right' ? model.tyres.rear : model.tyres.caster
  return tyres === 'solid' ? undefined : tyres.minKPa
}

/** Readings of one tyre, a day's lowest filling last: of two records of one filling the cautious one counts. */
const inOrder = (readings: readonly Reading[], tyre: Tyre): readonly Reading[] =>
  readings
    .filter(reading => reading.tyre === tyre)
    .toSorted(
      (a, b) =>
        daysBetween(b.on, a.on) ||
        (b.leftKPa ?? Number.POSITIVE_INFINITY) - (a.leftKPa ?? Number.POSITIVE_INFINITY) ||
        (b.foundKPa ?? Number.POSITIVE_INFINITY) - (a.foundKPa ?? Number.POSITIVE_INFINITY),
    )

const LOSS_SUM: readonly Formula[] = ['lossPerDay = ln(lossLeftKPa / foundKPa) / lossDays']
const LASTS_SUM: readonly Formula[] = [
  ...LOSS_SUM,
  'lastsDays = floor(ln(leftKPa / minKPa) / (ln(lossLeftKPa / foundKPa) / lossDays))',
]

/**
 * The day on which a tyre comes down to its least pressure, from the last loss measured on it and its last filling.
 * Readings before `since` belong to another chair. Undefined where nothing was measured: then the weekly check at home
 * stands (common practice).
 */
export const tyreDueOf = (
  tyre: Tyre,
  readings: readonly Reading[],
  model: ChairModel,
  since: CalendarDate | undefined,
): DueDraft | undefined => {
  const minKPa = minimumKPa(tyre, model)
  if (minKPa === undefined) return undefined
  const ordered = inOrder(readings, tyre).filter(reading => since === undefined || reading.on >= since)
  const filling = ordered.findLast(reading => reading.leftKPa !== undefined)
  const losses = ordered.flatMap((reading, index) => {
    const before = ordered[index - 1]
    return (before && airLossBetween(before, reading)) ?? []
  })
  const loss = losses.at(-1)
  if (!loss || filling?.leftKPa === undefined) return undefined
  const { leftKPa, on } = filling
  const cap = addMonths(on, LONGEST_MONTHS)
  const dayAt = (perDay: number): CalendarDate => {
    const days = daysToMinimum(leftKPa, minKPa, perDay)
    return days >= daysBetween(on, cap) ? cap : addDays(on, days)
  }
  const inputs: SumInputs = {
    foundKPa: roundTo(loss.foundKPa, 1),
    lossLeftKPa: loss.leftKPa,
    lossDays: loss.days,
    lossPerDay: roundTo(loss.perDay, 6),
    filledOn: on,
    leftKPa,
    minKPa,
    gaugeErrorKPa: GAUGE_ERROR_KPA,
    lastsDays: daysToMinimum(leftKPa, minKPa, loss.perDay),
    atMostMonths: LONGEST_MONTHS,
  }
  return {
    kind: 'tyre',
    about: tyre,
    anchor: on,
    date: dayAt(loss.perDay),
    window: { from: dayAt(loss.fastestPerDay), to: dayAt(loss.slowestPerDay) },
    rule: 'tyre-down-to-least-pressure',
    inputs,
    source: 'gas-law',
    sum: leftKPa <= minKPa ? LOSS_SUM : LASTS_SUM,
  }
}
