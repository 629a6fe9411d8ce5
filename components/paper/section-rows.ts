import { FIELD_NAMES, type FieldName, fieldOf, type Section } from '../../src/case/fields.ts'
import type { PartFacts } from '../case/case-part.ts'
import { sayInFull } from '../case/say-in-full.ts'
import { SET_UP_NAMES, saySetUpValue, setUpName } from '../case/say-set-up.ts'
import { modelIn } from '../case/set-up-words.ts'
import { fieldLabel } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'
import { takenWords, usualTaken } from './taken-words.ts'

/** One thing that is written down, in words. */
export interface Row {
  readonly name: string
  readonly words: string
}

/** Everything that a part of a case says, to be read alone. */
export interface SectionRows {
  readonly rows: readonly Row[]
  /** How most measures of it were taken, said once; empty where few share it. */
  readonly usual: string
  /** Names of risks that were asked and are not so. */
  readonly notSo: readonly string[]
}

const rowOf = (name: FieldName, facts: PartFacts, usual: string): Row | undefined => {
  const { app, view, context } = facts
  const { kind } = fieldOf(name)
  const heads = view.heads[name]
  if (kind === 'event' || !heads || heads.length === 0) return undefined
  const difference = view.differences.find(one => one.field === name)
  const say = (value: unknown): string => sayInFull(name, value, view, context.catalogue)
  if (difference) {
    const options = currentSpeech().either(difference.options.map(option => say(option.value)))
    return { name: fieldLabel(name), words: t('paper.differs', { options }) }
  }
  const value = view.values[name as keyof typeof view.values]
  if (value === undefined || (kind === 'risk' && value === false)) return undefined
  const taken = kind === 'measure' ? takenWords(heads, app.casebook) : usual
  return { name: fieldLabel(name), words: taken === usual ? say(value) : `${say(value)} (${taken})` }
}

const settingsRow = ({ outcome, context }: PartFacts): readonly Row[] => {
  const { target } = outcome
  if (!target) return []
  const model = modelIn(context.catalogue, target.setUp.chair)
  const words = SET_UP_NAMES.filter(
    name => name !== 'chair' && name !== 'cushion' && name !== 'seatWidthMm' && name !== 'seatDepth',
  )
    .filter(name => name !== 'armrestMm' || model?.armrest !== undefined)
    .map(name => `${setUpName(name)} ${saySetUpValue(name, target.setUp[name], model)}`)
  return [{ name: t('paper.settings'), words: currentSpeech().names(words) }]
}

export const rowsOf = (section: Section, facts: PartFacts): SectionRows => {
  const names = FIELD_NAMES.filter(name => fieldOf(name).section === section)
  const usual = usualTaken(names, facts.view, facts.app.casebook)
  const rows = names.flatMap(name => rowOf(name, facts, usual) ?? [])
  const notSo = names.filter(
    name => facts.view.values[name as 'presentSore'] === false && fieldOf(name).kind === 'risk',
  )
  return {
    rows: section === 'choosing' ? [...rows, ...settingsRow(facts)] : rows,
    usual,
    notSo: notSo.map(name => fieldLabel(name).toLowerCase()),
  }
}
