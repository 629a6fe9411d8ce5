import type { CaseId } from '../../src/ids.ts'
import { fold, slipsBetween, soundOf, wordsOf } from '../../src/name-folding.ts'

/** What is searched of a person. */
export interface Findable {
  readonly caseId: CaseId
  readonly name: string | null
  readonly otherNames: string | null
  readonly place: string | null
}

interface Entry {
  readonly caseId: CaseId
  /** The whole name, to put those that begin as typed first. */
  readonly whole: string
  readonly words: readonly string[]
  readonly sounds: readonly string[]
  readonly placeWords: readonly string[]
}

/** Slips forgiven by the length of the word typed (project value): a short word with a slip is another word. */
const slipsForgiven = (word: string): number => (word.length < 4 ? 0 : word.length < 8 ? 1 : 2)
const LEAST_SOUNDS = 2

/** How far off, least first; undefined: not meant. */
const distance = (typed: string, sound: string, entry: Entry): number | undefined => {
  if (entry.words.some(word => word.startsWith(typed))) return 0
  if (entry.placeWords.some(word => word.startsWith(typed))) return 1
  if (typed.length > 2 && entry.words.some(word => word.includes(typed))) return 2
  const forgiven = slipsForgiven(typed)
  if (forgiven > 0) {
    const least = Math.min(...entry.words.map(word => slipsBetween(typed, word, forgiven, true)))
    if (least <= forgiven) return 2 + least
  }
  if (sound.length >= LEAST_SOUNDS && entry.sounds.some(one => one === sound)) return 5
  if (sound.length > LEAST_SOUNDS && entry.sounds.some(one => one.startsWith(sound))) return 6
  if (forgiven > 0 && entry.placeWords.some(word => slipsBetween(typed, word, forgiven, true) <= forgiven)) return 7
  return undefined
}

/**
 * Finds people by what was typed: the beginning of any word of their names or place, with a slip or two, or as it sounds
 * in another script. Every word typed must be met. Made once for a list; asked at each keystroke.
 */
export class PeopleSearch {
  readonly #entries: readonly Entry[]

  constructor(people: readonly Findable[]) {
    this.#entries = people.map(({ caseId, name, otherNames, place }) => {
      const words = wordsOf(`${name ?? ''} ${otherNames ?? ''}`)
      return {
        caseId,
        whole: fold(name ?? ''),
        words,
        sounds: words.map(soundOf),
        placeWords: wordsOf(place ?? ''),
      }
    })
  }

  /** Those who are meant, the nearest first; null when nothing was typed that could mean anybody. */
  find(query: string): readonly CaseId[] | null {
    const typed = wordsOf(query)
    if (typed.length === 0) return null
    const sounds = typed.map(soundOf)
    const found: { readonly entry: Entry; readonly off: number }[] = []
    for (const entry of this.#entries) {
      let off = 0
      for (const [index, word] of typed.entries()) {
        const one = distance(word, sounds[index] ?? '', entry)
        off = one === undefined ? Number.POSITIVE_INFINITY : off + one
      }
      if (Number.isFinite(off)) found.push({ entry, off })
    }
    return found
      .toSorted((a, b) => a.off - b.off || (a.entry.whole < b.entry.whole ? -1 : 1))
      .map(({ entry }) => entry.caseId)
  }
}
