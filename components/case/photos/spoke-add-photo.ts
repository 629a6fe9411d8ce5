import { css, html, nothing, type TemplateResult } from 'lit'
import { PHOTO_SUBJECTS, type PhotoSubject } from '../../../src/case/fields.ts'
import { announce } from '../../app/announce.ts'
import { whileWriting } from '../../controllers/writing.ts'
import { sayError, sayFailure } from '../../text/say-failure.ts'
import { t } from '../../text/text.ts'
import { answersControl, focusFirstError, textControl } from '../answers.ts'
import { CasePart, type PartFacts } from '../case-part.ts'
import { drawAnew } from './draw-anew.ts'

const NOTE = 'photo note'

/** One after the other: several photos of a camera at once would be more than a small phone can hold. */
type Work = { readonly at: 'still' } | { readonly at: 'adding'; readonly number: number; readonly total: number }

/**
 * Adding photos: what they show is said first, then the camera or the files of the device are opened. Each is drawn anew
 * here and saved at once; one that is refused stops none of the others, and is named with what to do.
 */
export class SpokeAddPhoto extends CasePart {
  static override styles = [
    ...CasePart.styles,
    css`
      .opener { border: 2px solid var(--accent); border-radius: var(--radius); padding-inline: var(--space-4); color: var(--accent); font-weight: 600; min-block-size: var(--target); inline-size: auto; }
      .refused { margin-block-start: var(--space-2); overflow-wrap: anywhere; }
    `,
  ]
  static override properties = {
    ...CasePart.properties,
    subjects: { attribute: false },
    open: { state: true },
    shows: { state: true },
    tried: { state: true },
    work: { state: true },
    added: { state: true },
    refused: { state: true },
  }
  /** What is asked for here; all of them elsewhere than in the part of photos. */
  declare subjects: readonly PhotoSubject[]
  declare open: boolean
  declare shows: PhotoSubject | undefined
  declare tried: boolean
  declare work: Work
  declare added: number
  declare refused: readonly string[]

  constructor() {
    super()
    this.subjects = PHOTO_SUBJECTS
    this.open = false
    this.tried = false
    this.work = { at: 'still' }
    this.added = 0
    this.refused = []
  }

  get #shows(): PhotoSubject | undefined {
    const [only, ...others] = this.subjects
    return this.shows ?? (others.length === 0 ? only : undefined)
  }

  async begin(): Promise<void> {
    this.open = true
    this.added = 0
    this.refused = []
    await this.updateComplete
    this.renderRoot.querySelector<HTMLElement>('input[type=radio], #note')?.focus()
  }

  async #leave(): Promise<void> {
    this.open = false
    this.tried = false
    this.shows = undefined
    this.keep(NOTE, '')
    await this.updateComplete
    this.renderRoot.querySelector<HTMLElement>('.opener')?.focus()
  }

  /** The input of files itself is out of sight: its words would be those of the browser, in the browser's language. */
  async #pick(id: 'camera' | 'files'): Promise<void> {
    if (this.work.at === 'adding') return
    this.tried = true
    if (this.#shows !== undefined) return this.renderRoot.querySelector<HTMLInputElement>(`#${id}`)?.click()
    await this.updateComplete
    focusFirstError(this.renderRoot)
  }

  async #take(facts: PartFacts, input: HTMLInputElement): Promise<void> {
    const files = [...(input.files ?? [])]
    // So that the same file can be chosen again after it was refused.
    input.value = ''
    const shows = this.#shows
    if (shows === undefined || files.length === 0 || this.work.at === 'adding') return
    this.added = 0
    this.refused = []
    for (const [index, file] of files.entries()) {
      this.work = { at: 'adding', number: index + 1, total: files.length }
      const reason = await whileWriting(() => this.#addOne(facts, file, shows))
      if (reason === undefined) this.added += 1
      else this.refused = [...this.refused, t('photos.refused', { file: file.name, reason })]
    }
    this.work = { at: 'still' }
    if (this.added > 0) announce(t('photos.added', { count: this.added }))
    if (this.refused.length > 0) announce(this.refused.join(' '))
    if (this.refused.length === 0) await this.#leave()
  }

  /** In words why not; undefined once the store has it. */
  async #addOne({ app, view, outcome }: PartFacts, file: File, shows: PhotoSubject): Promise<string | undefined> {
    try {
      const drawn = await drawAnew(file)
      if (!drawn.ok) return t(`photos.refused ${drawn.failure.type}`)
      const note = this.words(NOTE).trim()
      const said = { shows, on: outcome.today, ...(note === '' ? {} : { note }) }
      const added = await app.casebook.addPhoto(view.caseId, { bytes: drawn.value, ...said })
      return added.ok ? undefined : sayFailure(added.failure)
    } catch (error) {
      return sayError(error)
    }
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const { work } = this
    return html`${this.open ? this.#renderForm(facts) : html`<button class="opener" @click=${() => this.begin()}>${t('photos.add')}</button>`}
      ${work.at === 'adding' ? html`<p class="saved">${t('photos.working', { number: work.number, total: work.total })}</p>` : nothing}
      ${work.at === 'still' && this.added > 0 ? html`<p class="saved">${t('photos.added', { count: this.added })}</p>` : nothing}
      ${this.refused.map(words => html`<p class="error refused">${words}</p>`)}`
  }

  #renderForm(facts: PartFacts): TemplateResult {
    const adding = this.work.at === 'adding'
    const take = (event: Event): void => void this.#take(facts, event.target as HTMLInputElement)
    return html`<div class="form">
      ${
        this.subjects.length === 1
          ? nothing
          : answersControl({
              id: 'shows',
              label: t('photos.shows'),
              answers: this.subjects.map(value => ({ value, words: t(`photos.shows ${value}`) })),
              chosen: this.#shows,
              error: this.tried && this.#shows === undefined ? t('photos.showsNeeded') : undefined,
              change: shows => {
                this.shows = shows
              },
            })
      }
      ${textControl({
        id: 'note',
        label: t('photos.note'),
        value: this.words(NOTE),
        most: 200,
        change: words => this.keep(NOTE, words),
      })}
      <input id="camera" type="file" accept="image/*" capture="environment" hidden @change=${take} />
      <input id="files" type="file" accept="image/*" multiple hidden @change=${take} />
      <div class="actions">
        <button class="main" aria-disabled=${adding} @click=${() => this.#pick('camera')}>${t('photos.take')}</button>
        <button aria-disabled=${adding} @click=${() => this.#pick('files')}>${t('photos.choose')}</button>
        <button class="quiet" @click=${() => this.#leave()}>${t('photos.leave')}</button>
      </div>
    </div>`
  }
}

customElements.define('spoke-add-photo', SpokeAddPhoto)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-add-photo': SpokeAddPhoto
  }
}
