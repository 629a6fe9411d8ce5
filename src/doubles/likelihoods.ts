/**
 * How often fields agree, by how: `m` within two registrations of one person, `u` between two people, where it is not
 * counted in the casebook itself. Project values, OURS, until a casebook with many settled doubles gives better ones; the
 * weights are shown beside each pair, and people decide.
 */
export const LIKELIHOODS = {
  /** For each word of the shorter name. How often by chance is counted: a name that many bear says little. */
  word: { same: 0.65, sound: 0.1, close: 0.1, none: 0.15 },
  /** Both days of birth known and neither a 1 January, which stands for "that year" where nobody knows the day. */
  birthByDay: {
    'same-day': { m: 0.75, u: 0.00005 },
    'same-year': { m: 0.1 },
    'years-apart': { m: 0.08, u: 0.08 },
    different: { m: 0.07, u: 0.9 },
  },
  birthByYear: {
    'same-year': { m: 0.65 },
    'years-apart': { m: 0.25, u: 0.08 },
    different: { m: 0.1, u: 0.9 },
  },
  sex: { m: 0.99, u: 0.5 },
  place: { m: 0.8 },
  household: { m: 0.5 },
  telephone: { m: 0.5 },
} as const

/** Guessed years lie this close. */
export const YEARS_APART = 2

/** Words spelled nearly alike (Jaro-Winkler); shorter words are too short to tell. Project values. */
export const CLOSE_SIMILARITY = 0.85
export const LEAST_LETTERS_CLOSE = 4
/** Consonants from which a sound says something. */
export const LEAST_SOUNDS = 2

/** Share of people who bear any one of these, before a casebook has shown its own. */
const TYPICAL_SHARE = { word: 0.002, year: 0.02, place: 0.05, household: 0.001, telephone: 0.0005 } as const
export type Borne = keyof typeof TYPICAL_SHARE
/** The casebook's own counts weigh as much as the typical share at this many people. */
const PEOPLE_TO_TRUST = 500

/** Share of people of whom something is true: counted in the casebook, drawn to the typical share in a small one. */
export const shareOf = (what: Borne, people: number, among: number): number =>
  Math.min(1, (people + PEOPLE_TO_TRUST * TYPICAL_SHARE[what]) / (among + PEOPLE_TO_TRUST))

/** One person in fifty is registered a second time; in a small casebook no two people are more likely than in a larger one. */
const SHARE_REGISTERED_TWICE = 0.02
const LEAST_PEOPLE = 1000
export const priorOddsAmong = (people: number): number => SHARE_REGISTERED_TWICE / Math.max(people - 1, LEAST_PEOPLE)

/** From here a pair is shown, and from here it is likely. */
export const POSSIBLE_FROM = 0.1
export const LIKELY_FROM = 0.9
