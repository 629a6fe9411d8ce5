import type { Doubt } from '../reason.ts'
import { roundTo } from '../units.ts'
import { type Expectation, expectedHips, type Who } from './expected-body.ts'
import { distanceSd, judge, likeliest, rangeFacts, SLIP_SD } from './judge.ts'
import type { Person } from './person.ts'
import { isPossible } from './possible-ranges.ts'
import { lengthSlips, massSlips, type Slip } from './slips.ts'

/** Body mass index in kg/m2. Outside the first pair unlikely by itself, outside the second where a slip explains it (project values). */
const BMI_LIMITS = [8, 70] as const
const BMI_USUAL = [12, 50] as const
/** Middle of the usual index and of mass, by which the likeliest of several slips is chosen (project values). */
const BMI_MIDDLE = 23
const MASS_MIDDLE_KG = 55

/** What is known beside the mass: hip width if it can be one, and stature if it is trusted. */
interface Beside {
  readonly person: Person
  readonly who: Who
  readonly statureMm: number | undefined
}

const hipsAt = ({ person, who, statureMm }: Beside, massKg: number): readonly Expectation[] =>
  expectedHips({ ...person, massKg }, who, statureMm)

const fitsHip = (beside: Beside, massKg: number): boolean => {
  const { hipWidthMm } = beside.person
  if (hipWidthMm === undefined || !isPossible('hipWidthMm', hipWidthMm)) return true
  const expectations = hipsAt(beside, massKg)
  return expectations.length === 0 || distanceSd(hipWidthMm, expectations) <= SLIP_SD
}

const bmiOf = (massKg: number, statureMm: number): number => massKg / (statureMm / 1000) ** 2

const fitsStature = ({ statureMm }: Beside, massKg: number, [least, most]: readonly [number, number]): boolean => {
  if (statureMm === undefined) return true
  const bmi = bmiOf(massKg, statureMm)
  return bmi >= least && bmi <= most
}

/** Mass against what is possible, against stature, and against hip width where a slip of it would explain the misfit. */
const massDoubt = (beside: Beside): Doubt | undefined => {
  const { person, statureMm } = beside
  const { massKg, hipWidthMm } = person
  if (massKg === undefined) return undefined
  const setAside = !isPossible('massKg', massKg)
  const fits = (kg: number): boolean => fitsStature(beside, kg, BMI_USUAL) && fitsHip(beside, kg)
  if (!setAside && fits(massKg)) return undefined

  const middleKg = statureMm === undefined ? MASS_MIDDLE_KG : BMI_MIDDLE * (statureMm / 1000) ** 2
  const misfit = (kg: number): number => Math.abs(Math.log(kg / middleKg))
  // Digits that were swapped in one of two weighings do not show in their difference; another unit of the scale does.
  const inUnits = person.weighedWith === undefined ? () => true : ({ key }: Slip) => key.includes('pounds')
  const possible = massSlips(massKg).filter(slip => isPossible('massKg', slip.wouldBe) && inUnits(slip))
  const landing = possible.filter(({ wouldBe }) => fits(wouldBe))
  const slip = likeliest(landing, misfit) ?? (setAside ? likeliest(possible, misfit) : undefined)
  if (!slip && !setAside && fitsStature(beside, massKg, BMI_LIMITS)) return undefined
  return {
    field: 'massKg',
    value: massKg,
    likely: slip?.key ?? (setAside ? 'not-possible' : 'unlikely'),
    ...(slip ? { wouldBe: slip.wouldBe } : {}),
    reason: {
      rule: setAside ? 'possible-range' : 'mass-against-body',
      inputs: {
        massKg,
        ...(setAside ? rangeFacts('massKg') : {}),
        ...(statureMm === undefined ? {} : { statureMm, bodyMassIndex: roundTo(bmiOf(massKg, statureMm), 1) }),
        ...(hipWidthMm === undefined ? {} : { hipWidthMm }),
      },
      source: 'project-value',
    },
    setAside,
  }
}

/** What a chair on a scale, and an adult who can hold a child, weigh: outside it the two weighings are looked at (project value). */
const WEIGHED_WITH_KG = { chair: [5, 60], adult: [35, 150] } as const

/** What was weighed along and taken off again: a slip in it is a slip in the person's own mass. */
const weighedWithDoubt = ({ weighedWith, massKg }: Person): Doubt | undefined => {
  if (weighedWith === undefined) return undefined
  const { what, massKg: alongKg } = weighedWith
  const [least, most] = WEIGHED_WITH_KG[what]
  if (alongKg >= least && alongKg <= most) return undefined
  return {
    field: 'massKg',
    value: alongKg,
    likely: what === 'chair' ? 'chair-alone-unlikely' : 'adult-alone-unlikely',
    reason: {
      rule: 'weighed-with',
      inputs: { ...(massKg === undefined ? {} : { massKg }), alongKg, least, most },
      source: 'project-value',
    },
    setAside: false,
  }
}

/** Mass and hip width against each other and against stature. A slip may lie on either side: each that fits is named. */
export const massAndHipDoubts = (person: Person, who: Who, statureMm: number | undefined): readonly Doubt[] => {
  const beside = { person, who, statureMm }
  const mass = massDoubt(beside) ?? weighedWithDoubt(person)
  const { hipWidthMm, massKg } = person
  if (hipWidthMm === undefined) return mass ? [mass] : []
  const massUsed = massKg !== undefined && !mass?.setAside
  const hip = judge(
    'hipWidthMm',
    hipWidthMm,
    massUsed ? hipsAt(beside, massKg) : [],
    lengthSlips,
    massUsed ? { massKg } : {},
  )
  // A hip that is odd only because of a mass with a slip of its own is not questioned as well.
  const massExplains = mass?.wouldBe !== undefined && hip?.likely === 'unlikely'
  return [...(mass ? [mass] : []), ...(hip && !massExplains ? [hip] : [])]
}
