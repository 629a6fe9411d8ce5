import { html, nothing, type TemplateResult } from 'lit'
import type { BuildStep } from '../../src/preparation/build-sheet.ts'
import type { Tightening } from '../../src/preparation/fasteners.ts'
import type { TyrePressure } from '../../src/preparation/tyres.ts'
import type { PartFacts } from '../case/case-part.ts'
import '../fit/spoke-the-sum.ts'
import './spoke-fill-pressure.ts'
import { checkFieldName } from '../../src/case/fields.ts'
import { fieldLabel } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'
import { pressureRangeWords, pressureWords, spannerWords, toolWords, torqueWords } from './sheet-words.ts'

const tighteningLine = (tightening: Tightening): TemplateResult => {
  const { at, torque, head } = tightening
  return html`<li>
    <span dir="auto">${at}</span>, ${spannerWords(tightening)}: ${torqueWords(torque)}
    ${head === 'other' ? html`<span class="quiet">${t('preparing.headOther')}</span>` : nothing}
    ${torque.type === 'upper-bound' ? html`<spoke-the-sum .reason=${torque.reason} name=${at}></spoke-the-sum>` : nothing}
  </li>`
}

const pressureLine = (name: string, pressure: TyrePressure): TemplateResult => {
  if (pressure.type === 'solid')
    return html`<div class="line"><div class="head"><span>${name}</span><span>${t('preparing.solid')}</span></div></div>`
  return html`<div class="line">
    <div class="head"><span>${name}</span><span class="number">${pressureWords(pressure.targetKPa)}</span></div>
    <p class="reason">${pressureRangeWords(pressure)}</p>
    <spoke-the-sum .reason=${pressure.reason} name=${name}></spoke-the-sum>
  </div>`
}

/** What a step needs: tools, parts, torque with its standing, pressures by gauge, which checks made before it undoes. */
export const stepDetails = (
  { tools, parts, tightenings, pressures, makesStale }: BuildStep,
  { view, outcome }: PartFacts,
): TemplateResult => {
  const passed = outcome.checks.filter(one => one.state === 'passed').map(one => one.check)
  const undone = makesStale.filter(check => passed.includes(check))
  return html`
  ${
    tools.length === 0
      ? nothing
      : html`<p class="reason">${t('preparing.withTools', { tools: currentSpeech().list(tools.map(toolWords)) })}</p>`
  }
  ${
    parts.length === 0
      ? nothing
      : html`<p class="reason">${t('preparing.parts', { parts: currentSpeech().list(parts.map(part => part.title)) })}</p>`
  }
  ${tightenings.length === 0 ? nothing : html`<ul class="tightenings">${tightenings.map(tighteningLine)}</ul>`}
  ${
    pressures
      ? html`<div class="lines">
            ${pressureLine(t('preparing.pressureRear'), pressures.rear)}
            ${pressureLine(t('preparing.pressureCaster'), pressures.caster)}
          </div>
          <p class="reason">${t('preparing.gaugeOnly')}</p>
          <spoke-fill-pressure .view=${view} .outcome=${outcome} .pressures=${pressures}></spoke-fill-pressure>`
      : nothing
  }
  ${
    undone.length === 0
      ? nothing
      : html`<p class="reason">
          ${t('preparing.makesStale', {
            checks: currentSpeech().list(undone.map(check => fieldLabel(checkFieldName(check)).toLowerCase())),
          })}
        </p>`
  }
`
}
