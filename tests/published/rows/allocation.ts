import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { type AllocationProblem, allocate } from '../../../src/trip/allocate.ts'
import type { PublishedRow } from './row.ts'

type Matrix = readonly (readonly number[])[]

/** One piece of each column; to be left out costs more than anything else together. */
const assigned = (costs: Matrix): number => {
  const problem: AllocationProblem = {
    costs,
    pieces: (costs[0] ?? []).map(() => 1),
    leftOutCosts: costs.map(() => 1e9),
  }
  return allocate(problem).totalCost
}
/** The greatest sum is the least sum of what is missing to a number above all. */
const greatest = (values: Matrix, above: number): number =>
  values.length * above - assigned(values.map(row => row.map(value => above - value)))

const table = (text: string): Matrix =>
  text
    .trim()
    .split('\n')
    .map(line => line.trim().split(/\s+/).map(Number))

const FIVE = table(`
    7  53 183 439 863
  497 383 563  79 973
  287  63 343 169 583
  627 343 773 959 943
  767 473 103 699 303`)
const FIFTEEN = table(`
    7  53 183 439 863 497 383 563  79 973 287  63 343 169 583
  627 343 773 959 943 767 473 103 699 303 957 703 583 639 913
  447 283 463  29  23 487 463 993 119 883 327 493 423 159 743
  217 623   3 399 853 407 103 983  89 463 290 516 212 462 350
  960 376 682 962 300 780 486 502 912 800 250 346 172 812 350
  870 456 192 162 593 473 915  45 989 873 823 965 425 329 803
  973 965 905 919 133 673 665 235 509 613 673 815 165 992 326
  322 148 972 962 286 255 941 541 265 323 925 281 601  95 973
  445 721  11 525 473  65 511 164 138 672  18 428 154 448 848
  414 456 310 312 798 104 566 520 302 248 694 976 430 392 198
  184 829 373 181 631 101 969 613 840 740 778 458 284 760 390
  821 461 843 513  17 901 711 993 293 157 274  94 192 156 574
   34 124   4 878 450 476 712 914 838 669 875 299 823 329 699
  815 559 813 459 522 788 168 586 966 232 308 833 251 631 107
  813 883 451 509 615  77 281 613 459 205 380 274 302  35 805`)

/** The whole instance, row by row; its numbers add up to 509,632. */
const HUNDRED = table(readFileSync(fileURLToPath(new URL('../or-library-assign100.txt', import.meta.url)), 'utf8'))

/** Machol and Wien's hard problem: i times j. By the rearrangement inequality the least sum is n (n + 1) (n + 2) / 6. */
const machol = (n: number): Matrix =>
  Array.from({ length: n }, (_, row) => Array.from({ length: n }, (__, column) => (row + 1) * (column + 1)))

/** Linear congruential numbers of Park and Miller (Comm ACM 1988): anybody can make the same matrices. */
const parkMiller = (seed: number) => {
  let state = seed
  return (): number => {
    state = (state * 48_271) % 2_147_483_647
    return state / 2_147_483_647
  }
}

const SCALE = 1e9
/** Mean least sum of `count` matrices of exponential costs of mean 1. */
const meanOfRandom = (rows: number, columns: number, count: number, seed: number): number => {
  const random = parkMiller(seed)
  let sum = 0
  for (let one = 0; one < count; one += 1) {
    const costs = Array.from({ length: rows }, () =>
      Array.from({ length: columns }, () => Math.round(-Math.log(random()) * SCALE)),
    )
    sum += allocate({
      costs,
      pieces: Array.from({ length: columns }, () => 1),
      leftOutCosts: costs.map(() => 1e14),
    }).totalCost
  }
  return sum / count / SCALE
}

const exact = { tolerance: 0, unit: 'cost', rule: 'least assignment' } as const
const SCIPY = 'SciPy 1.10, tests of linear_sum_assignment (the matrices of B. M. Clapper, munkres.py)'
const OR_LIBRARY =
  'Beasley JE. OR-Library: distributing test problems by electronic mail. J Oper Res Soc 1990;41:1069-72, assign100'
