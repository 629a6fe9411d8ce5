import { css, html, nothing, type PropertyValues, type TemplateResult } from 'lit'
import { repeat } from 'lit/directives/repeat.js'
import { PHOTO_SUBJECTS, type PhotoSubject } from '../../../src/case/fields.ts'
import { type PhotoOfCase, photoAgreementOf } from '../../../src/case/photos.ts'
import type { PhotoHash } from '../../../src/ids.ts'
import { looksOn } from '../../crew/looks-on.ts'
import { sayName, sayWho } from '../../text/say-value.ts'
import { currentSpeech, t } from '../../text/text.ts'
import { CasePart, type PartFacts } from '../case-part.ts'
import { latestFirst } from './latest-first.ts'
import { PhotoUrls } from './photo-urls.ts'
import './spoke-add-photo.ts'
import './spoke-photo-agreement.ts'
import './spoke-photo-dialog.ts'
import type { PhotoShown } from './spoke-photo-dialog.ts'

/** So many fit a screen; more are opened from the store only when asked for. */
const FIRST_SHOWN = 12

/**
 * Photos of a case, the latest first: a strip with words under each, one of them large, and adding more. Beside the other
 * parts of a case it shows only what belongs there (`subjects`).
 */
export class SpokePhotos extends CasePart {
  static override styles = [
    ...CasePart.styles,
    css`
      .strip { display: grid; grid-template-columns: repeat(auto-fill, minmax(min(100%, 8.5rem), 1fr)); gap: var(--space-3); margin-block: var(--space-3); }
      .thumb { display: block; inline-size: 100%; padding: 0; border: 0; text-align: start; color: var(--ink); font-weight: 400; overflow-wrap: anywhere; }
      .thumb .place {
        display: grid; place-items: center; aspect-ratio: 1; overflow: hidden; border: 1px solid var(--line);
        border-radius: var(--radius-small); background: var(--sheet); text-align: center; padding: 0;
      }
      .thumb .words { padding: var(--space-2); }
      .thumb img { inline-size: 100%; block-size: 100%; object-fit: cover; display: block; }
      .thumb strong { display: block; margin-block-start: var(--space-1); }
      .thumb .quiet { display: block; font-size: var(--text-small); }
      .beside { margin-block-start: var(--space-6); border-block-start: 1px solid var(--line); padding-block-start: var(--space-4); }
      h3:focus { outline: none; }
      @media print { :host { display: none; } }
    `,
  ]
  static override properties = {
    ...CasePart.properties,
    subjects: { attribute: false },
    shown: { state: true },
    all: { state: true },
  }
  /** Undefined in the part of photos itself: everything, with what was removed. */
  declare subjects: readonly PhotoSubject[] | undefined
  declare shown: PhotoHash | null
  declare all: boolean
  readonly #urls = new PhotoUrls(this)

  constructor() {
    super()
    this.shown = null
    this.all = false
  }

