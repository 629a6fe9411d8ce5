import type { CaseView } from '../../src/case/case-view.ts'
import { type FieldName, fieldOf } from '../../src/case/fields.ts'
import { atStart, fieldLabel, sayValue } from '../text/say-value.ts'
import { t } from '../text/text.ts'
import type { QuestionGroup } from './question-group.ts'

/** Answers that need their field's name before them to be understood. */
const NAMED = (name: FieldName): boolean => {
  const { kind } = fieldOf(name)
  return kind === 'measure' || kind === 'date' || NAMED_CHOICES.includes(name)
}
const NAMED_CHOICES: readonly FieldName[] = [
  'handGrip',
  'shoulderPain',
  'limbLossLeft',
  'limbLossRight',
  'armLossLeft',
  'armLossRight',
  'supports',
  'photoAgreed',
  'referredBy',
  'interpreter',
  'spokenLanguage',
  'presentChair',
  'otherNames',
  'ground',
]

const lowerStart = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1)

export const isSaid = (view: CaseView, field: FieldName): boolean => (view.heads[field] ?? []).length > 0

/** What was answered to a question, as one sentence; empty where nothing was. Risks that are not so are told together. */
export const groupAnswer = (view: CaseView, { fields }: QuestionGroup): string => {
  const value = (field: FieldName): unknown => view.values[field as keyof CaseView['values']]
  const risks = fields.filter(field => fieldOf(field).kind === 'risk')
  const raised = risks.filter(field => value(field) === true).map(field => lowerStart(fieldLabel(field)))
  const allNo = risks.length > 0 && risks.every(field => value(field) === false)
  const others = fields
    .filter(field => !risks.includes(field) && value(field) !== undefined)
    .map(field => {
      const words = sayValue(field, value(field))
      if (NAMED(field))
        return `${lowerStart(fieldLabel(field))} ${fieldOf(field).kind === 'choice' ? lowerStart(words) : words}`
      return fieldOf(field).kind === 'text' ? words : lowerStart(words)
    })
  return atStart([...(allNo ? [t('form.noToAll')] : raised), ...others].join('; '))
}
