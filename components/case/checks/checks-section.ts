import { html } from 'lit'
import { checkFieldName } from '../../../src/case/fields.ts'
import { t } from '../../text/text.ts'
import { type CaseFacts, type CaseSection, leftIn, type SectionResult } from '../case-section.ts'
import { sayFew } from '../say-hold.ts'

const resultOf = (facts: CaseFacts): SectionResult => {
  const { checks } = facts.outcome
  const settled = checks.filter(one => one.state === 'passed' || one.state === 'not-applicable').length
  const left = Math.max(leftIn(facts, 'checks'), checks.length - settled)
  if (checks.length === 0) return { text: t('checking.resultNoChair'), left }
  const named = (state: 'failed' | 'stale'): string =>
    sayFew(checks.filter(one => one.state === state).map(one => checkFieldName(one.check)))
  const failed = named('failed')
  if (failed !== '') return { text: t('checking.resultFailed', { checks: failed }), left, calls: 'danger' }
  const stale = named('stale')
  if (stale !== '') return { text: t('checking.resultStale', { checks: stale }), left, calls: 'warn' }
  return settled === checks.length
    ? { text: t('checking.resultAll', { count: settled }), left }
    : { text: t('checking.resultSome', { passed: settled, total: checks.length }), left }
}

export const checksSection: CaseSection = {
  key: 'checks',
  title: 'frame.checks',
  result: resultOf,
  load: () => import('./spoke-checks.ts'),
  render: ({ view, outcome }) => html`<spoke-checks .view=${view} .outcome=${outcome}></spoke-checks>`,
}
