import { html, type TemplateResult } from 'lit'
import { type FieldName, fieldOf } from '../../src/case/fields.ts'
import type { Edit } from '../controllers/draft.ts'
import { answersOf, isNumber, isYesOrNo } from '../fields/answers-of.ts'
import { fieldTemplate } from '../fields/field-template.ts'

/** False for what is decided or read from the chair in its own part of the case. */
export const canAnswerAnew = (field: FieldName): boolean => {
  const { kind } = fieldOf(field)
  if (kind === 'measure' || kind === 'date' || kind === 'text') return true
  if (field.startsWith('built') || kind !== 'choice') return false
  if (field.startsWith('limbLoss') || field === 'loads' || field === 'toldAndAgreed') return true
  return answersOf(field).options.length > 0 || isYesOrNo(field) || isNumber(field)
}

/** The field's own control. It is not shown what stands: a value taken anew is not led by the earlier ones. */
export const answerAnew = (field: FieldName, edit: Edit | undefined, error: string): TemplateResult =>
  fieldOf(field).kind === 'measure'
    ? html`<spoke-reading pad fresh .name=${field} .edit=${edit} .error=${error}></spoke-reading>`
    : fieldTemplate(field, { view: undefined, edit, error })
