import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import type { CaseView } from '../../src/case/case-view.ts'
import type { CaseId } from '../../src/ids.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import { dayNeeds } from '../../src/preparation/day-needs.ts'
import type { AppContext } from '../app/context.ts'
import { chairTitle, saySize } from '../case/set-up-words.ts'
import { toolWords } from '../preparation/sheet-words.ts'
import { base, paperColours } from '../styles/tokens.ts'
import { currentSpeech, t } from '../text/text.ts'
import { buildSheetTemplate } from './build-sheet-template.ts'
import { sheetStyles } from './paper-styles.ts'

/** One chair to be prepared. */
export interface Job {
  readonly caseId: CaseId
  readonly view: CaseView
  readonly outcome: Outcome
}
/** Tavi Morhale, Growing child 250 × 260. */
export const sayJob = (view: CaseView, { target }: Outcome, app: AppContext | undefined): string => {
  const person = view.values.personName ?? t('paper.noName')
  return app && target
    ? t('paper.dayMore', { person, chair: saySize(app.casebook.context().catalogue, target.setUp) })
    : person
}

/** The sheet itself: black on white whatever the screen is set to. */
export class SpokePaperDaySheet extends LitElement {
  static override styles = [
    base,
    paperColours,
    sheetStyles,
    css`
      .job { break-before: page; margin-block-start: 2.5em; }
    `,
  ]
  static override properties = { jobs: { attribute: false }, app: { attribute: false } }
  declare jobs: readonly Job[]
  declare app: AppContext | undefined

  override render(): TemplateResult | typeof nothing {
    const { app, jobs } = this
    if (!app) return nothing
    const { catalogue } = app.casebook.context()
    const needs = dayNeeds(jobs.flatMap(({ outcome }) => outcome.build ?? []))
    const title = app.casebook.crew().title
    return html`<article class="sheet">
      <header class="top">
        <div>
          <h1>${t('paper.day')}</h1>
          <p>${t('paper.dayCount', { count: jobs.length })}</p>
        </div>
        <p class="small">
          ${t('paper.madeOn', {
            crew: title ? currentSpeech().series([title.crewName, title.place]) : t('paper.crewUnnamed'),
            date: currentSpeech().date(app.today()),
          })}
        </p>
      </header>
      <ul>
        ${jobs.map(({ view, outcome }) => html`<li>${sayJob(view, outcome, app)}</li>`)}
      </ul>
      <h2>${t('paper.tools')}</h2>
      <ul class="ticks half">
        ${needs.tools.map(tool => html`<li><span class="box"></span><span>${toolWords(tool)}</span></li>`)}
      </ul>
      ${
        needs.parts.length > 0
          ? html`<h2>${t('paper.parts')}</h2>
              <ul class="ticks">
                ${needs.parts.map(
                  ({ chair, title: part, count }) => html`<li>
                    <span class="box"></span>
                    <span>${t('paper.part', { count, part })} <span class="quiet">${chairTitle(catalogue, chair)}</span></span>
                  </li>`,
                )}
              </ul>`
          : nothing
      }
      ${jobs.map(
        ({ view, outcome }) => html`<section class="job">
          <header class="top">
            <div>
              <p class="kind">${t('paper.buildSheet')}</p>
              <h1>${view.values.personName ?? t('paper.noName')}</h1>
            </div>
            <p>${outcome.target ? saySize(catalogue, outcome.target.setUp) : nothing}</p>
          </header>
          ${buildSheetTemplate(outcome, catalogue, view.values)}
        </section>`,
      )}
      <footer class="foot small"><p>${t('paper.partWins')}</p><p>${t('paper.keepSafe')}</p></footer>
    </article>`
  }
}

customElements.define('spoke-paper-day-sheet', SpokePaperDaySheet)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-paper-day-sheet': SpokePaperDaySheet
  }
}