const EULER = 'Project Euler, problem 345 “Matrix sum”'
const MACHOL = 'Machol RE, Wien M. A hard assignment problem. Operations Research 1976;24:190-2'
const RANDOM =
  'Linusson S, Wästlund J. A proof of Parisi’s conjecture on the random assignment problem. Probab Theory Relat Fields 2004;128:419-40'

/** The proved mean for k = rows of a rows x columns matrix: the sum of 1/((rows - i)(columns - j)) over i + j < rows. */
const meanByProof = (rows: number, columns: number): number => {
  let sum = 0
  for (let i = 0; i < rows; i += 1) for (let j = 0; i + j < rows; j += 1) sum += 1 / ((rows - i) * (columns - j))
  return sum
}
/** Tolerances: four standard deviations of the mean, by SciPy over other random matrices of the same sizes. */
const RANDOM_SIZES = [
  { rows: 20, columns: 20, count: 400, tolerance: 0.057 },
  { rows: 10, columns: 40, count: 400, tolerance: 0.0173 },
  { rows: 60, columns: 60, count: 60, tolerance: 0.091 },
] as const

export const ALLOCATION_ROWS: readonly PublishedRow[] = [
  {
    ...exact,
    source: SCIPY,
    standing: 'computed',
    what: 'square 3 x 3',
    expected: 850,
    actual: () =>
      assigned([
        [400, 150, 400],
        [400, 450, 600],
        [300, 225, 300],
      ]),
  },
  {
    ...exact,
    source: SCIPY,
    standing: 'computed',
    what: 'rectangular 3 x 4',
    expected: 452,
    actual: () =>
      assigned([
        [400, 150, 400, 1],
        [400, 450, 600, 2],
        [300, 225, 300, 3],
      ]),
  },
  {
    ...exact,
    source: SCIPY,
    standing: 'computed',
    what: 'square 3 x 3 with equals',
    expected: 18,
    actual: () =>
      assigned([
        [10, 10, 8],
        [9, 8, 1],
        [9, 7, 4],
      ]),
  },
  {
    ...exact,
    source: SCIPY,
    standing: 'computed',
    what: 'rectangular 3 x 4 with equals',
    expected: 15,
    actual: () =>
      assigned([
        [10, 10, 8, 11],
        [9, 8, 1, 1],
        [9, 7, 4, 10],
      ]),
  },
  {
    ...exact,
    source: SCIPY,
    standing: 'computed',
    what: 'forbidden pairs',
    expected: 18,
    actual: () =>
      assigned([
        [10, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY],
        [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, 1],
        [Number.POSITIVE_INFINITY, 7, Number.POSITIVE_INFINITY],
      ]),
  },
  {
    ...exact,
    source: OR_LIBRARY,
    standing: 'read',
    what: '100 x 100',
    expected: 305,
    actual: () => assigned(HUNDRED),
  },
  {
    ...exact,
    source: EULER,
    standing: 'read',
    what: 'greatest sum, 5 x 5',
    expected: 3315,
    actual: () => greatest(FIVE, 1000),
  },
  {
    ...exact,
    source: EULER,
    standing: 'from memory',
    what: 'greatest sum, 15 x 15',
    expected: 13_938,
    actual: () => greatest(FIFTEEN, 1000),
  },
  ...[10, 100, 300].map(
    (n): PublishedRow => ({
      ...exact,
      source: MACHOL,
      standing: 'from memory',
      what: `i times j, ${n} x ${n}`,
      expected: (n * (n + 1) * (n + 2)) / 6,
      actual: () => assigned(machol(n)),
    }),
  ),
  ...RANDOM_SIZES.map(
    ({ rows, columns, count, tolerance }): PublishedRow => ({
      rule: 'mean least assignment',
      source: RANDOM,
      standing: 'derived',
      what: `mean of ${count} random matrices, ${rows} x ${columns}`,
      expected: meanByProof(rows, columns),
      actual: () => meanOfRandom(rows, columns, count, 1988),
      tolerance,
      unit: 'cost',
    }),
  ),
]
