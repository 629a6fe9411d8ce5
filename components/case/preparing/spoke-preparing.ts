import { css, html, nothing, type TemplateResult } from 'lit'
import { repeat } from 'lit/directives/repeat.js'
import type { CaseId } from '../../../src/ids.ts'
import type { BuildSheet, BuildStep } from '../../../src/preparation/build-sheet.ts'
import { problemWords, toolWords } from '../../preparation/sheet-words.ts'
import '../../preparation/spoke-as-built.ts'
import '../../preparation/spoke-build-step.ts'
import { BUILT_FIELDS } from '../../preparation/built-rows.ts'
import { currentSpeech, t } from '../../text/text.ts'
import { CasePart, type PartFacts } from '../case-part.ts'
import { saySize } from '../set-up-words.ts'

/**
 * Preparing the chair: the tools of this sheet, its steps in order, what is done, and the chair as built. A step that is
 * ticked while one looks stays where it is, ticked: under a glove that taps twice lies the same step, not the next.
 */
export class SpokePreparing extends CasePart {
  static override styles = [
    ...CasePart.styles,
    css`
      .tools { display: flex; flex-wrap: wrap; gap: var(--space-2); }
      .tools li { border: 1px solid var(--line); border-radius: var(--radius-small); padding: 0.15rem var(--space-2); background: var(--paper); }
      .facts { margin-block-end: var(--space-4); }
    `,
  ]

  #listed: ReadonlySet<string> = new Set()
  #listedOf: CaseId | undefined

  /** What is to do, and what was listed to do before, each in its place of the sheet. */
  #list({ steps, done }: BuildSheet, caseId: CaseId): readonly BuildStep[] {
    const before = this.#listedOf === caseId ? this.#listed : new Set<string>()
    const kept = done.filter(step => before.has(step.key))
    const listed = [...steps, ...kept].sort((a, b) => a.number - b.number)
    this.#listed = new Set(listed.map(step => step.key))
    this.#listedOf = caseId
    return listed
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const { outcome, view, context } = facts
    const { build, target } = outcome
    if (!build || !target)
      return html`<p class="notice">
        ${t('preparing.noSheet')} <a class="go" href="#/case/${view.caseId}/choosing">${t('preparing.openChoosing')}</a>
      </p>`
    const listed = this.#list(build, view.caseId)
    return html`
      <p class="lead">${t('preparing.target')} <strong>${saySize(context.catalogue, target.setUp)}</strong></p>
      ${build.problems.map(problem => html`<p class="notice warn">${problemWords(problem, context.catalogue)}</p>`)}
      ${this.#renderTools(listed)}
      <section class="block">
        <h3>
          ${build.steps.length === 0 ? t('preparing.finished') : t('preparing.steps', { count: build.steps.length })}
        </h3>
        <div class="lines">
          ${repeat(
            listed,
            step => step.key,
            step => html`<spoke-build-step .view=${view} .outcome=${outcome} .step=${step} listed></spoke-build-step>`,
          )}
        </div>
        ${this.#renderDone(
          build.done.filter(step => !listed.includes(step)),
          facts,
        )}
        <a class="go" href="#/print/build-sheet/${view.caseId}">${t('preparing.print')}</a>
      </section>
      ${this.#renderBuilt(facts)}
    `
  }

  /** Tools of what is listed, done or not: the list does not shrink above the finger. */
  #renderTools(steps: readonly BuildStep[]): TemplateResult | typeof nothing {
    if (steps.length === 0) return nothing
    const tools = [...new Set(steps.flatMap(step => step.tools))]
    return html`<section class="block">
      <h3>${t('preparing.tools')}</h3>
      ${
        tools.length === 0
          ? html`<p class="quiet">${t('preparing.noTools')}</p>`
          : html`<ul class="tools">${tools.map(tool => html`<li>${toolWords(tool)}</li>`)}</ul>`
      }
    </section>`
  }

  #renderDone(done: readonly BuildStep[], { view, outcome }: PartFacts): TemplateResult | typeof nothing {
    if (done.length === 0) return nothing
    return html`<details>
      <summary>${t('preparing.doneSteps', { count: done.length })}</summary>
      ${done.map(step => html`<spoke-build-step .view=${view} .outcome=${outcome} .step=${step}></spoke-build-step>`)}
    </details>`
  }

  #renderBuilt({ view, outcome }: PartFacts): TemplateResult {
    const read = BUILT_FIELDS.filter(field => view.values[field] !== undefined).length
    const words =
      read === 0
        ? t('preparing.builtNone')
        : read === BUILT_FIELDS.length
          ? t('preparing.builtComplete')
          : t('preparing.builtRead', { count: read })
    const serial = view.values.serialNumber
    return html`<section class="block">
      <h3>${t('preparing.built')}</h3>
      <p class="lead">${currentSpeech().series([words, ...(serial ? [t('preparing.builtSerial', { serial })] : [])])}</p>
      <details ?open=${read < BUILT_FIELDS.length && (read > 0 || outcome.build?.steps.length === 0)}>
        <summary>${t('preparing.readChair')}</summary>
        <p class="lead">${t('preparing.builtLead')}</p>
        <spoke-as-built .view=${view} .outcome=${outcome}></spoke-as-built>
      </details>
    </section>`
  }
}

customElements.define('spoke-preparing', SpokePreparing)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-preparing': SpokePreparing
  }
}
