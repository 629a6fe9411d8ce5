import { describe, expect, it } from 'vitest'
import { ar } from '../../components/text/ar/index.ts'
import { en } from '../../components/text/en/index.ts'
import { es } from '../../components/text/es/index.ts'
import { fr } from '../../components/text/fr/index.ts'
import {
  changeLanguage,
  LANGUAGES,
  type Language,
  type Message,
  Speech,
  speaking,
  speechIn,
  type TextKey,
  t,
} from '../../components/text/text.ts'

type Tables = Readonly<Record<string, Readonly<Record<string, Message>>>>
const ENGLISH: Tables = en
const TRANSLATIONS: readonly (readonly [Language, Tables])[] = [
  ['es', es],
  ['fr', fr],
  ['ar', ar],
]

const everyMessage = (tables: Tables): readonly (readonly [string, Message])[] =>
  Object.entries(tables).flatMap(([room, table]) =>
    Object.entries(table).map(([key, message]) => [`${room}.${key}`, message] as const),
  )
const formsOf = (message: Message): readonly string[] =>
  typeof message === 'string' ? [message] : Object.values(message)
const placeholdersIn = (sentence: string): readonly string[] =>
  [...sentence.matchAll(/\{(\w+)\}/g)].map(match => match[1] ?? '')
const namesIn = (message: Message): readonly string[] => [...new Set(formsOf(message).flatMap(placeholdersIn))].sort()
const messageOf = (tables: Tables, key: string): Message => {
  const dot = key.indexOf('.')
  const message = tables[key.slice(0, dot)]?.[key.slice(dot + 1)]
  if (message === undefined) throw new Error(`no ${key}`)
  return message
}

/** Letters of the sentence itself, without what is filled in. */
const ownWords = (sentence: string): string => sentence.replace(/\{\w+\}/g, '').replace(/[^\p{L}]/gu, '')

/** Plural forms that whole numbers up to ten thousand take (Unicode CLDR plural rules, as Intl carries them). */
const categoriesOf = (language: Language): readonly string[] => {
  const rules = new Intl.PluralRules(language)
  return [...new Set(Array.from({ length: 10_001 }, (_, count) => rules.select(count)))].sort()
}

describe('the languages that are offered', () => {
  it('are those with a translation, and English', () => {
    expect([...LANGUAGES]).toEqual(['en', ...TRANSLATIONS.map(([language]) => language)])
    expect(everyMessage(ENGLISH).length).toBeGreaterThan(1500)
  })

  it('ask for the plural forms that Unicode names for them', () => {
    // Unicode CLDR, Language Plural Rules, cardinals: English one/other; Spanish and French one/many/other, where many begins
    // at a million; Arabic zero/one/two/few/many/other.
    expect(categoriesOf('en')).toEqual(['one', 'other'])
    expect(categoriesOf('es')).toEqual(['one', 'other'])
    expect(categoriesOf('fr')).toEqual(['one', 'other'])
    expect(categoriesOf('ar')).toEqual(['few', 'many', 'one', 'other', 'two', 'zero'])
  })
})

describe.each(TRANSLATIONS)('%s', (language, tables) => {
  it('says what English says, no key more or less', () => {
    const keys = (all: Tables): readonly string[] =>
      everyMessage(all)
        .map(([key]) => key)
        .sort()
    expect(keys(tables)).toEqual(keys(ENGLISH))
  })

  it('fills in the same values', () => {
    const wrong = everyMessage(ENGLISH)
      .map(([key, message]) => [key, namesIn(message).join(), namesIn(messageOf(tables, key)).join()] as const)
      .filter(([, wanted, found]) => wanted !== found)
    expect(wrong).toEqual([])
  })

  it('loses no value but a small count in any plural form', () => {
    const wrong = everyMessage(tables).flatMap(([key, message]) => {
      if (typeof message === 'string') return []
      const wanted = namesIn(message).filter(name => name !== 'count')
      const countWanted = namesIn(messageOf(ENGLISH, key)).includes('count')
      return Object.entries(message)
        .filter(([form, sentence]) => {
          const found = placeholdersIn(sentence)
          // "One person", "two people": a form of one number may say it in words.
          const saysCount = !countWanted || found.includes('count') || ['zero', 'one', 'two'].includes(form)
          return !saysCount || wanted.some(name => !found.includes(name))
        })
        .map(([form]) => `${key} ${form}`)
    })
    expect(wrong).toEqual([])
  })

  it('has every plural form that its counts need, wherever English counts', () => {
    const needed = categoriesOf(language)
    const wrong = everyMessage(ENGLISH)
      .filter(([, message]) => typeof message !== 'string')
      .flatMap(([key]) => {
        const message = messageOf(tables, key)
        const forms = typeof message === 'string' ? [] : Object.keys(message)
        return needed.every(form => forms.includes(form)) ? [] : [`${key}: ${forms.join()}`]
      })
    expect(wrong).toEqual([])
  })

  it('is translated: no sentence of more than 15 letters is the English one', () => {
    const wrong = everyMessage(tables).flatMap(([key, message]) => {
      const english = new Set(formsOf(messageOf(ENGLISH, key)))
      return formsOf(message)
        .filter(form => ownWords(form).length > 15 && english.has(form))
        .map(form => `${key}: ${form}`)
    })
    expect(wrong).toEqual([])
  })

  it('leaves no sentence empty where English has one', () => {
    const wrong = everyMessage(ENGLISH)
      .filter(([, message]) => formsOf(message).every(form => form.trim() !== ''))
      .filter(([key]) => formsOf(messageOf(tables, key)).some(form => form.trim() === ''))
      .map(([key]) => key)
    expect(wrong).toEqual([])
  })

  it('can be spoken: every sentence with its values filled in', () => {
    const speech = new Speech(language, tables as never)
    for (const [key, message] of everyMessage(ENGLISH)) {
      const values = Object.fromEntries(namesIn(message).map(name => [name, name === 'count' ? 3 : `«${name}»`]))
      expect(speech.say(key as TextKey, values)).not.toContain('{')
    }
  })
})

