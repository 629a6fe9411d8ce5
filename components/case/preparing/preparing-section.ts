import { html } from 'lit'
import { t } from '../../text/text.ts'
import { type CaseFacts, type CaseSection, leftIn, type SectionResult } from '../case-section.ts'
import { saySize } from '../set-up-words.ts'

const resultOf = (facts: CaseFacts): SectionResult => {
  const { view, outcome, catalogue } = facts
  const { build, target } = outcome
  const left = Math.max(leftIn(facts, 'preparing'), build?.steps.length ?? 0)
  if (!build || !target) return { text: t('preparing.resultNoChair'), left }
  const open = build.steps.length
  if (open > 0) {
    const redo = build.steps.some(step => step.state === 'redo' || step.state === 'contradicted')
    const text = t('preparing.resultLeft', { count: open, total: open + build.done.length })
    return redo ? { text, left, calls: 'warn' } : { text, left }
  }
  const chair = saySize(catalogue ?? { catalogue: 1, title: '', models: [] }, target.setUp)
  const serial = view.values.serialNumber
  return { text: serial ? t('preparing.resultSerial', { chair, serial }) : t('preparing.resultBuilt', { chair }), left }
}

export const preparingSection: CaseSection = {
  key: 'preparing',
  title: 'frame.preparing',
  result: resultOf,
  load: () => import('./spoke-preparing.ts'),
  photos: ['chair', 'part'],
  render: ({ view, outcome }) => html`<spoke-preparing .view=${view} .outcome=${outcome}></spoke-preparing>`,
}
