import { html, nothing, type TemplateResult } from 'lit'
import { type PhotoAgreement, photoAgreementOf, photosOf } from '../../../src/case/photos.ts'
import { t } from '../../text/text.ts'
import { CasePart, type PartFacts } from '../case-part.ts'
import type { QuestionGroup } from '../question-group.ts'
import '../spoke-question.ts'
import './spoke-remove-photos.ts'
import type { RemovalEnded } from './spoke-remove-photos.ts'

/** The same draft as in the referral, so that one answer is typed in one place. */
const QUESTION: QuestionGroup = { key: 'agreement', fields: ['photoAgreed'] }
const FORM = 'referral agreement'

/**
 * Why no photo can be taken or seen: what is missing, and the way there. Photos that were taken before stay where they are
 * until a person removes them, in one decision.
 */
export class SpokePhotoAgreement extends CasePart {
  static override properties = { ...CasePart.properties, asking: { state: true }, removing: { state: true } }
  declare asking: boolean
  declare removing: boolean

  constructor() {
    super()
    this.asking = false
    this.removing = false
  }

  async #ask(): Promise<void> {
    this.asking = !this.asking
    await this.updateComplete
    if (!this.asking) return
    const question = this.renderRoot.querySelector('spoke-question')
    await question?.updateComplete
    question?.scrollIntoView({ block: 'nearest' })
  }

  readonly #handleRemoval = async ({ removed }: RemovalEnded): Promise<void> => {
    this.removing = false
    await this.updateComplete
    this.renderRoot.querySelector<HTMLElement>(removed ? '.ask' : '.remove')?.focus()
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const agreement = photoAgreementOf(facts.view)
    if (agreement === 'yes') return html`${nothing}`
    const count = photosOf(facts.view).length
    return html`<p class="notice ${count > 0 ? 'warn' : ''}">
        ${t(`photos.is ${agreement}`)} ${count > 0 ? t('photos.hidden', { count }) : nothing}
      </p>
      ${this.#renderWay(agreement, facts)} ${count > 0 ? this.#renderRemoval(facts) : nothing}`
  }

  #renderWay(agreement: Exclude<PhotoAgreement, 'yes'>, { view }: PartFacts): TemplateResult | typeof nothing {
    if (agreement === 'newer') return nothing
    if (agreement === 'differs')
      return html`<a class="go ask" href="#/case/${view.caseId}/differences">${t('photos.ask differs')}</a>`
    return html`<div class="actions">
        <button class="ask" aria-expanded=${this.asking} @click=${() => this.#ask()}>${t(`photos.ask ${agreement}`)}</button>
      </div>
      ${
        this.asking
          ? html`<div class="form inner">
              <spoke-question .view=${view} .group=${QUESTION} .form=${FORM}></spoke-question>
            </div>`
          : nothing
      }`
  }

  #renderRemoval({ view, outcome }: PartFacts): TemplateResult {
    const hashes = photosOf(view).map(({ hash }) => hash)
    return this.removing
      ? html`<spoke-remove-photos
          .view=${view}
          .outcome=${outcome}
          .hashes=${hashes}
          .why=${'not-agreed'}
          @removal-ended=${this.#handleRemoval}
        ></spoke-remove-photos>`
      : html`<div class="actions">
          <button
            class="remove"
            @click=${() => {
              this.removing = true
            }}
          >
            ${t('photos.removeAll', { count: hashes.length })}
          </button>
        </div>`
  }
}

customElements.define('spoke-photo-agreement', SpokePhotoAgreement)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-photo-agreement': SpokePhotoAgreement
  }
}
