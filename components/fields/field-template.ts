import { html, type TemplateResult } from 'lit'
import type { CaseView } from '../../src/case/case-view.ts'
import { type FieldName, fieldOf } from '../../src/case/fields.ts'
import type { Edit } from '../controllers/draft.ts'
import { answersOf, isNumber } from './answers-of.ts'
import './spoke-agreement.ts'
import './spoke-choice.ts'
import './spoke-date.ts'
import './spoke-flag.ts'
import './spoke-limb-loss.ts'
import './spoke-loads.ts'
import './spoke-many.ts'
import './spoke-number.ts'
import './spoke-reading.ts'
import './spoke-text.ts'

export interface FieldFacts {
  /** Absent for a case that is not written down yet. */
  readonly view: CaseView | undefined
  readonly edit: Edit | undefined
  readonly error: string
}

/** The element for a field, by its kind in the registry. */
export const fieldTemplate = (name: FieldName, { view, edit, error }: FieldFacts): TemplateResult => {
  switch (fieldOf(name).kind) {
    case 'measure':
      return html`<spoke-reading .name=${name} .view=${view} .edit=${edit} .error=${error}></spoke-reading>`
    case 'risk':
      return html`<spoke-flag .name=${name} .view=${view} .edit=${edit} .error=${error}></spoke-flag>`
    case 'text':
      return html`<spoke-text .name=${name} .view=${view} .edit=${edit} .error=${error}></spoke-text>`
    case 'date':
      return html`<spoke-date .name=${name} .view=${view} .edit=${edit} .error=${error}></spoke-date>`
    case 'check':
    case 'event':
      throw new Error(`${name} is shown by its own part of the case, not by a field`)
    case 'choice':
      return choiceTemplate(name, { view, edit, error })
  }
}

const choiceTemplate = (name: FieldName, { view, edit, error }: FieldFacts): TemplateResult => {
  if (name === 'limbLossLeft' || name === 'limbLossRight')
    return html`<spoke-limb-loss .name=${name} .view=${view} .edit=${edit} .error=${error}></spoke-limb-loss>`
  if (name === 'loads')
    return html`<spoke-loads .name=${name} .view=${view} .edit=${edit} .error=${error}></spoke-loads>`
  if (name === 'toldAndAgreed')
    return html`<spoke-agreement .name=${name} .view=${view} .edit=${edit} .error=${error}></spoke-agreement>`
  if (isNumber(name))
    return html`<spoke-number .name=${name} .view=${view} .edit=${edit} .error=${error}></spoke-number>`
  return answersOf(name).many
    ? html`<spoke-many .name=${name} .view=${view} .edit=${edit} .error=${error}></spoke-many>`
    : html`<spoke-choice .name=${name} .view=${view} .edit=${edit} .error=${error}></spoke-choice>`
}
