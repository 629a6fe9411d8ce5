import { soundOf } from '../name-folding.ts'
import { jaroWinkler, PREFIX_WEIGHT, sharedPrefix } from './jaro-winkler.ts'
import { CLOSE_SIMILARITY, LEAST_LETTERS_CLOSE, LEAST_SOUNDS, LIKELIHOODS, shareOf } from './likelihoods.ts'
import { matchWeight } from './match-weight.ts'
import type { Postings } from './postings.ts'

/** `same` letters once folded; `sound`: the same consonants, also in another script; `close`: a slip or two apart. */
export type WordAgreement = 'same' | 'sound' | 'close'

export interface WordLink {
  readonly other: number
  readonly agreement: WordAgreement
  readonly weight: number
}

/** Bit by letter, letters of all scripts thrown onto 32 bits: a letter whose bit the other lacks is not in it. */
const lettersOf = (word: string): number => {
  let bits = 0
  for (let at = 0; at < word.length; at += 1) bits |= 1 << (word.charCodeAt(at) & 31)
  return bits
}

const bitsIn = (bits: number): number => {
  let left = bits - ((bits >>> 1) & 0x55555555)
  left = (left & 0x33333333) + ((left >>> 2) & 0x33333333)
  return (((left + (left >>> 4)) & 0x0f0f0f0f) * 0x01010101) >>> 24
}

/**
 * Pairs of words whose similarity reaches the threshold, every one of them: what is passed over could not reach it even if
 * each letter that both may have stood in order (J is then at most (c/a + c/b + 1) / 3).
 */
const closePairs = (words: readonly string[]): readonly (readonly [number, number])[] => {
  const letters = words.map(lettersOf)
  const least = [0, 1, 2, 3, 4].map(prefix => {
    const raised = prefix * PREFIX_WEIGHT
    return (3 * (CLOSE_SIMILARITY - raised)) / (1 - raised) - 1 - 1e-9
  })
  const pairs: (readonly [number, number])[] = []
  const byLength = words
    .map((word, id) => ({ word, id, bits: letters[id] ?? 0 }))
    .filter(({ word }) => word.length >= LEAST_LETTERS_CLOSE)
    .sort((a, b) => a.word.length - b.word.length || a.id - b.id)
  for (const [index, first] of byLength.entries()) {
    const { length } = first.word
    for (let next = index + 1; next < byLength.length; next += 1) {
      const second = byLength[next]
      if (!second) break
      const longer = second.word.length
      // The shorter word wholly within the longer one is the most that they can share.
      if (1 + length / longer < (least[4] ?? 0)) break
      const shared = Math.min(length - bitsIn(first.bits & ~second.bits), longer - bitsIn(second.bits & ~first.bits))
      const most = shared / length + shared / longer
      if (most < (least[4] ?? 0) || most < (least[sharedPrefix(first.word, second.word)] ?? 0)) continue
      if (jaroWinkler(first.word, second.word) >= CLOSE_SIMILARITY) pairs.push([first.id, second.id])
    }
  }
  return pairs
}

/** For each word of the casebook's names, itself and every word that it may be another spelling of, with what that weighs. */
export const linkWords = (names: Postings, people: number): readonly ReadonlyMap<number, WordLink>[] => {
  const words = names.values
  const { word: m } = LIKELIHOODS
  const bearers = (id: number): number => names.peopleWith(id).length
  const share = (count: number): number => shareOf('word', count, people)

  const bySound = new Map<string, number[]>()
  const sounds = words.map(soundOf)
  for (const [id, sound] of sounds.entries())
    if (sound.length >= LEAST_SOUNDS) bySound.set(sound, [...(bySound.get(sound) ?? []), id])

  const isOneSound = (a: number, b: number): boolean =>
    (sounds[a] ?? '').length >= LEAST_SOUNDS && sounds[a] === sounds[b]
  const close = words.map((): number[] => [])
  for (const [a, b] of closePairs(words)) {
    if (isOneSound(a, b)) continue
    close[a]?.push(b)
    close[b]?.push(a)
  }
  const closeBearers = close.map((others, id) => bearers(id) + others.reduce((sum, other) => sum + bearers(other), 0))

  return words.map((_, id): ReadonlyMap<number, WordLink> => {
    const sound = bySound.get(sounds[id] ?? '') ?? []
    const soundBearers = sound.reduce((sum, other) => sum + bearers(other), 0)
    const alike = sound.filter(other => other !== id)
    const links: readonly WordLink[] = [
      { other: id, agreement: 'same', weight: matchWeight(m.same, share(bearers(id))) },
      ...alike.map(
        (other): WordLink => ({ other, agreement: 'sound', weight: matchWeight(m.sound, share(soundBearers)) }),
      ),
      ...(close[id] ?? []).map((other): WordLink => {
        const bearing = Math.max(closeBearers[id] ?? 0, closeBearers[other] ?? 0)
        return { other, agreement: 'close', weight: matchWeight(m.close, share(bearing)) }
      }),
    ]
    return new Map(links.map(link => [link.other, link]))
  })
}
