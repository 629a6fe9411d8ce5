import { html, nothing, type TemplateResult } from 'lit'
import type { ChosenSetUp } from '../../../src/chair/set-up.ts'
import type { Target } from '../../../src/outcome/target.ts'
import { ActController } from '../../controllers/act-controller.ts'
import { Draft } from '../../controllers/draft.ts'
import type { PinSettings } from '../../fit/setting-moved.ts'
import { atStart } from '../../text/say-value.ts'
import { currentSpeech, t } from '../../text/text.ts'
import { CasePart, type PartFacts } from '../case-part.ts'
import { cushionTitle, modelIn, saySettingValue, sayShortBy, saySize, sayTolerance } from '../set-up-words.ts'
import { chosenDrawing } from './drawing-of.ts'

/** The chosen chair as of today's facts: what it breaks or misses, its drawing, and the settings that a person keeps by hand. */
export class SpokeChosen extends CasePart {
  readonly #act = new ActController(this)

  async #pin({ app, view }: PartFacts, chosen: ChosenSetUp): Promise<void> {
    const draft = new Draft()
    draft.set('chosenSetUp', chosen, view)
    await this.#act.run('pin', () => draft.save(app.casebook, view.caseId))
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const { outcome, context, view } = facts
    const { target } = outcome
    const chosen = view.values.chosenSetUp
    if (!target || !chosen) return html`${nothing}`
    const model = modelIn(context.catalogue, target.setUp.chair)
    return html`<section class="block">
      <h3 class="quiet">${t('choosing.chosen')}</h3>
      <p class="number">${saySize(context.catalogue, target.setUp)}</p>
      <p class="quiet">${cushionTitle(model, target.setUp.cushion)}</p>
      ${this.#renderBroken(target)} ${this.#renderMisses(target.outOfTolerance)}
      <div @pin-settings=${(event: CustomEvent<PinSettings>) => this.#pin(facts, event.detail.chosen)}>
        ${chosenDrawing(facts, chosen)}
      </div>
      ${this.#act.errorOf('pin') ? html`<p class="error" role="alert">${this.#act.errorOf('pin')}</p>` : nothing}
      ${this.#renderPinned(target, facts)}
    </section>`
  }

  #renderPinned({ pinned, setUp }: Target, facts: PartFacts): TemplateResult | typeof nothing {
    if (pinned.length === 0) return nothing
    const model = modelIn(facts.context.catalogue, setUp.chair)
    const names = { footrestLeftMm: 'footrestLeft', footrestRightMm: 'footrestRight', armrestMm: 'armrest' } as const
    const parts = pinned.map(part => {
      const name = Object.hasOwn(names, part) ? names[part as keyof typeof names] : (part as 'axle')
      const value =
        part === 'backHeight' ? model?.backHeights.find(one => one.key === setUp.backHeight)?.valueMm : setUp[part]
      return `${t(`fit.${name}`)} ${saySettingValue(model, name, value ?? null)}`
    })
    const { chair, seatWidthMm, seatDepth, cushion } = setUp
    return html`<p class="reason">${t('choosing.pinnedLead', { settings: currentSpeech().list(parts) })}</p>
      <button @click=${() => this.#pin(facts, { chair, seatWidthMm, seatDepth, cushion })}>${t('choosing.release')}</button>`
  }

  #renderBroken({ broken }: Target): TemplateResult | typeof nothing {
    if (!broken) return nothing
    const shortBy = sayShortBy(broken.rule, broken.shortBy)
    const rule = t(`rule.${broken.rule}`)
    const words =
      shortBy === undefined ? t('choosing.brokenNowPlain', { rule }) : t('choosing.brokenNow', { rule, shortBy })
    return html`<p class="notice danger"><strong>${words}</strong></p>`
  }

  #renderMisses(misses: Target['outOfTolerance']): TemplateResult {
    return html`<p class="reason">
      ${atStart(misses.length === 0 ? t('choosing.within') : currentSpeech().list(misses.map(sayTolerance)))}
    </p>`
  }
}

customElements.define('spoke-chosen', SpokeChosen)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-chosen': SpokeChosen
  }
}
