import { html } from 'lit'
import type { Catalogue } from '../../../src/chair/chair-model.ts'
import { t } from '../../text/text.ts'
import { type CaseFacts, type CaseSection, leftIn, type SectionResult } from '../case-section.ts'
import { cushionTitle, modelIn, saySize } from '../set-up-words.ts'

const NO_CATALOGUE: Catalogue = { catalogue: 1, title: '', models: [] }

const resultOf = (facts: CaseFacts): SectionResult => {
  const { view, outcome, catalogue } = facts
  const left = leftIn(facts, 'choosing')
  const { cannotIssue } = view.values
  if (cannotIssue) {
    const key = { wait: 'resultWait', refer: 'resultRefer', 'temporary-chair': 'resultTemporary' } as const
    return { text: t(`choosing.${key[cannotIssue.what]}`, { why: cannotIssue.why }), left, calls: 'warn' }
  }
  const { target, recommendation } = outcome
  const models = catalogue ?? NO_CATALOGUE
  if (target) {
    const { setUp, broken } = target
    const size = saySize(models, setUp)
    const text = t('choosing.resultChosen', {
      size,
      cushion: cushionTitle(modelIn(models, setUp.chair), setUp.cushion),
    })
    return broken
      ? { text: t('choosing.resultBroken', { size, rule: t(`rule.${broken.rule}`) }), left, calls: 'danger' }
      : { text, left }
  }
  if (recommendation.considered.setUps === 0) return { text: t('choosing.resultMissing'), left }
  const [best] = recommendation.options
  if (!best) return { text: t('choosing.resultNothingServes'), left, calls: 'danger' }
  return { text: t('choosing.resultNone', { size: saySize(models, best.setUp) }), left }
}

export const choosingSection: CaseSection = {
  key: 'choosing',
  title: 'frame.choosing',
  result: resultOf,
  load: () => import('./spoke-choosing.ts'),
  render: ({ view, outcome }) => html`<spoke-choosing .view=${view} .outcome=${outcome}></spoke-choosing>`,
}
