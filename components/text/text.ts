import type { CalendarDate } from '../../src/calendar-date.ts'
import { en } from './en/index.ts'

/** Every sentence stands in each of these; a language that is not complete does not compile as one of them. */
const COMPLETE = ['en', 'es', 'fr', 'ar'] as const
/** Those that are offered. */
export const LANGUAGES = COMPLETE
export type Language = (typeof COMPLETE)[number]

/** A sentence with {names} to fill in, or one for each plural form that the language has (chosen by `count`). */
export type Message = string | Readonly<Partial<Record<Intl.LDMLPluralRule, string>> & { other: string }>

/** The same keys as English, each a message: a translation that lacks one does not compile. */
export type Wording = { readonly [Room in keyof typeof en]: { readonly [Key in keyof (typeof en)[Room]]: Message } }
export type TextKey = {
  [Room in keyof typeof en]: `${Room}.${Extract<keyof (typeof en)[Room], string>}`
}[keyof typeof en]
export type TextValues = Readonly<Record<string, string | number>>

const LOADERS: Readonly<Record<Exclude<Language, 'en'>, () => Promise<Wording>>> = {
  es: async () => (await import('./es/index.ts')).es,
  fr: async () => (await import('./fr/index.ts')).fr,
  ar: async () => (await import('./ar/index.ts')).ar,
}

/**
 * What is filled into Arabic keeps its own direction and does not turn the rest (UAX 9, isolates): from right to left where
 * it holds Arabic letters or parts that were filled in before, else by its first letter, so that a Latin name reads as one.
 */
const isolated = (words: string): string =>
  `${/[\u0600-\u06ff\u2066-\u2069]/.test(words) ? '\u2067' : '\u2068'}${words}\u2069`

/** A serial number is read in one piece. */
const unbroken = (words: string): string => words.replaceAll(' ', '\u00a0')

/**
 * English with the day first and a clock of 24 hours, as crews write them. Arabic with the digits that stand on tapes, gauges
 * and papers, the same on every browser: those that a sentence of its own names are these too.
 */
const LOCALES: Readonly<Record<Language, string>> = { en: 'en-GB', es: 'es', fr: 'fr', ar: 'ar-u-nu-latn' }

/** Wording and formats of one language. */
export class Speech {
  readonly language: Language
  readonly direction: 'ltr' | 'rtl'
  /** Whose dates, numbers and lists. */
  readonly locale: string
  readonly #wording: Wording
  readonly #plurals: Intl.PluralRules
  /** A space that must not break: between a number and its unit, on both sides of ×, before a serial number. */
  readonly #bound: RegExp
  /** Making a format costs a hundred times as much as using it. */
  readonly #numbers = new Map<number, Intl.NumberFormat>()
  readonly #dates = new Map<string, Intl.DateTimeFormat>()
  readonly #lists = new Map<Intl.ListFormatType, Intl.ListFormat>()
  /** Sentences of the tables with their spaces bound: the same few hundred, again with every rendering. */
  readonly #boundSentences = new Map<string, string>()

