import { html } from 'lit'
import type { CaseView } from '../../../src/case/case-view.ts'
import { currentSpeech, t } from '../../text/text.ts'
import { type CaseFacts, type CaseSection, leftIn, type SectionResult } from '../case-section.ts'

type Values = CaseView['values']
type Looked = 'ok' | 'problem' | undefined

const graded = (value: Values['fitSize']): Looked => (value === 'not-done' ? undefined : value)
const pressed = ({ handCheckLeft, handCheckRight }: Values): Looked => {
  if (handCheckLeft === 'pinched' || handCheckRight === 'pinched') return 'problem'
  return handCheckLeft && handCheckRight ? 'ok' : undefined
}

const resultOf = (facts: CaseFacts): SectionResult => {
  const { values } = facts.view
  const left = leftIn(facts, 'fitting')
  if (!facts.outcome.target) return { text: t('fitting.resultNoChair'), left }
  const parts: readonly (readonly [string, Looked])[] = [
    [t('fitting.size'), graded(values.fitSize)],
    [t('fitting.posture'), graded(values.fitPosture)],
    [t('fitting.pressureShort'), pressed(values)],
    [t('fitting.moving'), graded(values.fitMoving)],
  ]
  const small = (wanted: Looked): readonly string[] =>
    parts.filter(([, looked]) => looked === wanted).map(([name]) => name.toLowerCase())
  const problems = small('problem')
  if (problems.length > 0)
    return { text: t('fitting.resultProblem', { parts: currentSpeech().list(problems) }), left, calls: 'danger' }
  const open = small(undefined)
  if (open.length === parts.length) return { text: t('fitting.resultNone'), left }
  if (open.length > 0) return { text: t('fitting.resultLeft', { parts: currentSpeech().list(open) }), left }
  return { text: t('fitting.resultOk'), left }
}

export const fittingSection: CaseSection = {
  key: 'fitting',
  title: 'frame.fitting',
  result: resultOf,
  load: () => import('./spoke-fitting.ts'),
  photos: ['seated-front', 'seated-side', 'seated-behind'],
  render: ({ view, outcome }) => html`<spoke-fitting .view=${view} .outcome=${outcome}></spoke-fitting>`,
}
