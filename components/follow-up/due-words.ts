import type { CalendarDate } from '../../src/calendar-date.ts'
import type { CaseView } from '../../src/case/case-view.ts'
import { isFieldName } from '../../src/case/fields.ts'
import type { Due } from '../../src/follow-up/due.ts'
import type { ReasonInput } from '../../src/reason.ts'
import { en } from '../text/en/index.ts'
import { fieldLabel } from '../text/say-value.ts'
import { currentSpeech, type TextKey, t } from '../text/text.ts'

const DATE = /^\d{4}-\d\d-\d\d$/
const small = (words: string): string => words.charAt(0).toLowerCase() + words.slice(1)

/** Reasons for priority come as names of risks; a child by that word. */
const sayName = (name: string): string => {
  if (name === 'child') return t('followUp.child')
  return isFieldName(name) ? small(fieldLabel(name)) : name
}

const sayInput = (name: string, value: ReasonInput): string | number => {
  if (value === null) return ''
  if (typeof value === 'number') return value
  const words = String(value)
  if (DATE.test(words)) return currentSpeech().date(words as CalendarDate)
  if (name === 'because' || name === 'risk') return currentSpeech().list(words.split(', ').map(sayName))
  if (name === 'part' && (words === 'fit' || words === 'chair' || words === 'skills')) return t(`followUp.${words}`)
  return words
}

/** Why it falls due when it does. */
export const dueWhy = ({ reason }: Pick<Due, 'reason'>): string => {
  const key = `dueRule.${reason.rule}`
  if (!Object.hasOwn(en.dueRule, reason.rule)) throw new Error(`no wording for the due rule ${reason.rule}`)
  return t(
    key as TextKey,
    Object.fromEntries(Object.entries(reason.inputs).map(([name, value]) => [name, sayInput(name, value)])),
  )
}

/** What is to be done, with what it is about: the problem as reported, the tyre, the part found wrong. */
export const dueWhat = ({ key, kind, reason }: Due, view: CaseView): string => {
  const what = t(`due.${kind}`)
  const about = key.split(' ')[1] ?? ''
  if (kind === 'problem') {
    const reported = view.events.problem.findLast(event => event.value.key === reason.inputs.problem)
    return reported ? t('followUp.whatAbout', { what, about: reported.value.what }) : what
  }
  if (kind === 'tyre') return t('followUp.whatAbout', { what, about: t(`followUp.${about}` as TextKey) })
  return what
}

/** The day, or for a forecast the stretch of days. */
export const dueWhen = ({ date, window, state }: Due): string => {
  const day = (one: CalendarDate): string => currentSpeech().date(one)
  if (window && window.from !== window.to) return t('followUp.about', { from: day(window.from), to: day(window.to) })
  return t(state === 'overdue' ? 'followUp.was' : 'followUp.by', { date: day(date) })
}
