import { ar } from '../../../components/text/ar/index.ts'
import { es } from '../../../components/text/es/index.ts'
import { fr } from '../../../components/text/fr/index.ts'
import type { Message, Speech } from '../../../components/text/text.ts'
import { SOURCES } from '../../../src/sources.ts'
import type { Casebook } from '../../../sync/casebook.ts'

const TABLES = { es, fr, ar } as const
export type Translated = keyof typeof TABLES

/** Letters that belong together: a word, without what clings to it (l’, d’). */
const wordsIn = (text: string): readonly string[] => text.toLocaleLowerCase().match(/\p{L}[\p{L}\p{M}]*/gu) ?? []

const formsOf = (message: Message): readonly string[] =>
  typeof message === 'string' ? [message] : Object.values(message)

/** Every word of a language's tables, and what Intl says in it: months, list words, amounts of storage. */
export const vocabularyOf = (language: Translated, speech: Speech): ReadonlySet<string> => {
  const tables: Readonly<Record<string, Readonly<Record<string, Message>>>> = TABLES[language]
  const sentences = Object.values(tables)
    .flatMap(table => Object.values(table).flatMap(formsOf))
    .map(sentence => sentence.replace(/\{\w+\}/g, ' '))
  const months = Array.from({ length: 12 }, (_, month) =>
    ['long', 'short'].map(form =>
      new Intl.DateTimeFormat(speech.locale, { day: 'numeric', month: form as 'long', timeZone: 'UTC' }).format(
        Date.UTC(2026, month, 3),
      ),
    ),
  ).flat()
  const made = [
    speech.date('2026-05-12' as never),
    speech.list(['1', '2', '3']),
    speech.list(['1', 'I', 'i']),
    speech.either(['1', '2', '8', 'o']),
    speech.bytes(5e6),
    speech.bytes(5e9),
    speech.moment(0),
  ]
  return new Set([...sentences, ...months, ...made].flatMap(wordsIn))
}

/** Keys, ids and dates: never typed by anybody, so that one on a screen is a fault. */
const isKey = (text: string): boolean => /^[a-z0-9][a-z0-9-]*$/.test(text) || /^[A-Za-z0-9_-]{20,}$/.test(text)

const stringsIn = (value: unknown): readonly string[] => {
  if (typeof value === 'string') return isKey(value) ? [] : [value]
  if (Array.isArray(value)) return value.flatMap(stringsIn)
  return typeof value === 'object' && value !== null ? Object.values(value).flatMap(stringsIn) : []
}

/** What people typed and what stands in a chair's papers, and the titles of publications: shown as they are. */
export const givenTexts = async (casebook: Casebook<never, never>): Promise<readonly string[]> => {
  const documents = ['team' as const, ...casebook.summaries().map(({ caseId }) => caseId)]
  const records = await Promise.all(documents.map(document => casebook.record(document)))
  const typed = records.flat().flatMap(({ counted }) => stringsIn(counted.entry))
  const printed = stringsIn(casebook.context().catalogue.models)
  const published = Object.values(SOURCES).map(({ title }) => title)
  return [...new Set([...typed, ...printed, ...published])]
    .map(text => text.replace(/\s+/g, ' ').trim().toLocaleLowerCase())
    .filter(text => text.length > 1)
    .sort((a, b) => b.length - a.length)
}

/** Attributes that are read out or shown. */
const SPOKEN_ATTRIBUTES = ['aria-label', 'aria-valuetext', 'aria-description', 'title', 'alt', 'placeholder'] as const

/** Everything that is read on screen or aloud, shadow roots included, one text for each piece. */
export const textsOf = (node: Node): readonly string[] => {
  if (node instanceof Text) return node.data.trim() === '' ? [] : [node.data]
  if (node instanceof HTMLStyleElement || node instanceof SVGStyleElement) return []
  if (node instanceof HTMLOptionElement) return [node.textContent ?? '']
  const own =
    node instanceof Element
      ? SPOKEN_ATTRIBUTES.flatMap(name => node.getAttribute(name) ?? []).filter(text => text !== '')
      : []
  const inner = node instanceof Element && node.shadowRoot ? node.shadowRoot : node
  return [...own, ...[...inner.childNodes].flatMap(textsOf)]
}

const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, '\\$&')

/** What is left of a text once whole given texts, as they were typed, are taken out. */
export const withoutGiven = (given: readonly string[]): ((text: string) => string) => {
  const patterns = given.map(text => new RegExp(`(?<![\\p{L}\\p{N}])${escaped(text)}(?![\\p{L}\\p{N}])`, 'giu'))
  return text =>
    patterns.reduce(
      (left, pattern) => left.replace(pattern, ' '),
      text
        .replace(/[\u2066-\u2069]/g, ' ')
        .replace(/\s+/g, ' ')
        .trim(),
    )
}

export const foreignWords = (left: string, vocabulary: ReadonlySet<string>): readonly string[] =>
  wordsIn(left).filter(word => !vocabulary.has(word))
