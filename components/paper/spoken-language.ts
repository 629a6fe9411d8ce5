import { LANGUAGES, type Language } from '../text/text.ts'

/** What a language calls itself: español. */
export const languageName = (language: Language): string =>
  new Intl.DisplayNames([language], { type: 'language' }).of(language) ?? language

const plain = (text: string): string => text.trim().toLocaleLowerCase().normalize('NFD').replace(/\p{M}/gu, '')

/** Every way in which the languages of the app name each other. */
const namesOf = (language: Language): readonly string[] =>
  LANGUAGES.map(other => plain(new Intl.DisplayNames([other], { type: 'language' }).of(language) ?? language))

/** The language of the app that somebody wrote down as spoken ("Árabe", "french and Kesse"); undefined where it is none. */
export const languageSpoken = (written: string | undefined): Language | undefined => {
  if (written === undefined) return undefined
  const words = plain(written)
  const found = LANGUAGES.map(language => {
    const places = namesOf(language)
      .map(name => words.indexOf(name))
      .filter(place => place >= 0)
    return { language, place: places.length === 0 ? Number.POSITIVE_INFINITY : Math.min(...places) }
  }).toSorted((a, b) => a.place - b.place)
  const [first] = found
  return first && Number.isFinite(first.place) ? first.language : undefined
}
