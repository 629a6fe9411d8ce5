import { html, nothing, type TemplateResult } from 'lit'
import type { CaseView } from '../../src/case/case-view.ts'
import { checkFieldName } from '../../src/case/fields.ts'
import type { Catalogue, ChairModel } from '../../src/chair/chair-model.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import type { BuildStep } from '../../src/preparation/build-sheet.ts'
import type { TyrePressure } from '../../src/preparation/tyres.ts'
import { SET_UP_NAMES, type SetUpName, saySetUpValue, setUpName } from '../case/say-set-up.ts'
import { modelIn } from '../case/set-up-words.ts'
import { type BuiltField, readFrom } from '../preparation/built-rows.ts'
import {
  changeWords,
  pressureRangeWords,
  pressureWords,
  problemWords,
  spannerWords,
  stepTitle,
  toolWords,
  torqueWords,
} from '../preparation/sheet-words.ts'
import { fieldLabel } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'

/** What was read from the chair itself; undefined where it is still to be read: then there is a line to write on. */
const readOf = (name: SetUpName, built: CaseView['values'], model: ChairModel | undefined): string | undefined => {
  const value = built[BUILT_FIELD[name]]
  return value === undefined ? undefined : saySetUpValue(name, value, model)
}

const SHOWN: readonly SetUpName[] = SET_UP_NAMES.filter(name => name !== 'chair')

const BUILT_FIELD = {
  chair: 'builtChair',
  seatWidthMm: 'builtSeatWidthMm',
  seatDepth: 'builtSeatDepthMm',
  cushion: 'builtCushion',
  seatHeight: 'builtSeatHeight',
  axle: 'builtAxle',
  backHeight: 'builtBackHeightMm',
  footrestLeftMm: 'builtFootrestLeftMm',
  footrestRightMm: 'builtFootrestRightMm',
  armrestMm: 'builtArmrestMm',
} as const satisfies Readonly<Record<SetUpName, BuiltField>>

/** What the chair is to be built to, with what was read from it, or room to write what was read from it. */
export const settingsTable = (
  { target }: Outcome,
  catalogue: Catalogue,
  values: CaseView['values'],
): TemplateResult | typeof nothing => {
  if (!target) return nothing
  const model = modelIn(catalogue, target.setUp.chair)
  const built = readFrom(values, target.setUp.chair)
  const rows = SHOWN.filter(name => name !== 'armrestMm' || model?.armrest !== undefined)
  return html`<div class="whole">
    <div class="row three heads small quiet">
      <span>${t('paper.setting')}</span><span>${t('paper.buildTo')}</span><span>${t('paper.read')}</span>
    </div>
    <dl class="rows">
      ${rows.map(
        name => html`<div class="row three">
          <dt>${setUpName(name)}</dt>
          <dd class="figure">
            <span class="said">${t('paper.buildTo')}: </span>${saySetUpValue(name, target.setUp[name], model)}
          </dd>
          <dd><span class="said">${t('paper.read')}: </span>${readOf(name, built, model) ?? html`<span class="blank"></span>`}</dd>
        </div>`,
      )}
    </dl>
  </div>`
}

const pressureLine = (name: string, pressure: TyrePressure): TemplateResult => {
  if (pressure.type === 'solid') return html`<p>${name}: ${t('preparing.solid')}</p>`
  return html`<p>
    ${name}: <span class="strong">${pressureWords(pressure.targetKPa)}</span>; ${pressureRangeWords(pressure)}
  </p>`
}

const stateWords = ({ state }: BuildStep): string => (state === 'to-do' ? '' : ` (${t(`stepState.${state}`)})`)

/** One step with its box: what is set to what, with which tools, how tight, and who when it cannot be undone. */
const stepItem = (step: BuildStep, catalogue: Catalogue, chair: string): TemplateResult => html`<li>
  <span class="box"></span>
  <div>
    <p class="strong">${t('preparing.step', { number: step.number, title: stepTitle(step) })}${stateWords(step)}</p>
    ${step.changes.length > 0 ? html`<p>${changeWords(step.changes, catalogue, chair).join(' · ')}</p>` : nothing}
    ${
      step.tools.length > 0
        ? html`<p class="quiet">${t('preparing.withTools', { tools: currentSpeech().list(step.tools.map(toolWords)) })}</p>`
        : nothing
    }
    ${
      step.parts.length > 0
        ? html`<p class="quiet">${t('preparing.parts', { parts: currentSpeech().list(step.parts.map(part => part.title)) })}</p>`
        : nothing
    }
    ${step.tightenings.map(
      one =>
        html`<p class="small">${currentSpeech().series([one.at, spannerWords(one)])}: ${torqueWords(one.torque)}</p>`,
    )}
    ${
      step.pressures
        ? html`${pressureLine(t('preparing.pressureRear'), step.pressures.rear)}
            ${pressureLine(t('preparing.pressureCaster'), step.pressures.caster)}
            <p>${t('paper.readings')} <span class="blank"></span></p>`
        : nothing
    }
    ${step.needsSecondName ? html`<p>${t('paper.secondName')} <span class="blank"></span></p>` : nothing}
  </div>
</li>`

/** The work on one chair: what to build to, tools, parts, steps and checks, each with a box to tick by hand. */
export const buildSheetTemplate = (
  outcome: Outcome,
  catalogue: Catalogue,
  values: CaseView['values'],
): TemplateResult => {
  const { build, checks } = outcome
  if (!build) return html`<p>${t('paper.noChair')}</p>`
  const parts = [...new Map(build.steps.flatMap(step => step.parts).map(part => [part.key, part.title])).values()]
  return html`
    ${build.problems.map(problem => html`<p class="framed">${problemWords(problem, catalogue)}</p>`)}
    ${settingsTable(outcome, catalogue, values)}
    ${
      build.tools.length > 0
        ? html`<div class="whole"><h2>${t('paper.tools')}</h2><p>${currentSpeech().list(build.tools.map(toolWords))}</p></div>`
        : nothing
    }
    ${
      parts.length > 0
        ? html`<div class="whole"><h2>${t('paper.parts')}</h2><p>${currentSpeech().list(parts)}</p></div>`
        : nothing
    }
    <h2>${t('paper.steps')}</h2>
    ${
      build.steps.length === 0
        ? html`<p>${t('paper.noSteps')}</p>`
        : html`<ol class="ticks">${build.steps.map(step => stepItem(step, catalogue, build.chair))}</ol>`
    }
    ${
      build.done.length > 0 && build.steps.length > 0
        ? html`<p class="small quiet">${t('paper.stepsDone', { steps: currentSpeech().names(build.done.map(stepTitle)) })}</p>`
        : nothing
    }
    <div class="whole">
    <h2>${t('paper.checks')}</h2>
    <ul class="ticks half">
      ${checks.map(
        one => html`<li>
          <span class="box">${one.state === 'passed' ? '✓' : nothing}</span>
          <p>${fieldLabel(checkFieldName(one.check))}${one.state === 'not-done' ? nothing : html` <span class="quiet">(${t(`checkState.${one.state}`)})</span>`}</p>
        </li>`,
      )}
    </ul>
    <p>${t('paper.serial')}: ${values.serialNumber ? html`<span class="strong">${values.serialNumber}</span>` : html`<span class="blank"></span>`} ${t('paper.byHand')} <span class="blank"></span></p>
    </div>
  `
}
