import type { CalendarDate } from '../../src/calendar-date.ts'
import type { Registration } from '../../src/doubles/registration.ts'
import { type CaseId, caseIdSchema } from '../../src/ids.ts'
import { hashedId } from './case-entries.ts'
import { seededRandom } from './seeded-random.ts'

const SYLLABLES = [
  'ba',
  'do',
  'ka',
  'li',
  'mo',
  'na',
  'pe',
  'ri',
  'sa',
  'tu',
  've',
  'zo',
  'am',
  'en',
  'il',
  'or',
  'shi',
  'gwe',
]
/** Cyrillic letters of the invented names, letter for letter: the same names as another registrar writes them. */
const CYRILLIC: Readonly<Record<string, string>> = {
  a: 'а',
  b: 'б',
  d: 'д',
  e: 'е',
  g: 'г',
  h: 'х',
  i: 'и',
  k: 'к',
  l: 'л',
  m: 'м',
  n: 'н',
  o: 'о',
  p: 'п',
  r: 'р',
  s: 'с',
  t: 'т',
  u: 'у',
  v: 'в',
  w: 'у',
  z: 'з',
}

export interface InventedPeople {
  readonly registrations: readonly Registration[]
  /** Case ids of those registered twice, as the maker knows. */
  readonly twice: readonly (readonly [CaseId, CaseId])[]
}

/**
 * Registered people, one in fifty of them twice with what really goes wrong: letters slipped, another script, a name left out, a
 * guessed year, a new telephone. Names follow Zipf's law: a few are borne by many.
 */
export const inventedPeople = (count: number, seed = 1): InventedPeople => {
  const random = seededRandom(seed)
  const below = (most: number): number => Math.floor(random() * most)
  const oneOf = <Value>(values: readonly Value[]): Value => values[below(values.length)] as Value
  const word = (): string => Array.from({ length: 2 + below(2) }, () => oneOf(SYLLABLES)).join('')
  const names = Array.from({ length: Math.max(40, Math.round(12 * Math.sqrt(count))) }, word)
  const places = Array.from({ length: 60 }, word)
  /** Rank r is drawn about as often as 1 / r. */
  const zipf = <Value>(values: readonly Value[]): Value =>
    values[Math.floor(values.length ** random()) - 1] ?? oneOf(values)
  const digits = (length: number): string => Array.from({ length }, () => below(10)).join('')

  const slipped = (text: string): string => {
    const at = 1 + below(text.length - 1)
    return oneOf([
      () => text.slice(0, at) + text.slice(at + 1),
      () => text.slice(0, at) + oneOf(['a', 'e', 'n', 's']) + text.slice(at),
      () => text.slice(0, at - 1) + (text[at] ?? '') + (text[at - 1] ?? '') + text.slice(at + 1),
    ])()
  }
  const inCyrillic = (text: string): string => [...text].map(letter => CYRILLIC[letter] ?? letter).join('')

  let made = 0
  const caseId = (): CaseId => {
    made += 1
    return caseIdSchema.parse(hashedId(`person ${seed} ${made}`))
  }
  const person = (): Registration => {
    const year = 1930 + below(95)
    const day =
      `${year}-${String(1 + below(12)).padStart(2, '0')}-${String(1 + below(28)).padStart(2, '0')}` as CalendarDate
    const dated = random() < 0.5
    return {
      caseId: caseId(),
      names: [`${zipf(names)} ${zipf(names)}${random() < 0.3 ? ` ${zipf(names)}` : ''}`],
      sexes: [oneOf(['male', 'female'])],
      birthDates: dated ? [day] : [],
      birthYears: dated ? [] : [year],
      places: [zipf(places)],
      households: random() < 0.4 ? [`${zipf(names)} ${below(40)}`] : [],
      telephones: random() < 0.6 ? [digits(9)] : [],
    }
  }
  const again = (first: Registration): Registration => {
    const [name = ''] = first.names
    const parts = name.split(' ')
    const changed = oneOf([
      () => parts.map((part, index) => (index === 0 ? slipped(part) : part)),
      () => parts.map(inCyrillic),
      () => parts.slice(0, 2).reverse(),
      () => parts,
    ])()
    const year = first.birthYears[0] ?? Number(first.birthDates[0]?.slice(0, 4))
    return {
      ...first,
      caseId: caseId(),
      names: [changed.join(' ')],
      birthDates: random() < 0.5 ? first.birthDates : [],
      birthYears: [random() < 0.7 ? year : year + 1 - below(3)],
      telephones: random() < 0.6 ? first.telephones.map(number => `+00 ${number}`) : random() < 0.5 ? [digits(9)] : [],
      households: random() < 0.7 ? first.households : [],
    }
  }

  const registrations: Registration[] = []
  const twice: (readonly [CaseId, CaseId])[] = []
  while (registrations.length < count) {
    const one = person()
    registrations.push(one)
    if (random() < 0.02 && registrations.length < count) {
      const other = again(one)
      registrations.push(other)
      twice.push([one.caseId, other.caseId])
    }
  }
  return { registrations, twice }
}
