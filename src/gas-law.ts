/**
 * International Standard Atmosphere (ISO 2533; US Standard Atmosphere 1976), troposphere, geopotential altitude.
 * Weather moves the real value by about +-3 kPa (from memory), well inside the error of a tyre gauge.
 */
const SEA_LEVEL_PA = 101_325
const SEA_LEVEL_K = 288.15
const LAPSE_K_PER_M = 0.0065
const PRESSURE_EXPONENT = 5.255876
const ZERO_CELSIUS_K = 273.15

/** Outside air pressure in kPa at an altitude in m of the standard atmosphere. Good for -450 to 11 000 m. */
export const outsidePressureKPa = (altitudeM: number): number =>
  (SEA_LEVEL_PA * (1 - (LAPSE_K_PER_M * altitudeM) / SEA_LEVEL_K) ** PRESSURE_EXPONENT) / 1000

export interface PressureMove {
  readonly gaugeKPa: number
  readonly fromCelsius: number
  readonly toCelsius: number
  readonly fromAltitudeM: number
  readonly toAltitudeM: number
}

/**
 * What a gauge shows in kPa when the same air in the same tyre meets another temperature and altitude: gas law at constant
 * volume, p2 = (p1 + outside1) T2 / T1 - outside2, kelvin and absolute pressures. That the tyre gives a little (some per
 * cent of volume, from memory) is left out. Negative: the tyre would be softer than the air around it, that is flat.
 */
export const gaugePressureKPa = (move: PressureMove): number =>
  ((move.gaugeKPa + outsidePressureKPa(move.fromAltitudeM)) * (move.toCelsius + ZERO_CELSIUS_K)) /
    (move.fromCelsius + ZERO_CELSIUS_K) -
  outsidePressureKPa(move.toAltitudeM)
