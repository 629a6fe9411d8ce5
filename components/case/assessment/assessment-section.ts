import { html } from 'lit'
import type { NamesOfKind } from '../../../src/case/fields.ts'
import { atStart, fieldLabel, inside, optionLabel, sayValue } from '../../text/say-value.ts'
import { currentSpeech, t } from '../../text/text.ts'
import { type CaseFacts, type CaseSection, leftIn } from '../case-section.ts'
import { ASSESSMENT_GROUPS, RISKS } from './assessment-groups.ts'

/** Risks that are so, in words. */
const risksIn = ({ view }: CaseFacts): readonly NamesOfKind<'risk'>[] =>
  RISKS.filter(risk => view.values[risk] === true)

/** Moved by both hands, pushed by others. */
const movesBy = (propulsion: readonly string[]): readonly string[] => {
  const own = propulsion.filter(one => one !== 'pushed')
  return [
    ...(own.length > 0 ? [t('frame.movesBy', { how: sayValue('propulsion', own) })] : []),
    ...(own.length < propulsion.length ? [inside(optionLabel('propulsion', 'pushed'))] : []),
  ]
}

const sentenceOf = (facts: CaseFacts): string => {
  const { posture, trunkNeed, propulsion, ground } = facts.view.values
  const sitting = [
    posture === undefined ? undefined : optionLabel('posture', posture),
    trunkNeed === undefined ? undefined : optionLabel('trunkNeed', trunkNeed).toLowerCase(),
    ...movesBy(propulsion ?? []),
    ground === undefined ? undefined : t('frame.onGround', { ground: optionLabel('ground', ground).toLowerCase() }),
  ].filter(part => part !== undefined)
  const risks = risksIn(facts).map(risk => fieldLabel(risk).toLowerCase())
  const sentences = [sitting, risks]
    .filter(parts => parts.length > 0)
    .map(parts => `${atStart(currentSpeech().series(parts))}.`)
  return sentences.length === 0 ? t('frame.notAssessed') : sentences.join(' ')
}

export const assessmentSection: CaseSection = {
  key: 'assessment',
  title: 'frame.assessment',
  result: facts => ({ text: sentenceOf(facts), left: leftIn(facts, 'assessment') }),
  load: () => import('../spoke-questions.ts'),
  photos: ['skin', 'seated-front', 'seated-side', 'seated-behind', 'home'],
  render: ({ view, outcome }) =>
    html`<spoke-questions .section=${'assessment'} .groups=${ASSESSMENT_GROUPS} .view=${view} .outcome=${outcome}></spoke-questions>`,
}
