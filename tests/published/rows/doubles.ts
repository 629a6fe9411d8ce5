import { jaro, jaroWinkler } from '../../../src/doubles/jaro-winkler.ts'
import { matchWeight, mismatchWeight } from '../../../src/doubles/match-weight.ts'
import type { PublishedRow } from './row.ts'

const COMPARATORS =
  'Winkler WE. Advanced methods for record linkage. US Bureau of the Census, Statistical Research Report RR94/05, 1994, table 2.1 (as reprinted in two independent test suites)'

/**
 * The pairs of the table, Jaro's and Winkler's value. Left out: JON and JAN, 1ST and IST, which it prints as 0 where the formula
 * gives 0.778 and 0.778; Winkler's value of MASSEY and DWAYNE (null), where it takes more than 0.1 for each first letter.
 */
const PAIRS: readonly (readonly [string, string, number, number | null])[] = [
  ['SHACKLEFORD', 'SHACKELFORD', 0.97, 0.982],
  ['DUNNINGHAM', 'CUNNIGHAM', 0.896, 0.896],
  ['NICHLESON', 'NICHULSON', 0.926, 0.956],
  ['JONES', 'JOHNSON', 0.79, 0.832],
  ['MASSEY', 'MASSIE', 0.889, null],
  ['ABROMS', 'ABRAMS', 0.889, 0.922],
  ['HARDIN', 'MARTINEZ', 0.722, 0.722],
  ['ITMAN', 'SMITH', 0.467, 0.467],
  ['JERALDINE', 'GERALDINE', 0.926, 0.926],
  ['MARHTA', 'MARTHA', 0.944, 0.961],
  ['MICHELLE', 'MICHAEL', 0.869, 0.921],
  ['JULIES', 'JULIUS', 0.889, 0.933],
  ['TANYA', 'TONYA', 0.867, 0.88],
  ['DWAYNE', 'DUANE', 0.822, null],
  ['SEAN', 'SUSAN', 0.783, 0.805],
  ['JON', 'JOHN', 0.917, 0.933],
  ['BROOKHAVEN', 'BRROKHAVEN', 0.933, 0.947],
  ['BROOK HALLOW', 'BROOK HLLW', 0.944, 0.967],
  ['DECATUR', 'DECATIR', 0.905, 0.943],
  ['FITZRUREITER', 'FITZENREITER', 0.856, 0.913],
  ['HIGBEE', 'HIGHEE', 0.889, 0.922],
  ['HIGBEE', 'HIGVEE', 0.889, 0.922],
  ['LACURA', 'LOCURA', 0.889, 0.9],
  ['IOWA', 'IONA', 0.833, 0.867],
]

const nameRow = (
  rule: string,
  pair: readonly [string, string],
  expected: number,
  similarity: typeof jaro,
): PublishedRow => ({
  rule,
  source: COMPARATORS,
  standing: 'read',
  what: `${pair[0]} and ${pair[1]} are ${expected} alike`,
  expected,
  actual: () => similarity(...pair),
  // Three places are printed.
  tolerance: 0.0005,
  unit: 'of 1',
})

const LINKAGE =
  'Fellegi and Sunter 1969, log2(m / u) and log2((1 - m) / (1 - u)), as worked in a manual of a match engine, 2008, table 37, from m and u'

/** m, u, weight of an agreement, weight of a disagreement as printed. */
const WEIGHTS: readonly (readonly [string, number, number, number, number])[] = [
  ['a first name', 0.996, 0.004, 7.96, -7.96],
  ['a date of birth', 0.97, 0.007, 7.11, -5.04],
  ['a sex', 0.97, 0.03, 5.01, -5.01],
  ['a number of one person alone', 0.999, 0.001, 9.96, -9.96],
]

const weightRow = (what: string, expected: number, actual: () => number): PublishedRow => ({
  rule: 'match weight',
  source: LINKAGE,
  standing: 'read',
  what,
  expected,
  actual,
  // Two places are printed, some of them cut off rather than rounded.
  tolerance: 0.01,
  unit: 'bits',
})

export const NAME_ROWS: readonly PublishedRow[] = PAIRS.flatMap(([first, second, plain, raised]) => [
  nameRow('jaro similarity', [first, second], plain, jaro),
  ...(raised === null ? [] : [nameRow('jaro-winkler similarity', [first, second], raised, jaroWinkler)]),
])

export const WEIGHT_ROWS: readonly PublishedRow[] = WEIGHTS.flatMap(([what, m, u, agree, differ]) => [
  weightRow(`agreement of ${what} (m ${m}, u ${u})`, agree, () => matchWeight(m, u)),
  weightRow(`disagreement of ${what} (m ${m}, u ${u})`, differ, () => mismatchWeight(m, u)),
])
