/** Letters of a word that are compared; no name is longer. */
const MOST_LETTERS = 64
const takenInFirst = new Uint8Array(MOST_LETTERS)
const takenInSecond = new Uint8Array(MOST_LETTERS)

/**
 * Jaro's similarity of two words, 0 to 1: the letters they share within half the longer length, and how many of those stand
 * in another order (Jaro 1989, as in Winkler WE, String comparator metrics, 1990).
 */
export const jaro = (first: string, second: string): number => {
  // Letters are paired from one word's side: always from the same one, so that the answer is one.
  if (first.length > second.length || (first.length === second.length && first > second)) return jaro(second, first)
  const lengths = [Math.min(first.length, MOST_LETTERS), Math.min(second.length, MOST_LETTERS)] as const
  const [firstLength, secondLength] = lengths
  if (firstLength === 0 || secondLength === 0) return firstLength === secondLength ? 1 : 0
  const reach = Math.max(0, Math.floor(Math.max(firstLength, secondLength) / 2) - 1)
  takenInFirst.fill(0, 0, firstLength)
  takenInSecond.fill(0, 0, secondLength)
  let shared = 0
  for (let at = 0; at < firstLength; at += 1) {
    const end = Math.min(secondLength - 1, at + reach)
    for (let other = Math.max(0, at - reach); other <= end; other += 1) {
      if (takenInSecond[other] === 1 || first.charCodeAt(at) !== second.charCodeAt(other)) continue
      takenInFirst[at] = 1
      takenInSecond[other] = 1
      shared += 1
      break
    }
  }
  if (shared === 0) return 0
  let outOfOrder = 0
  let other = 0
  for (let at = 0; at < firstLength; at += 1) {
    if (takenInFirst[at] === 0) continue
    while (takenInSecond[other] === 0) other += 1
    if (first.charCodeAt(at) !== second.charCodeAt(other)) outOfOrder += 1
    other += 1
  }
  const transposed = Math.floor(outOfOrder / 2)
  return (shared / firstLength + shared / secondLength + (shared - transposed) / shared) / 3
}

/** Letters at the beginning that count more, and how much each does (Winkler 1990). */
export const PREFIX_LETTERS = 4
export const PREFIX_WEIGHT = 0.1

export const sharedPrefix = (first: string, second: string): number => {
  const most = Math.min(PREFIX_LETTERS, first.length, second.length)
  let length = 0
  while (length < most && first.charCodeAt(length) === second.charCodeAt(length)) length += 1
  return length
}

/** Jaro's similarity raised for words that begin alike: J + l p (1 - J), l up to 4, p 0.1 (Winkler 1990). */
export const jaroWinkler = (first: string, second: string): number => {
  const similarity = jaro(first, second)
  return similarity + sharedPrefix(first, second) * PREFIX_WEIGHT * (1 - similarity)
}