  constructor(language: Language, wording: Wording) {
    this.language = language
    this.locale = LOCALES[language]
    this.direction = language === 'ar' ? 'rtl' : 'ltr'
    this.#wording = wording
    this.#plurals = new Intl.PluralRules(language)
    const units = ['%', 'N', ...Object.values(wording.unit)].filter(unit => unit !== '')
    this.#bound = new RegExp(
      `(?<=[}\\d]) (?=(?:${units.join('|')})(?![\\p{L}\\p{M}]))| (?=×)|(?<=×) | (?=\\{serial\\})`,
      'gu',
    )
  }

  /** The sentence of a key. Numbers are written as the language writes them; `count` picks the plural form. */
  say(key: TextKey, values: TextValues = {}): string {
    const [room = '', name = ''] = key.split('.')
    const message = (this.#wording as Readonly<Record<string, Readonly<Record<string, Message>>>>)[room]?.[name]
    if (message === undefined) throw new Error(`no wording for ${key}`)
    const sentence =
      typeof message === 'string'
        ? message
        : (message[this.#plurals.select(Number(values.count ?? 0))] ?? message.other)
    return this.#bindSpaces(sentence).replace(/\{(\w+)\}/g, (_, value: string) => {
      const filled = values[value]
      if (filled === undefined) throw new Error(`${key} needs {${value}}`)
      const words = typeof filled === 'number' ? this.number(filled) : value === 'serial' ? unbroken(filled) : filled
      return this.direction === 'rtl' ? isolated(words) : words
    })
  }

  /**
   * French sets a narrow space that does not break before : ; ? ! and inside « » (Imprimerie nationale, Lexique des règles
   * typographiques). A number stays with its unit (SI Brochure 9, 5.4.3). Tables are typed with plain spaces, since keyboards
   * have no other.
   */
  #bindSpaces(sentence: string): string {
    const known = this.#boundSentences.get(sentence)
    if (known !== undefined) return known
    const bound = sentence.replace(this.#bound, '\u00a0')
    const spaced = this.language === 'fr' ? bound.replace(/ (?=[:;?!»])|(?<=«) /g, '\u202f') : bound
    this.#boundSentences.set(sentence, spaced)
    return spaced
  }

  number(value: number, decimals = 1): string {
    let format = this.#numbers.get(decimals)
    if (!format) {
      format = new Intl.NumberFormat(this.locale, { maximumFractionDigits: decimals, useGrouping: 'min2' })
      this.#numbers.set(decimals, format)
    }
    return format.format(value)
  }

  /** A civil date in full: 25 November 2026. */
  date(date: CalendarDate, form: 'full' | 'short' = 'full'): string {
    return this.#day(date, form === 'full' ? 'long' : 'short', true)
  }

  #day(date: CalendarDate, month: 'long' | 'short', withYear: boolean): string {
    const key = `${month} ${withYear}`
    let format = this.#dates.get(key)
    if (!format) {
      const year = withYear ? ({ year: 'numeric' } as const) : {}
      format = new Intl.DateTimeFormat(this.locale, { day: 'numeric', month, ...year, timeZone: 'UTC' })
      this.#dates.set(key, format)
    }
    const [year = 0, monthNumber = 1, day = 1] = date.split('-').map(Number)
    return format.format(Date.UTC(year, monthNumber - 1, day))
  }

  /** A moment as a device claims it, in this device's zone, which may change on the way: 25 Nov, 10:42. */
  moment(at: number): string {
    return new Intl.DateTimeFormat(this.locale, {
      day: 'numeric',
      month: 'short',
      hour: '2-digit',
      minute: '2-digit',
    }).format(at)
  }

  /** An amount of storage, in kilobytes, megabytes or gigabytes. */
  bytes(count: number): string {
    const [unit, size] =
      count >= 1e9
        ? (['gigabyte', 1e9] as const)
        : count >= 1e6
          ? (['megabyte', 1e6] as const)
          : (['kilobyte', 1e3] as const)
    return new Intl.NumberFormat(this.locale, {
      style: 'unit',
      unit,
      maximumFractionDigits: unit === 'gigabyte' ? 1 : 0,
    }).format(count / size)
  }

  /** One after the other, without "and". */
  series(items: readonly string[]): string {
    return this.#apart(items).join(this.direction === 'rtl' ? '، ' : ', ')
  }

  list(items: readonly string[]): string {
    return this.#list('conjunction').format(this.#apart(items))
  }

  /** Names that may have commas of their own (thigh depth, left): apart by semicolons then, else as a list. */
  names(items: readonly string[]): string {
    const semicolon = this.direction === 'rtl' ? '؛ ' : '; '
    const haveCommas = items.length > 1 && items.some(item => /[,،]/.test(item))
    return haveCommas ? this.#apart(items).join(semicolon) : this.list(items)
  }

  /** One or another: 379 or 387. */
  either(items: readonly string[]): string {
    return this.#list('disjunction').format(this.#apart(items))
  }

  /** A Latin name must not turn the Arabic list around it. */
  #apart(items: readonly string[]): readonly string[] {
    return this.direction === 'rtl' ? items.map(isolated) : items
  }

  #list(type: Intl.ListFormatType): Intl.ListFormat {
    let format = this.#lists.get(type)
    if (!format) {
      format = new Intl.ListFormat(this.locale, { type })
      this.#lists.set(type, format)
    }
    return format
  }

  /** A day within a sentence, without the year: 25 Nov. With it where it is another year than `thisYear`. */
  day(date: CalendarDate, thisYear?: CalendarDate): string {
    return this.#day(date, 'short', thisYear !== undefined && !thisYear.startsWith(`${Number(date.slice(0, 4))}-`))
  }
}

let speech = new Speech('en', en)
const listeners = new Set<() => void>()

export const currentSpeech = (): Speech => speech

/** Loads a language apart from the one on screen: the handover sheet speaks the person's. */
export const speechIn = async (language: Language): Promise<Speech> =>
  new Speech(language, language === 'en' ? en : await LOADERS[language]())

/** Changes the language of the whole app; every element that shows words is told. */
export const changeLanguage = async (language: Language): Promise<void> => {
  speech = await speechIn(language)
  document.documentElement.lang = language
  document.documentElement.dir = speech.direction
  for (const listener of listeners) listener()
}

/**
 * What `make` gives, in another language's words: the handover sheet speaks the person's. Serves what is made before it
 * returns; an element that renders later speaks the language of the screen.
 */
export const speaking = <Value>(other: Speech, make: () => Value): Value => {
  const kept = speech
  speech = other
  try {
    return make()
  } finally {
    speech = kept
  }
}

export const onLanguageChange = (listener: () => void): (() => void) => {
  listeners.add(listener)
  return () => listeners.delete(listener)
}

/** Short for what elements do all day. */
export const t = (key: TextKey, values?: TextValues): string => speech.say(key, values)