describe('Arabic', () => {
  it('is written in Arabic letters', () => {
    const latin = everyMessage(ar).flatMap(([key, message]) =>
      formsOf(message)
        .map(form => form.replace(/\{\w+\}/g, '').replace(/Outspoke|https|localhost|psi/g, ''))
        .filter(form => /\p{Script=Latin}/u.test(form))
        .map(form => `${key}: ${form}`),
    )
    expect(latin).toEqual([])
  })

  it('runs from right to left and keeps what is filled in apart', async () => {
    const speech = await speechIn('ar')
    expect(speech.direction).toBe('rtl')
    // U+2068 FIRST STRONG ISOLATE and U+2069 POP DIRECTIONAL ISOLATE (Unicode Standard Annex 9).
    expect(speech.say('difference.saidWhy', { why: 'Town folding' })).toBe('«\u2068Town folding\u2069»')
    // What holds Arabic, or parts filled in before, runs from right to left: U+2067 RIGHT-TO-LEFT ISOLATE. A first strong
    // isolate looks past the isolates inside it, finds no letter and would run from left to right (same annex, P2 and X5c).
    const pressure = speech.say('preparing.pressure', { kPa: '325 كيلوباسكال', psi: '47 psi', bar: '3.3 بار' })
    expect(speech.say('given.tyres', { pressure })).toContain('\u2067\u2067325 ')
  })
})

describe('speaking another language for a while', () => {
  it('says it in that language, and then goes on as before, also after an error', async () => {
    const french = await speechIn('fr')
    expect(speaking(french, () => t('given.title'))).toBe('Votre fauteuil roulant')
    expect(t('given.title')).toBe('Your wheelchair')
    expect(() =>
      speaking(french, () => {
        throw new Error('no paper')
      }),
    ).toThrow('no paper')
    expect(t('given.title')).toBe('Your wheelchair')
  })

  it('is asked for by the app as a whole through the page', async () => {
    const page = { lang: '', dir: '' }
    const kept = Object.getOwnPropertyDescriptor(globalThis, 'document')
    Object.defineProperty(globalThis, 'document', { configurable: true, value: { documentElement: page } })
    await changeLanguage('ar')
    expect(page).toEqual({ lang: 'ar', dir: 'rtl' })
    expect(t('app.save')).toBe('حفظ')
    await changeLanguage('en')
    expect(page).toEqual({ lang: 'en', dir: 'ltr' })
    if (kept) Object.defineProperty(globalThis, 'document', kept)
    else Reflect.deleteProperty(globalThis, 'document')
  })
})

describe('what a language asks of what is put together', () => {
  it('is a narrow space that does not break before the double signs of French, and inside its quotation marks', async () => {
    const french = await speechIn('fr')
    // Imprimerie nationale, Lexique des règles typographiques: espace fine insécable (U+202F) before ; ! ? and, as is usual
    // on screens, before the colon too.
    expect(french.say('form.agreed')).toMatch(/\S\u202f\?$/)
    expect(french.say('form.stillNeeded', { fields: 'a : b' })).toBe('il manque encore\u202f: a : b')
    const wrong = everyMessage(fr).flatMap(([key, message]) => {
      const values = Object.fromEntries(namesIn(message).map(name => [name, name === 'count' ? 3 : 'x']))
      const words = french.say(key as TextKey, values)
      return / [:;?!»]|« /.test(words) ? [`${key}: ${words}`] : []
    })
    expect(wrong).toEqual([])
  })

  it('is no double sign of French without a space before it', () => {
    const wrong = everyMessage(fr).flatMap(([key, message]) =>
      formsOf(message)
        .filter(form => /[\p{L}}][;?!]|[\p{L}}]:(?!\/\/)/u.test(form))
        .map(form => `${key}: ${form}`),
    )
    expect(wrong).toEqual([])
  })

  it('is that a Latin name in an Arabic list keeps its own direction', async () => {
    const arabic = await speechIn('ar')
    // U+2068 FIRST STRONG ISOLATE, U+2067 RIGHT-TO-LEFT ISOLATE, U+2069 POP (Unicode Standard Annex 9).
    expect(arabic.list(['Build the frame', 'إطار'])).toBe('\u2068Build the frame\u2069 و\u2067إطار\u2069')
    expect(arabic.series(['LK-0021', 'إطار'])).toBe('\u2068LK-0021\u2069، \u2067إطار\u2069')
  })

  it('is one kind of digits in Arabic, in sentences and in what is filled in', async () => {
    const arabic = await speechIn('ar')
    // Unicode CLDR, numbering system "latn": as printed on tapes and gauges. U+0660 to U+0669 are the other digits.
    const made = [arabic.number(1234.5), arabic.date('2026-05-12' as never), arabic.bytes(5e6), arabic.moment(0)]
    expect(made[0]).toBe('1234.5')
    expect(made.filter(words => /[\u0660-\u0669\u06f0-\u06f9]/.test(words))).toEqual([])
    const others = everyMessage(ar).filter(([, message]) => formsOf(message).some(form => /[\u0660-\u0669]/.test(form)))
    expect(others).toEqual([])
  })

  it('is the punctuation of Arabic: its own comma, semicolon and question mark', () => {
    const wrong = everyMessage(ar).flatMap(([key, message]) =>
      formsOf(message)
        .filter(form => /[\u0600-\u06ff}»)] ?[,;?]/.test(form))
        .map(form => `${key}: ${form}`),
    )
    expect(wrong).toEqual([])
  })
})
