import { LANGUAGES, type Language } from '../text/text.ts'

/** What this device remembers outside every casebook: nothing about a person, nothing secret. */
export interface Preferences {
  language(): Language | null
  keepLanguage(language: Language): void
  idleMinutes(): number
  keepIdleMinutes(minutes: number): void
  /** Which was open last: the practice trip opens again by itself. */
  lastOpen(): 'practice' | 'casebook' | null
  keepPractice(isPractice: boolean): void
  /** Real cases were open here once: a store that is empty now was lost. */
  hadCasebook(): boolean
  keepHadCasebook(): void
}

export const IDLE_MINUTES = [2, 5, 10, 30] as const
/** Long enough for a measurement with both hands, short enough for a phone left on a table (project value). */
const USUAL_IDLE_MINUTES = 10

/** `store` is the browser's local storage; one that refuses (private windows) forgets, and everything works all the same. */
export const preferencesIn = (store: Pick<Storage, 'getItem' | 'setItem'>): Preferences => {
  const read = (name: string): string | null => {
    try {
      return store.getItem(`outspoke ${name}`)
    } catch {
      // Blocked by the browser's settings: nothing is remembered.
      return null
    }
  }
  const write = (name: string, value: string): void => {
    try {
      store.setItem(`outspoke ${name}`, value)
    } catch {
      // As above: the choice holds until the app is closed.
    }
  }
  return {
    language: () => LANGUAGES.find(language => language === read('language')) ?? null,
    keepLanguage: language => write('language', language),
    idleMinutes: () => IDLE_MINUTES.find(minutes => `${minutes}` === read('idle minutes')) ?? USUAL_IDLE_MINUTES,
    keepIdleMinutes: minutes => write('idle minutes', `${minutes}`),
    lastOpen: () => (['practice', 'casebook'] as const).find(each => each === read('open')) ?? null,
    keepPractice: isPractice => write('open', isPractice ? 'practice' : 'casebook'),
    hadCasebook: () => read('casebook') === 'here',
    keepHadCasebook: () => write('casebook', 'here'),
  }
}

/** The first language of this browser that the app speaks. */
export const languageOfBrowser = (wanted: readonly string[]): Language =>
  wanted
    .map(one => one.toLowerCase().split('-')[0])
    .flatMap(one => LANGUAGES.find(language => language === one) ?? [])[0] ?? 'en'
