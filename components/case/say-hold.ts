import type { Difference } from '../../src/case/case-view.ts'
import type { WeighedDifference } from '../../src/case/differences.ts'
import { checkFieldName, type FieldName, isFieldName } from '../../src/case/fields.ts'
import type { CheckKey } from '../../src/chair/chair-model.ts'
import type { Hold } from '../../src/fitting/reason.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import { fieldLabel, inside, sayValue } from '../text/say-value.ts'
import { currentSpeech, type TextKey, t } from '../text/text.ts'

/** Holds that only say what is still to be done; the others stand in the way. */
const STILL_TO_DO = ['not-chosen', 'measures-missing', 'build-not-finished', 'checks-not-done']

export const isInTheWay = (hold: Hold): boolean => !STILL_TO_DO.includes(hold.key)

/** Field names kept as words apart by spaces, as the labels of a list. */
export const sayFields = (names: readonly string[]): string =>
  currentSpeech().names(names.filter(isFieldName).map(name => inside(fieldLabel(name))))

/** More than so many names make no sentence. */
const NAMED = 2

/** The first names, and how many more there are. */
export const sayFew = (names: readonly FieldName[]): string => {
  if (names.length <= NAMED + 1) return sayFields(names)
  const more = t('frame.andMore', { count: names.length - NAMED })
  return currentSpeech().names([...names.slice(0, NAMED).map(name => sayFields([name])), more])
}

const sayChecks = (keys: string): string => sayFew(keys.split(' ').map(key => checkFieldName(key as CheckKey)))

/** The values that differ: 368 or 394 mm. */
export const sayOptions = ({ field, options }: Difference | WeighedDifference): string =>
  currentSpeech().either(options.map(option => sayValue(field, option.value)))

const sayDifference = (hold: Hold, outcome: Pick<Outcome, 'differences'>): string => {
  const field = String(hold.reason.inputs.field)
  const difference = outcome.differences.find(one => one.field === field)
  if (!difference) throw new Error(`a hold for a difference of ${field} that is not open`)
  const key = difference.effect === 'too-many' ? 'hold.differenceUnweighed' : 'hold.difference'
  return t(key, { field: fieldLabel(difference.field), options: sayOptions(difference) })
}

/** A hold in words: what it is and what would end it. */
export const sayHold = (hold: Hold, outcome: Pick<Outcome, 'differences'>): string => {
  const { inputs } = hold.reason
  const words = (name: string): string => String(inputs[name] ?? '')
  switch (hold.key) {
    case 'difference':
      return sayDifference(hold, outcome)
    case 'measure-again':
      return t('hold.measure-again', { fields: sayFields(words('fields').split(' ')) })
    case 'measures-missing':
      return t('hold.measures-missing', { fields: sayFields(words('needs').split(' ')) })
    case 'build-not-finished':
      return t('hold.build-not-finished', { count: words('steps').split(' ').length })
    case 'checks-failed':
    case 'checks-stale':
    case 'checks-not-done':
      return t(`hold.${hold.key}`, { checks: sayChecks(words('checks')) })
    case 'written-by-later-version':
      return t('hold.written-by-later-version', { field: fieldLabel(words('field') as FieldName) })
    case 'chosen-breaks-rule':
      return t('hold.chosen-breaks-rule', { rule: t(`rule.${words('rule')}` as TextKey) })
    case 'cannot-issue-wait': {
      const { until } = inputs
      return typeof until === 'string'
        ? t('hold.cannot-issue-waitUntil', {
            until: currentSpeech().date(until as Outcome['today']),
            why: words('why'),
          })
        : t('hold.cannot-issue-wait', { why: words('why') })
    }
    case 'cannot-issue-refer':
      return t('hold.cannot-issue-refer', { why: words('why') })
    default:
      return t(`hold.${hold.key}`)
  }
}

/** Where a hold is dealt with. */
export const sectionOfHold = (hold: Hold): string => {
  if (hold.key === 'difference') return 'differences'
  if (hold.key === 'measure-again') return 'measuring'
  if (hold.key.startsWith('checks-')) return 'checks'
  if (hold.key.startsWith('chosen-') || hold.key === 'no-chair-serves' || hold.key.startsWith('cannot-issue'))
    return 'choosing'
  if (/^(?:fitting|pressure|skin|brakes|strap)-/.test(hold.key)) return 'fitting'
  return 'assessment'
}