  get #listed(): readonly PhotoOfCase[] {
    const { view, subjects } = this
    if (!view || photoAgreementOf(view) !== 'yes') return []
    return latestFirst(view).filter(({ shows }) => subjects?.includes(shows) ?? true)
  }

  get #onScreen(): readonly PhotoOfCase[] {
    return this.all ? this.#listed : this.#listed.slice(0, FIRST_SHOWN)
  }

  override willUpdate(changed: PropertyValues<this>): void {
    const photos = this.#onScreen
    this.#urls.show(
      this.app?.casebook,
      this.view,
      photos.map(({ hash }) => hash),
    )
    // Taken out on another phone while it was looked at.
    if (changed.has('view') && !photos.some(({ hash }) => hash === this.shown)) this.shown = null
    this.#fetchShown(changed.has('shown'))
  }

  override async updated(changed: PropertyValues<this>): Promise<void> {
    const before = changed.get('shown')
    if (typeof before !== 'string' || this.shown !== null) return
    const thumb = this.renderRoot.querySelector<HTMLElement>(`[data-hash="${before}"]`)
    if (thumb) return thumb.focus()
    this.renderRoot.querySelector<HTMLElement>('[tabindex="-1"]')?.focus()
  }

  /** Asked for when it is opened, and again when it is opened anew; not for as long as it stands there. */
  #fetchShown(isOpened: boolean): void {
    const { shown } = this
    const meetings = this.app?.meetings
    if (shown === null || !meetings?.devices.some(({ phase }) => phase !== 'over')) return
    if (isOpened || this.#urls.of(shown).status === 'elsewhere')
      this.#urls.fetch(shown, (caseId, hash) => meetings.askForPhoto(caseId, hash))
  }

  readonly #handleShown = ({ hash }: PhotoShown): void => {
    this.shown = hash
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const agreed = photoAgreementOf(facts.view) === 'yes'
    return html`<section class=${this.subjects ? 'beside' : ''} aria-label=${t('photos.title')}>
      ${
        this.subjects
          ? html`<h3 tabindex="-1">${t('photos.title')}</h3>`
          : html`<p class="lead" tabindex="-1">${t('photos.lead')}</p>`
      }
      ${agreed ? this.#renderStrip(facts) : nothing}
      ${looksOn(facts.app.casebook) ? nothing : html`<spoke-photo-agreement .view=${facts.view} .outcome=${facts.outcome}></spoke-photo-agreement>`}
      ${this.subjects ? nothing : this.#renderRemoved(facts)}
    </section>`
  }

  #renderStrip(facts: PartFacts): TemplateResult {
    const { view, outcome } = facts
    const listed = this.#listed
    const photos = this.#onScreen
    const shown = photos.some(({ hash }) => hash === this.shown) ? this.shown : null
    return html`${
      listed.length === 0
        ? this.subjects
          ? nothing
          : html`<p class="quiet">${t('photos.none')}</p>`
        : html`<ul class="strip">
            ${repeat(
              photos,
              ({ hash }) => hash,
              photo => html`<li>${this.#renderThumb(photo, facts)}</li>`,
            )}
          </ul>`
    }
      ${
        listed.length > photos.length
          ? html`<button
              class="quiet"
              @click=${() => {
                this.all = true
              }}
            >
              ${t('photos.showAll', { count: listed.length })}
            </button>`
          : nothing
      }
      ${
        looksOn(facts.app.casebook)
          ? nothing
          : html`<spoke-add-photo
              .view=${view}
              .outcome=${outcome}
              .subjects=${this.subjects ?? PHOTO_SUBJECTS}
            ></spoke-add-photo>`
      }
      ${
        shown === null
          ? nothing
          : html`<spoke-photo-dialog
              .view=${view}
              .outcome=${outcome}
              .photos=${photos}
              .shown=${shown}
              .picture=${this.#urls.of(shown)}
              @photo-shown=${this.#handleShown}
            ></spoke-photo-dialog>`
      }`
  }

  #renderThumb(photo: PhotoOfCase, { app }: PartFacts): TemplateResult {
    const { hash, shows, on, by, note } = photo
    const picture = this.#urls.of(hash)
    return html`<button
      class="thumb"
      data-hash=${hash}
      @click=${() => {
        this.shown = hash
      }}
    >
      <span class="place">
        ${
          picture.status === 'here'
            ? html`<img src=${picture.url} alt="" />`
            : html`<span class="words quiet">${
                picture.status === 'coming'
                  ? t('app.loading')
                  : t(picture.status === 'unreadable' ? 'photos.unreadable' : 'photos.notHere')
              }</span>`
        }
      </span>
      <strong>${t(`photos.shows ${shows}`)}</strong>
      <span class="quiet">${currentSpeech().date(on, 'short')}</span>
      <span class="quiet">${sayName(app.casebook, by)}</span>
      ${note === undefined ? nothing : html`<span class="quiet"><bdi>${note}</bdi></span>`}
    </button>`
  }

  #renderRemoved({ app, view }: PartFacts): TemplateResult | typeof nothing {
    const removals = view.events.photoRemoved
    if (removals.length === 0) return nothing
    const count = new Set(removals.flatMap(({ value }) => value.hashes)).size
    return html`<details class="block">
      <summary>${t('photos.removedTitle', { count })}</summary>
      <ul class="lines">
        ${removals.toReversed().map(
          ({ by, value }) => html`<li class="line">
            ${t('photos.removedLine', {
              date: currentSpeech().date(value.on),
              photos: t('photos.removed', { count: value.hashes.length }),
              why: t(`photos.why ${value.why}`),
              who: sayWho(app.casebook, by),
            })}
          </li>`,
        )}
      </ul>
    </details>`
  }
}

customElements.define('spoke-photos', SpokePhotos)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-photos': SpokePhotos
  }
}
