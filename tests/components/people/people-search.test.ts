import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { PeopleSearch } from '../../../components/people/people-search.ts'
import { type CaseId, caseIdSchema } from '../../../src/ids.ts'
import { slipsBetween, soundOf, wordsOf } from '../../../src/name-folding.ts'
import { runs } from '../../support/seed.ts'

const caseIdAt = (index: number): CaseId => caseIdSchema.parse(`${String(index).padStart(21, '0')}A`)

const searchIn = (...names: readonly (string | readonly [name: string, place: string, others?: string])[]) => {
  const people = names.map((one, index) => {
    const [name, place = null, otherNames = null] = typeof one === 'string' ? [one] : one
    return { caseId: caseIdAt(index), name, place, otherNames }
  })
  const search = new PeopleSearch(people)
  return (query: string): readonly (string | null)[] | null =>
    search.find(query)?.map(caseId => people.find(person => person.caseId === caseId)?.name ?? null) ?? null
}

/** Given names in the spellings that are in daily use, in three scripts: general knowledge, from memory. */
const SAME_NAME: readonly (readonly string[])[] = [
  ['Muhammad', 'Mohamed', 'Mohammed', 'محمد', 'مُحَمَّد'],
  ['Yusuf', 'Youssef', 'يوسف', 'Юсуф'],
  ['Amina', 'Aminah', 'أمينة', 'امينة', 'Амина'],
  ['Fatima', 'Fatimah', 'فاطمة', 'Фатима'],
  ['Hassan', 'Hasan', 'حسن'],
  ['Stephan', 'Stefan', 'Стефан'],
  ['Khadija', 'Khadijah', 'خديجة'],
  ['José', 'Jose', 'JOSÉ'],
]

describe('the search for people', () => {
  it.each(SAME_NAME)('finds %s by each of its other spellings and scripts', (...spellings) => {
    for (const kept of spellings) {
      const find = searchIn(kept, 'Xqz Wvw')
      for (const typed of spellings) expect(find(typed), `${typed} for ${kept}`).toContain(kept)
    }
  })

  it('tells apart names that only share a letter or two', () => {
    const find = searchIn('Amina Tolo', 'Brida Castellow', 'Karuni Delavance')
    expect(find('brida')).toEqual(['Brida Castellow'])
    expect(find('karuni')).toEqual(['Karuni Delavance'])
  })

  it('puts who begins as typed before who only sounds like it', () => {
    expect(searchIn('Nemalla Okuway', 'Nemala Okuvey')('nemalla')).toEqual(['Nemalla Okuway', 'Nemala Okuvey'])
  })

  it('forgives one slip in a short word and two in a long one, none in three letters', () => {
    const find = searchIn('Davor Quillan', 'Easterby-Nkolo')
    expect(find('davro')).toEqual(['Davor Quillan'])
    expect(find('dovar')).toEqual(['Davor Quillan'])
    expect(find('eastrebi')).toEqual(['Easterby-Nkolo'])
    expect(find('dxz')).toEqual([])
  })

  it('asks that every word typed is met, in any order, also by the place', () => {
    const find = searchIn(['Ansa Korelle', 'Dorrow'], ['Ansa Morhale', 'Hule'])
    expect(find('dorrow ansa')).toEqual(['Ansa Korelle'])
    expect(find('morhale dorrow')).toEqual([])
  })

  it('searches the other spellings that were written down', () => {
    expect(searchIn(['Mirel Asvadi', 'Sarn Ostre', 'ميريل أصفادي'])('أصفادي')).toEqual(['Mirel Asvadi'])
  })

  it('means everybody when only spaces or signs are typed', () => {
    const find = searchIn('Ansa Korelle')
    expect([find(''), find('   '), find(' ·!')]).toEqual([null, null, null])
  })

  it('finds a person by any beginning of any word of the name, whatever the letters', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', minLength: 1, maxLength: 20 }), fc.nat(19), (name, cut) => {
        const words = wordsOf(name)
        const word = words[cut % Math.max(words.length, 1)]
        if (word === undefined) return
        const beginning = word.slice(0, 1 + (cut % word.length))
        // A cut through a letter of two units is no beginning that anybody types.
        if (wordsOf(beginning)[0] !== beginning) return
        expect(searchIn(name)(beginning)).toEqual([name])
      }),
      runs(300),
    )
  })
})

describe('slips between two words', () => {
  // Damerau, F. J., "A technique for computer detection and correction of spelling errors", CACM 7(3), 1964: one letter
  // wrong, missing, extra, or two neighbours swapped is one slip. Longer pairs: Wikipedia, "Damerau-Levenshtein distance"
  // (ca / abc is 3 by optimal string alignment) and "Levenshtein distance" (kitten / sitting is 3, saturday / sunday is 3).
  it.each([
    ['word', 'work', 1],
    ['wrd', 'word', 1],
    ['woord', 'word', 1],
    ['wrod', 'word', 1],
    ['ca', 'abc', 3],
    ['kitten', 'sitting', 3],
    ['saturday', 'sunday', 3],
    ['same', 'same', 0],
  ])('%s and %s are %i apart', (typed, word, slips) => {
    expect(slipsBetween(typed, word, 5)).toBe(slips)
    expect(slipsBetween(word, typed, 5)).toBe(slips)
  })

  it('are not counted out beyond the most', () => {
    expect(slipsBetween('kitten', 'sitting', 2)).toBe(3)
    expect(slipsBetween('a', 'abcdefgh', 2)).toBe(3)
  })

  it('to the beginning of a word leave its end aside', () => {
    expect(slipsBetween('esterb', 'easterby', 2, true)).toBe(1)
  })
})

describe('the sound of a word', () => {
  it('drops vowels, doubled letters and the h that is only written', () => {
    expect(['mohammed', 'muhamad', 'محمد'].map(soundOf)).toEqual(['mhmd', 'mhmd', 'mhmd'])
    expect(['fatimah', 'فاطمه'].map(soundOf)).toEqual(['ftm', 'ftm'])
  })
})
