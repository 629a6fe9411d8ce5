import type { Catalogue } from '../../src/chair/chair-model.ts'
import type { BuildStep, SheetProblem } from '../../src/preparation/build-sheet.ts'
import type { SettingChange } from '../../src/preparation/built-difference.ts'
import type { Tightening, Torque } from '../../src/preparation/fasteners.ts'
import type { TyrePressure } from '../../src/preparation/tyres.ts'
import { KPA_PER_BAR, KPA_PER_PSI } from '../../src/units.ts'
import { saySettingText } from '../case/set-up-words.ts'
import { en } from '../text/en/index.ts'
import { sayNumber } from '../text/say-value.ts'
import { currentSpeech, type TextKey, t } from '../text/text.ts'

type Pneumatic = Extract<TyrePressure, { readonly type: 'pneumatic' }>

/** Usual steps have their words here; a model's own step carries the words of its papers. */
export const stepTitle = ({ key, title, source }: Pick<BuildStep, 'key' | 'title' | 'source'>): string =>
  source !== 'chair-papers' && Object.hasOwn(en.step, key) ? t(`step.${key}` as TextKey) : title

const SPANNER = /^spanner (\S+) mm$/

/** A tool of the usual steps in the language on screen; a tool that a model's papers name stays as written there. */
export const toolWords = (tool: string): string => {
  const [, size] = SPANNER.exec(tool) ?? []
  if (size !== undefined) return t('tool.spanner', { size: sayNumber(Number(size), 'mm') })
  return Object.hasOwn(en.tool, tool) ? t(`tool.${tool}` as TextKey) : tool
}

/** Written for a setting when a tick is taken back: the step was not done for anything. */
export const NOT_DONE = 'not done'

/** A step that was never done and follows from more settings than these names none: the whole chair is meant. */
const NAMED_CHANGES = 2

/** From what to what, for each setting that brings a step in. */
export const changeWords = (
  changes: readonly SettingChange[],
  catalogue: Catalogue,
  chair: string,
): readonly string[] => {
  const isNew = ({ from, to }: SettingChange): boolean => from === null || from === NOT_DONE || from === to
  if (changes.every(isNew) && changes.length > NAMED_CHANGES) return []
  return changes.map(change => {
    const { setting, from, to } = change
    const name = setting === 'size' ? t('choosing.chairAndSize') : t(`fit.${setting}`)
    const say = (text: string): string => saySettingText(catalogue, chair, setting, text)
    return from === null || isNew(change)
      ? t('preparing.changeNew', { setting: name, to: say(to) })
      : t('preparing.change', { setting: name, from: say(from), to: say(to) })
  })
}

const sayTorqueNm = (torqueNm: number): string => t('preparing.newtonMetres', { value: torqueNm })

/** How tight and how far to trust the figure: print first, else an upper bound with what it assumes. */
export const torqueWords = (torque: Torque): string => {
  if (torque.type === 'unknown') return t('preparing.torqueUnknown')
  const { inputs } = torque.reason
  const values = {
    torque: sayTorqueNm(torque.torqueNm),
    thread: String(inputs.thread),
    propertyClass: String(inputs.propertyClass),
  }
  if (torque.type === 'upper-bound')
    return t('preparing.torqueBound', { ...values, friction: currentSpeech().number(Number(inputs.friction), 2) })
  return t(torque.aboveBound ? 'preparing.torquePrintedAbove' : 'preparing.torquePrinted', values)
}

export const spannerWords = ({ thread, spannerMm }: Tightening): string =>
  t('preparing.spanner', { thread, size: sayNumber(spannerMm, 'mm') })

/** One pressure in the three units that gauges show. */
export const pressureWords = (gaugeKPa: number): string =>
  t('preparing.pressure', {
    kPa: sayNumber(gaugeKPa, 'kPa', 0),
    psi: sayNumber(gaugeKPa / KPA_PER_PSI, 'psi', 0),
    bar: sayNumber(gaugeKPa / KPA_PER_BAR, 'bar', 1),
  })

/** What is right and what the sidewall prints; where the sidewall leaves one pressure only, that it decides. */
export const pressureRangeWords = (pressure: Pneumatic): string => {
  const { leastKPa, mostKPa, sidewallDecides, reason } = pressure
  const kPa = (value: unknown): string => sayNumber(Number(value), 'kPa', 0)
  const isPoint = leastKPa === mostKPa
  const range = t(isPoint ? 'preparing.pressurePoint' : 'preparing.pressureRange', {
    least: kPa(leastKPa),
    most: kPa(mostKPa),
    sidewallLeast: kPa(reason.inputs.sidewallLeastKPa),
    sidewallMost: kPa(reason.inputs.sidewallMostKPa),
  })
  return isPoint || sidewallDecides ? `${range} ${t('preparing.pressureSidewall')}` : range
}

export const problemWords = ({ type, names }: SheetProblem, catalogue: Catalogue): string => {
  const titles = names.map(name =>
    type === 'other-chair'
      ? (catalogue.models.find(one => one.key === name)?.title ?? name)
      : Object.hasOwn(en.step, name)
        ? t(`step.${name}` as TextKey)
        : name,
  )
  return t(`preparing.${type}`, { names: currentSpeech().list(titles) })
}
