import type { CalendarDate } from '../../src/calendar-date.ts'
import type { CaseView } from '../../src/case/case-view.ts'
import { type EventName, eventDate } from '../../src/case/event-date.ts'
import type { FieldValue } from '../../src/case/fields.ts'
import type { Catalogue } from '../../src/chair/chair-model.ts'
import type { DeviceId } from '../../src/ids.ts'
import { atStart, optionLabel, sayNumber } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'

/** Steps of preparing and photos have their own places. */
type Told = Exclude<EventName, 'stepDone' | 'photo' | 'photoRemoved'>

/** Sentences one after the other; what was left open is left out. */
const inTurn = (sentences: readonly (string | undefined)[]): string => sentences.filter(one => one).join('. ')

const IN_USE = { daily: 'followUp.saidDaily', sometimes: 'followUp.saidSometimes', no: 'followUp.saidNotUsed' } as const

const sayContent = ({
  satisfactionChair: chair,
  satisfactionService: service,
}: FieldValue<'review'>): string | undefined => {
  const parts = [
    ...(chair === undefined ? [] : [t('followUp.saidContentChair', { grade: chair })]),
    ...(service === undefined ? [] : [t('followUp.saidContentService', { grade: service })]),
  ]
  return parts.length === 0 ? undefined : atStart(currentSpeech().list(parts))
}

const sayReview = (review: FieldValue<'review'>): string => {
  const { fit, skin, chair, skills, skinHealedWhy, inUse, note } = review
  const parts = Object.entries({ fit, skin, chair, skills }).map(
    ([part, grade]) => `${t(`followUp.${part as 'fit'}`)} ${optionLabel('fitSize', grade).toLowerCase()}`,
  )
  return inTurn([
    t('followUp.saidReview', { parts: currentSpeech().list(parts) }),
    skinHealedWhy && t('followUp.saidHealed', { why: skinHealedWhy }),
    inUse && t(IN_USE[inUse]),
    sayContent(review),
    note,
  ])
}

const sayRepair = ({ part, fault, cause, chairUsable, doneBy }: FieldValue<'repair'>): string => {
  const what = t('followUp.saidRepair', { part, fault })
  return inTurn([
    doneBy ? t('followUp.saidRepairBy', { what, who: doneBy }) : what,
    cause && t('followUp.saidCause', { cause }),
    chairUsable ? undefined : t('followUp.saidUnusable'),
  ])
}

const sayTyre = (reading: FieldValue<'tyreReading'>): string => {
  const { tyre, foundKPa, leftKPa, celsius, altitudeM, puncture } = reading
  const kPa = (value: number): string => sayNumber(value, 'kPa', 0)
  const readings = [
    ...(foundKPa === undefined ? [] : [t('followUp.saidTyreFound', { value: kPa(foundKPa) })]),
    ...(leftKPa === undefined ? [] : [t('followUp.saidTyreLeft', { value: kPa(leftKPa) })]),
    ...(puncture ? [t('followUp.saidPuncture')] : []),
  ]
  const air = t('followUp.saidAir', {
    celsius: sayNumber(celsius, 'celsius', 0),
    altitude: sayNumber(altitudeM, 'm', 0),
  })
  return t('followUp.saidTyre', { tyre: t(`followUp.${tyre}`), readings: currentSpeech().list(readings), air })
}

const sayHandover = ({ serialNumber: serial, temporaryUntil }: FieldValue<'handover'>): string => {
  if (temporaryUntil) return t('followUp.saidTemporary', { until: currentSpeech().date(temporaryUntil) })
  return serial ? t('followUp.saidHandoverSerial', { serial }) : t('followUp.saidHandover')
}

const cushionTitle = (catalogue: Catalogue, key: string): string =>
  catalogue.models.flatMap(model => model.cushions).find(cushion => cushion.key === key)?.title ?? key

const WORDS: { readonly [Name in Told]: (value: FieldValue<Name>, catalogue: Catalogue) => string } = {
  review: sayReview,
  repair: sayRepair,
  tyreReading: sayTyre,
  handover: sayHandover,
  notFound: ({ why }) => t('followUp.saidNotFound', { why }),
  skinLook: ({ found }) => t('followUp.saidSkinLook', { found: t(`followUp.${found}`).toLowerCase() }),
  problem: ({ unsafe, what }) => t(unsafe ? 'followUp.saidProblemUnsafe' : 'followUp.saidProblem', { what }),
  stature: ({ mm }) => t('followUp.saidStature', { value: sayNumber(mm, 'mm', 0) }),
  chairReturned: ({ serialNumber: serial }) =>
    serial ? t('followUp.saidReturnedSerial', { serial }) : t('followUp.saidReturned'),
  cushionIssued: ({ cushion }, catalogue) => t('followUp.saidCushion', { cushion: cushionTitle(catalogue, cushion) }),
}

/** Every kind of event that a history tells; the test of wording goes through them. */
export const TOLD_EVENTS = Object.keys(WORDS) as readonly Told[]

export interface Happened {
  readonly id: string
  readonly on: CalendarDate
  readonly by: DeviceId
  readonly words: string
}

/** What happened with the chair, the latest first. */
export const historyOf = ({ events }: CaseView, catalogue: Catalogue): readonly Happened[] =>
  TOLD_EVENTS.flatMap(name => told(name, events, catalogue)).sort((a, b) => (a.on < b.on ? 1 : a.on > b.on ? -1 : 0))

const told = <Name extends Told>(name: Name, events: CaseView['events'], catalogue: Catalogue): readonly Happened[] =>
  (events[name] as readonly { id: string; by: DeviceId; value: FieldValue<Name> }[]).map(({ id, by, value }) => ({
    id: `${name} ${id}`,
    by,
    on: eventDate(name, value),
    words: WORDS[name](value, catalogue),
  }))
