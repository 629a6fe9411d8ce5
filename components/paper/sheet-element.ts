import { html, type TemplateResult } from 'lit'
import { CasePart, type PartFacts } from '../case/case-part.ts'
import { paperColours } from '../styles/tokens.ts'
import { currentSpeech, t } from '../text/text.ts'
import { sheetStyles } from './paper-styles.ts'

/** Who made a sheet and when: Kesse crew, Lower Kesse valley · 15 May 2026. */
export const madeBy = ({ app, outcome }: Pick<PartFacts, 'app' | 'outcome'>): string => {
  const title = app.casebook.crew().title
  const crew = title ? currentSpeech().series([title.crewName, title.place]) : t('paper.crewUnnamed')
  return t('paper.madeOn', { crew, date: currentSpeech().date(outcome.today) })
}

/** What every sheet about one person is printed with: who, what kind of sheet, by whom, and that it is to be kept safe. */
export abstract class SheetElement extends CasePart {
  static override styles = [...CasePart.styles, paperColours, sheetStyles]

  protected renderTop(facts: PartFacts, kind: string, beside: TemplateResult | string): TemplateResult {
    return html`<header class="top">
      <div>
        <p class="kind">${kind}</p>
        <h1>${facts.view.values.personName ?? t('paper.noName')}</h1>
        <p>${beside}</p>
      </div>
      <p class="small">${madeBy(facts)}</p>
    </header>`
  }

  protected renderFoot(...words: readonly string[]): TemplateResult {
    return html`<footer class="foot small">${words.map(one => html`<p>${one}</p>`)}</footer>`
  }
}
