import type { EventName } from '../../src/case/event-date.ts'
import type { FieldValue } from '../../src/case/fields.ts'
import type { Answer } from '../case/answers.ts'
import type { PartFacts } from '../case/case-part.ts'
import type { TextKey } from '../text/text.ts'

/** What a person has filled in so far. Numbers stay as typed until the event is made. */
export type Said = Readonly<Record<string, string | boolean | number | undefined>>

interface PartBase {
  readonly key: string
  readonly label: TextKey
  readonly hint?: TextKey
  /** Not asked for where it is left out. */
  readonly needed: boolean
}
/** One question of a form. */
export type Part = PartBase &
  (
    | { readonly kind: 'date' }
    | {
        readonly kind: 'answers'
        readonly answers: readonly Answer<string | boolean | number>[]
        readonly tiny?: boolean
      }
    | {
        readonly kind: 'text'
        readonly most: number
        readonly lines?: number
        readonly suggestions?: readonly string[]
      }
    | {
        readonly kind: 'number'
        readonly least: number
        readonly most: number
        /** The unit that is kept: a refusal says the limits in it. */
        readonly unit: 'mm' | 'kPa' | 'celsius' | 'm'
        /** What the typed number comes to in the unit that is kept. */
        readonly inOwnUnit?: (typed: number) => { readonly value: number; readonly words: string }
      }
  )

/** How one kind of event is written down. */
export interface EventFormSpec<Name extends EventName = EventName> {
  readonly name: Name
  readonly title: TextKey
  readonly hint?: TextKey
  isShown?(facts: PartFacts): boolean
  /** Filled in to begin with. */
  defaults(facts: PartFacts): Said
  parts(facts: PartFacts, said: Said): readonly Part[]
  /** What the whole lacks beyond its parts: where it is said, and the words. */
  lacks?(said: Said): { readonly key: string; readonly words: TextKey } | undefined
  toEvent(said: Said, facts: PartFacts): FieldValue<Name>
  /** Risks that the event shows: they are stated along with it. */
  risks?(said: Said): readonly ('presentSore' | 'trainingTrouble')[]
}

export const text = (said: Said, key: string): string => String(said[key] ?? '').trim()
/** The text, or nothing at all: an empty part is left out of an event. */
export const textPart = <Key extends string>(said: Said, key: Key): { readonly [Name in Key]?: string } => {
  const words = text(said, key)
  return words === '' ? {} : ({ [key]: words } as { readonly [Name in Key]?: string })
}
