import type { CalendarDate } from '../../src/calendar-date.ts'
import type { Head } from '../../src/case/case-view.ts'
import { type Check, type FieldName, fieldOf, type NamesOfKind, type Reading } from '../../src/case/fields.ts'
import { attributionOf } from '../../src/crew/attribution.ts'
import type { DeviceId } from '../../src/ids.ts'
import { type Quantity, roundTo, UNITS_BY_QUANTITY } from '../../src/units.ts'
import type { AppCasebook } from '../app/context.ts'
import { en } from './en/index.ts'
import { currentSpeech, type TextKey, t } from './text.ts'

type MeasureName = NamesOfKind<'measure'>

export const fieldLabel = (name: FieldName): string => t(`field.${name}`)

/** Fields of both sides, and fields with the same answers, share their wording. */
const FAMILY: { readonly [Name in FieldName]?: string } = {
  limbLossLeft: 'limbLoss',
  limbLossRight: 'limbLoss',
  armLossLeft: 'armLoss',
  armLossRight: 'armLoss',
  fitSize: 'fit',
  fitPosture: 'fit',
  fitMoving: 'fit',
  handCheckLeft: 'handCheck',
  handCheckRight: 'handCheck',
  handCheckLeftNoCushion: 'handCheck',
  handCheckRightNoCushion: 'handCheck',
}
const optionKey = (family: string, answer: string): string => `${FAMILY[family as FieldName] ?? family} ${answer}`

/** The words of one answer of a field, or of a part of one (`how`, `loads`). */
export const optionLabel = (family: FieldName | 'how' | 'limbLoss' | 'armLoss' | 'check', answer: string): string =>
  t(`option.${optionKey(family, answer)}` as TextKey)

/** What to look for in an answer, or what it brings; undefined where nothing needs saying. */
export const optionHint = (family: FieldName | 'how', answer: string): string | undefined => {
  const key = optionKey(family, answer)
  return Object.hasOwn(en.optionHint, key) ? t(`optionHint.${key}` as TextKey) : undefined
}

export const yesOrNo = (value: boolean): string => t(value ? 'option.yes' : 'option.no')

/** A number with its unit, kept on one line: 368 mm, 24 °C; only degrees of an angle stand close, 12° (SI Brochure 9, 5.4.3). */
export const sayNumber = (value: number, unit: string, decimals = 1): string => {
  const written = currentSpeech().number(value, decimals)
  const sign = t(`unit.${unit}` as TextKey)
  return sign === '' ? written : sign === '°' ? `${written}${sign}` : `${written}\u00a0${sign}`
}

/** The unit in which a quantity is kept and computed. */
export const ownUnit = (quantity: Quantity): string => Object.keys(UNITS_BY_QUANTITY[quantity])[0] ?? ''

export const quantityOf = (name: MeasureName): Quantity => {
  const field = fieldOf(name)
  if (field.kind !== 'measure') throw new Error(`${name} is no measure`)
  return field.quantity
}

/** A measure in its field's own unit. */
export const sayMeasure = (name: MeasureName, value: number): string =>
  sayNumber(roundTo(value, 1), ownUnit(quantityOf(name)))

/** A reading as it was typed: 14.5 in; of two weighings both: 78.4 kg − 16.2 kg. */
export const sayReading = ({ typed, less, unit }: Reading): string =>
  less === undefined
    ? sayNumber(typed, unit, 3)
    : t('measuring.between', { together: sayNumber(typed, unit, 3), alone: sayNumber(less, unit, 3) })

type LimbLoss = { readonly level: string; readonly remainingFraction?: number } | null
interface Load {
  readonly massKg: number
  readonly at: string
  readonly when?: string
}

const sayLimbLoss = (loss: LimbLoss): string => {
  if (loss === null) return optionLabel('limbLoss', 'none')
  const level = optionLabel('limbLoss', loss.level)
  const { remainingFraction: left } = loss
  return left === undefined ? level : `${level} (${t('form.percent', { count: Math.round(left * 100) })})`
}

const sayLoads = (loads: readonly Load[]): string =>
  loads.length === 0
    ? t('form.carriesNothing')
    : currentSpeech().list(
        loads.map(({ massKg, at }) => `${sayNumber(massKg, 'kg')} ${optionLabel('loads', at).toLowerCase()}`),
      )

const sayParts = (value: object): string =>
  currentSpeech().series(
    Object.values(value)
      .filter(part => typeof part === 'string' || typeof part === 'number')
      .map(String),
  )

/** Any value of a field in words: as an entry states it, or as the view resolves it. */
export const sayValue = (name: FieldName, value: unknown): string => {
  const { kind } = fieldOf(name)
  if (kind === 'measure')
    return typeof value === 'number' ? sayMeasure(name as MeasureName, value) : sayReading(value as Reading)
  if (kind === 'date') return currentSpeech().date(value as CalendarDate)
  if (kind === 'text') return String(value)
  if (typeof value === 'boolean') return yesOrNo(value)
  if (kind === 'check') return optionLabel('check', (value as Check).result)
  if (name === 'limbLossLeft' || name === 'limbLossRight') return sayLimbLoss(value as LimbLoss)
  if (name === 'loads') return sayLoads(value as readonly Load[])
  if (name === 'toldAndAgreed') return sayAgreement(value as { readonly told: boolean; readonly agreed: boolean })
  if (Array.isArray(value))
    return value.length === 0
      ? t('option.none')
      : currentSpeech().list(value.map(one => optionLabel(name, String(one)).toLowerCase()))
  if (value === null) return name.startsWith('armLoss') ? optionLabel('armLoss', 'none') : t('option.none')
  if (typeof value === 'string' && Object.hasOwn(en.option, optionKey(name, value))) return optionLabel(name, value)
  return typeof value === 'object' ? sayParts(value) : String(value)
}

export const sayAgreement = ({ told, agreed }: { readonly told: boolean; readonly agreed: boolean }): string =>
  t(!told ? 'frame.notTold' : agreed ? 'frame.toldAgreed' : 'frame.toldNotAgreed')

/** Text that does not stand in Latin letters keeps its own direction and turns nothing beside it (UAX 9, isolates). */
const isolated = (name: string): string =>
  /^[\p{Script=Latin}\p{Script=Common}]*$/u.test(name) ? name : `\u2068${name}\u2069`

/**
 * Who wrote an entry: the verified member of the device that signed it, under the name in the crew. Two of one name are
 * told apart by the first letters of their devices.
 */
export const sayName = (casebook: AppCasebook, device: DeviceId): string => {
  const attribution = attributionOf(casebook.crew(), device)
  if (!attribution) return t('form.unknownDevice')
  const { name, mark } = attribution
  return mark === null ? isolated(name) : t('crew.marked', { name: isolated(name), mark })
}

/** As `sayName`; the own device is said to be this one. */
export const sayWho = (casebook: AppCasebook, device: DeviceId): string => {
  const name = sayName(casebook, device)
  return device === casebook.device && casebook.crew().members.has(device) ? t('form.thisDevice', { name }) : name
}

/** Who took a reading: who held the tape, and who typed it where that was somebody else. */
export const sayWhoMeasured = (casebook: AppCasebook, { by, value }: Head): string => {
  const typist = sayWho(casebook, by)
  const { measuredBy } = value as Reading
  return measuredBy === undefined ? typist : t('measuring.typedBy', { who: measuredBy, typist })
}

/** A name within a sentence: its first letter small. */
export const inside = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1)

/** A sentence part put first: its first letter large. */
export const atStart = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1)
