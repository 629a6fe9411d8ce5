import type { Ground } from '../body/person.ts'
import type { ChairModel } from '../chair/chair-model.ts'
import { gaugePressureKPa } from '../gas-law.ts'
import type { Formula, SumInputs, WorkedReason } from '../sum.ts'
import { KPA_PER_BAR, KPA_PER_PSI, roundTo } from '../units.ts'

type Tyre = ChairModel['tyres']['rear']
/** What the sidewall prints, gauge kPa. */
export type SidewallRange = Exclude<Tyre, 'solid'>

/** Common practice, no source: pneumatic tyres for rough ground are run at 45 to 55 psi. */
export const ROUGH_GROUND_KPA = { least: 310, most: 380 } as const

/** Pressures to aim for, gauge kPa, always inside the sidewall's range. */
export type TyrePressure =
  | { readonly type: 'solid' }
  | {
      readonly type: 'pneumatic'
      readonly targetKPa: number
      readonly leastKPa: number
      readonly mostKPa: number
      /** True when the sidewall leaves no part of the usual band for this ground: its nearest end is taken. */
      readonly sidewallDecides: boolean
      readonly reason: WorkedReason
    }

/** Softer on rough ground, harder on smooth: thirds of the sidewall's range (project value) but for the rough band. */
const usualBand = (sidewall: SidewallRange, ground: Ground): readonly [number, number] => {
  const third = (sidewall.maxKPa - sidewall.minKPa) / 3
  if (ground === 'rough') return [ROUGH_GROUND_KPA.least, ROUGH_GROUND_KPA.most]
  if (ground === 'mixed') return [sidewall.minKPa + third, sidewall.maxKPa - third]
  return [sidewall.maxKPa - third, sidewall.maxKPa]
}

const CUT_TO_SIDEWALL: readonly Formula[] = [
  'leastKPa = min(sidewallMostKPa, max(sidewallLeastKPa, usualLeastKPa))',
  'mostKPa = min(sidewallMostKPa, max(sidewallLeastKPa, usualMostKPa))',
  'targetKPa = (leastKPa + mostKPa) / 2',
]
const SUMS: Readonly<Record<Ground, readonly Formula[]>> = {
  rough: CUT_TO_SIDEWALL,
  mixed: [
    'usualLeastKPa = sidewallLeastKPa + (sidewallMostKPa - sidewallLeastKPa) / 3',
    'usualMostKPa = sidewallMostKPa - (sidewallMostKPa - sidewallLeastKPa) / 3',
    ...CUT_TO_SIDEWALL,
  ],
  smooth: [
    'usualLeastKPa = sidewallMostKPa - (sidewallMostKPa - sidewallLeastKPa) / 3',
    'usualMostKPa = sidewallMostKPa',
    ...CUT_TO_SIDEWALL,
  ],
}

/** The pressure to aim for on a ground: the middle of the usual band as far as the sidewall allows it. Sidewall wins. */
export const pressureFor = (tyre: Tyre, ground: Ground): TyrePressure => {
  if (tyre === 'solid') return { type: 'solid' }
  const [least, most] = usualBand(tyre, ground)
  const within = (kPa: number): number => Math.min(tyre.maxKPa, Math.max(tyre.minKPa, kPa))
  const leastKPa = within(least)
  const mostKPa = within(most)
  const targetKPa = (leastKPa + mostKPa) / 2
  const inputs: SumInputs = {
    ground,
    sidewallLeastKPa: tyre.minKPa,
    sidewallMostKPa: tyre.maxKPa,
    usualLeastKPa: roundTo(least, 1),
    usualMostKPa: roundTo(most, 1),
    leastKPa: roundTo(leastKPa, 1),
    mostKPa: roundTo(mostKPa, 1),
    targetKPa: roundTo(targetKPa, 1),
  }
  return {
    type: 'pneumatic',
    targetKPa,
    leastKPa,
    mostKPa,
    sidewallDecides: least > tyre.maxKPa || most < tyre.minKPa,
    reason: {
      rule: 'tyre-pressure',
      inputs,
      source: ground === 'rough' ? 'common-practice' : 'project-value',
      sum: SUMS[ground],
    },
  }
}

/** Where and how warm a tyre is. Altitude in m of the standard atmosphere. */
export interface AirState {
  readonly celsius: number
  readonly altitudeM: number
}

/** What a gauge will show `there` if it showed `gaugeKPa` `here` and no air was lost: gas law at constant volume. */
export const pressureAfterMove = (gaugeKPa: number, here: AirState, there: AirState): number =>
  gaugePressureKPa({
    gaugeKPa,
    fromCelsius: here.celsius,
    toCelsius: there.celsius,
    fromAltitudeM: here.altitudeM,
    toAltitudeM: there.altitudeM,
  })

export interface FillPressure {
  /** What the gauge shall show here, now. */
  readonly hereKPa: number
  /** What it will then show where the chair is used. */
  readonly thereKPa: number
  /** Which end of the sidewall's range kept the target from being reached there. */
  readonly limitedBy: 'nothing' | 'sidewall-here' | 'sidewall-there'
}

/**
 * What to pump to here, so that the tyre stands at `targetKPa` where it will be used: cold morning to hot noon, valley
 * to pass. Never above the sidewall's upper limit here or there; where both can be met, not below its lower limit here.
 */
export const fillPressure = (
  sidewall: SidewallRange,
  targetKPa: number,
  here: AirState,
  there: AirState,
): FillPressure => {
  const wantedKPa = pressureAfterMove(targetKPa, there, here)
  const mostHereKPa = Math.max(0, Math.min(sidewall.maxKPa, pressureAfterMove(sidewall.maxKPa, there, here)))
  const hereKPa = Math.min(mostHereKPa, Math.max(sidewall.minKPa, wantedKPa))
  const limit = hereKPa === mostHereKPa && mostHereKPa < sidewall.maxKPa ? 'sidewall-there' : 'sidewall-here'
  return {
    hereKPa,
    thereKPa: pressureAfterMove(hereKPa, here, there),
    limitedBy: hereKPa === wantedKPa ? 'nothing' : limit,
  }
}

/** Whether a reading lies within the range to aim for: `soft` rolls hard and pinches, `hard` shakes and may burst. */
export const judgePressure = (
  foundKPa: number,
  range: { readonly leastKPa: number; readonly mostKPa: number },
): 'soft' | 'right' | 'hard' => (foundKPa < range.leastKPa ? 'soft' : foundKPa > range.mostKPa ? 'hard' : 'right')

/** One pressure in the three units that gauges show: whole kPa, tenths of a bar, whole psi. */
export const pressureTexts = (
  gaugeKPa: number,
): { readonly kPa: string; readonly bar: string; readonly psi: string } => ({
  kPa: `${roundTo(gaugeKPa, 0)} kPa`,
  bar: `${roundTo(gaugeKPa / KPA_PER_BAR, 1).toFixed(1)} bar`,
  psi: `${roundTo(gaugeKPa / KPA_PER_PSI, 0)} psi`,
})
