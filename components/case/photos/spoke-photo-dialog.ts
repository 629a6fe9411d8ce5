import { css, html, nothing, type PropertyValues, type TemplateResult } from 'lit'
import type { PhotoOfCase } from '../../../src/case/photos.ts'
import type { PhotoHash } from '../../../src/ids.ts'
import { looksOn } from '../../crew/looks-on.ts'
import { t } from '../../text/text.ts'
import { CasePart, type PartFacts } from '../case-part.ts'
import type { Picture } from './photo-urls.ts'
import { sayPhoto } from './photo-words.ts'
import './spoke-remove-photos.ts'
import type { RemovalEnded } from './spoke-remove-photos.ts'

/** Another photo is to be looked at, or none any more. */
export class PhotoShown extends Event {
  readonly hash: PhotoHash | null

  constructor(hash: PhotoHash | null) {
    super('photo-shown', { bubbles: true, composed: true })
    this.hash = hash
  }
}

/** One photo as large as the screen allows: what it shows, when, by whom; the ones before and after; taking it out. */
export class SpokePhotoDialog extends CasePart {
  static override styles = [
    ...CasePart.styles,
    css`
      dialog {
        inline-size: min(100vw, 60rem); max-inline-size: 100vw; max-block-size: 100dvh; margin: auto; padding: var(--space-4);
        border: 2px solid var(--ink-quiet); border-radius: var(--radius); background: var(--paper); color: var(--ink);
      }
      dialog::backdrop { background: rgb(0 0 0 / 0.75); }
      h2 { overflow-wrap: anywhere; font-size: var(--text-number); }
      img { display: block; max-inline-size: 100%; max-block-size: 62dvh; margin: var(--space-3) auto; border-radius: var(--radius-small); }
      .away { display: grid; place-items: center; min-block-size: 12rem; padding: var(--space-4); text-align: center; }
      .removing img { max-block-size: 28dvh; }
      .turn { display: grid; grid-template-columns: 1fr 1fr; gap: var(--space-2); align-items: center; }
      .turn span { grid-column: 1 / -1; text-align: center; }
      .turn .end { border-color: var(--line); color: var(--ink-quiet); font-weight: 400; }
    `,
  ]
  static override properties = {
    ...CasePart.properties,
    photos: { attribute: false },
    shown: { attribute: false },
    picture: { attribute: false },
    removing: { state: true },
  }
  /** Those that can be turned to, in their order on screen. */
  declare photos: readonly PhotoOfCase[]
  declare shown: PhotoHash | null
  declare picture: Picture
  declare removing: boolean

  constructor() {
    super()
    this.photos = []
    this.shown = null
    this.picture = { status: 'coming' }
    this.removing = false
  }

  override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('shown')) this.removing = false
  }

  override updated(): void {
    const dialog = this.renderRoot.querySelector('dialog')
    if (dialog && !dialog.open) dialog.showModal()
  }

  #turn(steps: number): void {
    const at = this.photos.findIndex(({ hash }) => hash === this.shown)
    const to = this.photos[at + steps]
    if (to) this.dispatchEvent(new PhotoShown(to.hash))
  }

  readonly #handleKey = (event: KeyboardEvent): void => {
    // Arrows move between answers while a reason is chosen.
    if (this.removing || (event.key !== 'ArrowLeft' && event.key !== 'ArrowRight')) return
    const forward = (event.key === 'ArrowRight') === (getComputedStyle(this).direction === 'ltr')
    this.#turn(forward ? 1 : -1)
  }

  readonly #handleRemoval = async ({ removed }: RemovalEnded): Promise<void> => {
    this.removing = false
    if (removed) this.#close()
    else {
      await this.updateComplete
      this.renderRoot.querySelector<HTMLElement>('.remove')?.focus()
    }
  }

  async #askWhy(): Promise<void> {
    this.removing = true
    await this.updateComplete
    const form = this.renderRoot.querySelector('spoke-remove-photos')
    await form?.updateComplete
    form?.renderRoot.querySelector('input')?.focus()
    form?.scrollIntoView({ block: 'nearest' })
  }

  #close(): void {
    this.renderRoot.querySelector('dialog')?.close()
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const at = this.photos.findIndex(({ hash }) => hash === this.shown)
    const photo = this.photos[at]
    if (!photo) return html`${nothing}`
    const name = sayPhoto(photo, facts.app.casebook)
    return html`<dialog
      aria-labelledby="name"
      class=${this.removing ? 'removing' : ''}
      @keydown=${this.#handleKey}
      @close=${() => this.dispatchEvent(new PhotoShown(null))}
    >
      <h2 id="name">${name}</h2>
      ${photo.note ? html`<p dir="auto">${t('photos.noteOf', { note: photo.note })}</p>` : nothing}
      ${this.#renderPicture(name)}
      ${this.photos.length > 1 && !this.removing ? this.#renderTurns(at) : nothing}
      ${
        this.removing
          ? html`<spoke-remove-photos
              .view=${facts.view}
              .outcome=${facts.outcome}
              .hashes=${[photo.hash]}
              @removal-ended=${this.#handleRemoval}
            ></spoke-remove-photos>`
          : html`<div class="actions">
              <button class="main" @click=${() => this.#close()}>${t('photos.close')}</button>
              ${
                looksOn(facts.app.casebook)
                  ? nothing
                  : html`<button class="remove" @click=${() => this.#askWhy()}>${t('photos.remove')}</button>`
              }
            </div>`
      }
    </dialog>`
  }

  #renderPicture(name: string): TemplateResult {
    const { picture } = this
    switch (picture.status) {
      case 'here':
        return html`<img src=${picture.url} alt=${name} />`
      case 'coming':
        return html`<p class="away quiet" aria-busy="true">${t('app.loading')}</p>`
      case 'fetching':
        return html`<p class="away quiet" role="status" aria-busy="true">${t('photos.fetching')}</p>`
      case 'nobody':
        return html`<p class="away notice" role="status">${t('photos.nobodyHas')}</p>`
      case 'elsewhere':
        return html`<p class="away notice">${t('photos.notHereLong')}</p>`
      case 'unreadable':
        return html`<p class="away error">${t('photos.unreadable')}</p>`
    }
  }

  #renderTurns(at: number): TemplateResult {
    return html`<div class="turn">
      <span class="quiet">${t('photos.place', { number: at + 1, total: this.photos.length })}</span>
      ${this.#renderTurn('previous', at > 0, -1)} ${this.#renderTurn('next', at < this.photos.length - 1, 1)}
    </div>`
  }

  /** Never gone while it is focused: at an end it says so by being out of reach, and stays where the finger was. */
  #renderTurn(words: 'previous' | 'next', canTurn: boolean, steps: number): TemplateResult {
    return html`<button aria-disabled=${!canTurn} class=${canTurn ? '' : 'end'} @click=${() => this.#turn(steps)}>
      ${t(`photos.${words}`)}
    </button>`
  }
}

customElements.define('spoke-photo-dialog', SpokePhotoDialog)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-photo-dialog': SpokePhotoDialog
  }
  interface HTMLElementEventMap {
    'photo-shown': PhotoShown
  }
}
