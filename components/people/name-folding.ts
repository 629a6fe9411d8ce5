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

/**
 * Least number of letters put in, left out, changed or swapped with a neighbour that makes one word the other (optimal
 * string alignment distance, Damerau 1964), or of the beginning of `word` when `prefix`; above `most` it is not counted out.
 */
export const slipsBetween = (typed: string, word: string, most: number, prefix = false): number => {
  if (typed.length - word.length > most || (!prefix && word.length - typed.length > most)) return most + 1
  let beforeLast: number[] = []
  let last = Array.from({ length: word.length + 1 }, (_, column) => column)
  for (let row = 1; row <= typed.length; row += 1) {
    const current = [row]
    for (let column = 1; column <= word.length; column += 1) {
      const same = typed[row - 1] === word[column - 1] ? 0 : 1
      let cost = Math.min((last[column] ?? 0) + 1, (current[column - 1] ?? 0) + 1, (last[column - 1] ?? 0) + same)
      const isSwap = row > 1 && column > 1 && typed[row - 1] === word[column - 2] && typed[row - 2] === word[column - 1]
      if (isSwap) cost = Math.min(cost, (beforeLast[column - 2] ?? 0) + 1)
      current.push(cost)
    }
    if (Math.min(...current) > most) return most + 1
    beforeLast = last
    last = current
  }
  return prefix ? Math.min(...last) : (last[word.length] ?? most + 1)
}
