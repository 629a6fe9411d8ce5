/**
 * Letters of other scripts as Latin consonants, after the ALA-LC romanization tables (from memory), reduced: long and
 * short, plain and emphatic are one. Vowels are dropped everywhere, since Arabic leaves them out. Project value: it finds
 * too much rather than too little.
 */
const ARABIC: Readonly<Record<string, string>> = {
  ب: 'b',
  پ: 'b',
  ت: 't',
  ث: 't',
  ج: 'j',
  چ: 'j',
  ح: 'h',
  خ: 'k',
  د: 'd',
  ذ: 'd',
  ر: 'r',
  ز: 'z',
  ژ: 'z',
  س: 's',
  ش: 's',
  ص: 's',
  ض: 'd',
  ط: 't',
  ظ: 'z',
  ع: '',
  غ: 'g',
  ف: 'f',
  ق: 'k',
  ك: 'k',
  ک: 'k',
  گ: 'g',
  ل: 'l',
  م: 'm',
  ن: 'n',
  ه: 'h',
  ة: '',
  و: 'w',
  ي: 'y',
  ی: 'y',
  ى: '',
  ا: '',
  ء: '',
  ئ: '',
  ؤ: '',
  ڤ: 'f',
}
const CYRILLIC: Readonly<Record<string, string>> = {
  б: 'b',
  в: 'f',
  г: 'g',
  ґ: 'g',
  д: 'd',
  ж: 'z',
  з: 'z',
  к: 'k',
  л: 'l',
  м: 'm',
  н: 'n',
  п: 'b',
  р: 'r',
  с: 's',
  т: 't',
  ф: 'f',
  х: 'h',
  ц: 's',
  ч: 'j',
  ш: 's',
  щ: 's',
  й: 'y',
  ю: 'y',
  я: 'y',
  ь: '',
  ъ: '',
}
/** What Latin spellings of one sound share: ph and f, c and k, ch, sh and s, doubled letters. */
const LATIN: Readonly<Record<string, string>> = {
  p: 'b',
  v: 'f',
  q: 'k',
  c: 'k',
  x: 's',
  ç: 's',
  ß: 's',
  ı: '',
  ø: '',
  ł: 'l',
  đ: 'd',
  ð: 'd',
  þ: 't',
}
const VOWELS = /[aeiouаеиоуыэіїєёæœəɛɔ]/u
const PAIRS: readonly (readonly [RegExp, string])[] = [
  [/ph/g, 'f'],
  [/[ckq]h/g, 'k'],
  [/tch|ch/g, 'j'],
  [/dj|dzh|zh/g, 'j'],
  [/sch|sh/g, 's'],
  [/th/g, 't'],
  [/gh/g, 'g'],
  [/ck/g, 'k'],
  [/ou|oo/g, 'u'],
]

/** Marks, case and look-alikes away: what is left is compared letter by letter. */
export const fold = (text: string): string =>
  text
    .normalize('NFKD')
    .replace(/[\p{M}\u0640'’ʼ`´]/gu, '')
    .toLowerCase()
    .replace(/[أإآٱ]/g, 'ا')
    .replace(/[ىی]/g, 'ي')
    .replace(/ک/g, 'ك')
    .replace(/ة/g, 'ه')
    .replace(/ё/g, 'е')

/** The words of a name, folded. A hyphen parts. */
export const wordsOf = (text: string): readonly string[] => fold(text).match(/[\p{L}\p{N}]+/gu) ?? []

/** The consonants of a folded word in Latin letters, w and y and h within it left out: Mohamed, Muhammad and محمد are mhmd. */
export const soundOf = (word: string): string => {
  const latin = PAIRS.reduce((text, [from, to]) => text.replace(from, to), word)
  const letters = [...latin].map(letter => {
    if (VOWELS.test(letter)) return ''
    return ARABIC[letter] ?? CYRILLIC[letter] ?? LATIN[letter] ?? letter
  })
  const [first = '', ...rest] = letters.join('')
  return (first + rest.join('').replace(/[wy]/g, '')).replace(/(.)\1+/g, '$1').replace(/(?<=.)h$/, '')
}

/** Letters of a word that are compared; no name is longer. */
const MOST_LETTERS = 40
/** Three rows of the table, used again each time: a search compares every word of 5,000 names at every keystroke. */
const rows = [0, 1, 2].map(() => new Uint8Array(MOST_LETTERS + 1)) as [Uint8Array, Uint8Array, Uint8Array]

/**
 * Least number of letters put in, left out, changed or swapped with a neighbour that makes one word the other (optimal
 * string alignment distance, Damerau 1964), or the beginning of `word` when `prefix`; above `most` it is not counted out.
 */
export const slipsBetween = (typed: string, word: string, most: number, prefix = false): number => {
  const height = Math.min(typed.length, MOST_LETTERS)
  const width = Math.min(word.length, MOST_LETTERS)
  if (height - width > most || (!prefix && width - height > most)) return most + 1
  let [beforeLast, last, current] = rows
  for (let column = 0; column <= width; column += 1) last[column] = column
  for (let row = 1; row <= height; row += 1) {
    current[0] = row
    let least = row
    for (let column = 1; column <= width; column += 1) {
      const [letter, other] = [typed.charCodeAt(row - 1), word.charCodeAt(column - 1)]
      let cost = (last[column - 1] ?? 0) + (letter === other ? 0 : 1)
      cost = Math.min(cost, (last[column] ?? 0) + 1, (current[column - 1] ?? 0) + 1)
      const isSwap =
        row > 1 && column > 1 && letter === word.charCodeAt(column - 2) && other === typed.charCodeAt(row - 2)
      if (isSwap) cost = Math.min(cost, (beforeLast[column - 2] ?? 0) + 1)
      current[column] = cost
      if (cost < least) least = cost
    }
    if (least > most) return most + 1
    ;[beforeLast, last, current] = [last, current, beforeLast]
  }
  if (!prefix) return last[width] ?? 0
  let least = height
  for (let column = 0; column <= width; column += 1) least = Math.min(least, last[column] ?? 0)
  return least
}
