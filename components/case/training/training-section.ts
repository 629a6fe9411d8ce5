import { html } from 'lit'
import { t } from '../../text/text.ts'
import { type CaseFacts, type CaseSection, leftIn, type SectionResult } from '../case-section.ts'
import { TRAINED } from './trained.ts'

const resultOf = (facts: CaseFacts): SectionResult => {
  const { values } = facts.view
  const left = leftIn(facts, 'training')
  const count = TRAINED.filter(field => values[field]?.demonstrated === true).length
  const { caregiverName: name } = values
  if (count === 0) return { text: t('training.resultNone'), left }
  if (count === TRAINED.length && !name) return { text: t('training.resultAll'), left }
  const total = TRAINED.length
  const text = name ? t('training.resultCaregiver', { count, total, name }) : t('training.resultSome', { count, total })
  return { text, left }
}

export const trainingSection: CaseSection = {
  key: 'training',
  title: 'frame.training',
  result: resultOf,
  load: () => import('./spoke-training.ts'),
  render: ({ view, outcome }) => html`<spoke-training .view=${view} .outcome=${outcome}></spoke-training>`,
}
