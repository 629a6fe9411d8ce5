import { html, nothing, type TemplateResult } from 'lit'
import { MOST_PHOTOS_REMOVED_AT_ONCE, PHOTO_REMOVAL_REASONS } from '../../../src/case/fields.ts'
import type { PhotoHash } from '../../../src/ids.ts'
import { announce } from '../../app/announce.ts'
import { ActController } from '../../controllers/act-controller.ts'
import { sayFailure } from '../../text/say-failure.ts'
import { t } from '../../text/text.ts'
import { answersControl, focusFirstError } from '../answers.ts'
import { CasePart, type PartFacts } from '../case-part.ts'

type Reason = (typeof PHOTO_REMOVAL_REASONS)[number]

/** Photos were taken out, or they stay. */
export class RemovalEnded extends Event {
  readonly removed: boolean

  constructor(removed: boolean) {
    super('removal-ended', { bubbles: true, composed: true })
    this.removed = removed
  }
}

/** Taking photos out for ever, with the reason; nothing is done before it is given. */
export class SpokeRemovePhotos extends CasePart {
  static override properties = {
    ...CasePart.properties,
    hashes: { attribute: false },
    why: { attribute: false },
    tried: { state: true },
  }
  declare hashes: readonly PhotoHash[]
  /** What is chosen, or proposed. */
  declare why: Reason | undefined
  declare tried: boolean
  readonly #act = new ActController(this)

  constructor() {
    super()
    this.hashes = []
    this.tried = false
  }

  async #remove({ app, view, outcome }: PartFacts): Promise<void> {
    const { why, hashes } = this
    this.tried = true
    if (why === undefined) {
      await this.updateComplete
      focusFirstError(this.renderRoot)
      return
    }
    const saved = await this.#act.run('remove', async () => {
      for (let at = 0; at < hashes.length; at += MOST_PHOTOS_REMOVED_AT_ONCE) {
        const some = hashes.slice(at, at + MOST_PHOTOS_REMOVED_AT_ONCE)
        const photoRemoved = { hashes: some, on: outcome.today, why }
        const result = await app.casebook.save(view.caseId, { kind: 'save', set: { photoRemoved } })
        if (!result.ok) return { ok: false, message: sayFailure(result.failure), field: null }
      }
      return { ok: true }
    })
    if (!saved) return
    announce(t('photos.removed', { count: hashes.length }))
    this.dispatchEvent(new RemovalEnded(true))
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const failed = this.#act.errorOf('remove')
    return html`<div class="form inner">
      <p>${t('photos.removeLead')}</p>
      ${answersControl({
        id: 'why',
        label: t('photos.removeWhy'),
        answers: PHOTO_REMOVAL_REASONS.map(value => ({ value, words: t(`photos.why ${value}`) })),
        chosen: this.why,
        error: this.tried && this.why === undefined ? t('photos.removeNeeded') : undefined,
        change: why => {
          this.why = why
        },
      })}
      ${failed ? html`<p class="error" role="alert">${failed}</p>` : nothing}
      <div class="actions">
        <button class="main" aria-busy=${this.#act.isSaving('remove')} @click=${() => this.#remove(facts)}>
          ${t('photos.removeSave')}
        </button>
        <button class="quiet" @click=${() => this.dispatchEvent(new RemovalEnded(false))}>${t('photos.removeKeep')}</button>
      </div>
    </div>`
  }
}

customElements.define('spoke-remove-photos', SpokeRemovePhotos)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-remove-photos': SpokeRemovePhotos
  }
  interface HTMLElementEventMap {
    'removal-ended': RemovalEnded
  }
}
