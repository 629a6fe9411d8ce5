import { html, nothing, type TemplateResult } from 'lit'
import type { CaseView } from '../../src/case/case-view.ts'
import type { DeviceId, EntryId } from '../../src/ids.ts'
import type { NotCountingIn } from '../../sync/casebook.ts'
import type { DocumentKey } from '../../sync/exchange/replica.ts'
import { announce } from '../app/announce.ts'
import type { AppCasebook, AppContext } from '../app/context.ts'
import { sayError } from '../text/say-failure.ts'
import { currentSpeech, t } from '../text/text.ts'
import { CrewPart } from './crew-part.ts'
import { sayEntry, saySigned } from './say-entry.ts'

type Late = NotCountingIn['entries'][number]
type LateState =
  | { readonly status: 'loading' }
  | { readonly status: 'there'; readonly late: readonly NotCountingIn[] }
  | { readonly status: 'failed'; readonly reason: string }

/** So many at once; more on a press (project value). */
const SHOWN = 40

/** The order in which a person reads them, by the clocks of their phones; it decides nothing. */
const claimedAt = ({ counted }: Late): number => (counted.readable ? counted.entry.at : 0)

/** What came in and does not count: what it says, of whom, and why; a person lets it count or leaves it. */
export class SpokeLateEntries extends CrewPart {
  static override properties = {
    state: { state: true },
    chosen: { state: true },
    views: { state: true },
    limit: { state: true },
  }
  declare state: LateState
  declare chosen: ReadonlySet<EntryId>
  /** Cases that were opened here, as what counts says they are. */
  declare views: ReadonlyMap<DocumentKey, CaseView>
  declare limit: number
  #turn = 0

  constructor() {
    super()
    this.state = { status: 'loading' }
    this.chosen = new Set()
    this.views = new Map()
    this.limit = SHOWN
  }

  protected override async read(casebook: AppCasebook): Promise<void> {
    this.#turn += 1
    const turn = this.#turn
    let state: LateState
    try {
      state = { status: 'there', late: await casebook.notCounting() }
    } catch (error) {
      state = { status: 'failed', reason: sayError(error) }
    }
    if (turn === this.#turn) this.state = state
  }

  async #open(document: DocumentKey, { casebook }: AppContext): Promise<void> {
    if (document === 'team' || document === 'catalogue' || this.views.has(document)) return
    const view = await casebook.view(document)
    if (view) this.views = new Map([...this.views, [document, view]])
  }

  #choose(ids: readonly EntryId[], isChosen: boolean): void {
    this.chosen = isChosen
      ? new Set([...this.chosen, ...ids])
      : new Set([...this.chosen].filter(id => !ids.includes(id)))
  }

  async #letCount(document: DocumentKey, entries: readonly Late[], { casebook }: AppContext): Promise<void> {
    const chosen = entries.filter(({ counted }) => this.chosen.has(counted.id))
    if (chosen.length === 0) return this.act.fail(document, t('crew.noneChosen'))
    const byDevice = new Map<DeviceId, EntryId[]>()
    for (const { counted } of chosen)
      byDevice.set(counted.entry.by, [...(byDevice.get(counted.entry.by) ?? []), counted.id])
    for (const [device, ids] of byDevice) if (!(await this.do(document, () => casebook.vouch(device, ids)))) return
    announce(t('crew.nowCounts', { count: chosen.length }))
  }

  protected override renderPart(app: AppContext): TemplateResult {
    const { state } = this
    if (state.status === 'loading') return html`<p role="status">${t('app.loading')}</p>`
    if (state.status === 'failed')
      return html`<p class="notice danger" role="alert">${t('app.failed', { reason: state.reason })}</p>
        <button @click=${() => void this.read(app.casebook)}>${t('app.tryAgain')}</button>`
    if (state.late.length === 0) return html`${nothing}`
    return html`<section class="stack">
      <h2>${t('crew.late')}</h2>
      <p>${t('crew.lateLead')}</p>
      ${state.late.map(one => this.#renderDocument(one, app))}
    </section>`
  }

  #titleOf(document: DocumentKey, { casebook }: AppContext): string {
    if (document === 'team') return t('crew.lateTeam')
    if (document === 'catalogue') return t('crew.lateCatalogue')
    return casebook.summaries().find(({ caseId }) => caseId === document)?.name ?? t('crew.lateNobody')
  }

  #renderDocument({ document, entries }: NotCountingIn, app: AppContext): TemplateResult {
    const choosable = this.mayAct(app) ? entries.filter(({ notCounting }) => notCounting === 'came-after-strike') : []
    const ids = choosable.map(({ counted }) => counted.id)
    const count = ids.filter(id => this.chosen.has(id)).length
    const error = this.act.errorOf(document)
    return html`<details class="row" @toggle=${() => void this.#open(document, app)}>
      <summary>
        <strong><bdi>${this.#titleOf(document, app)}</bdi></strong>
        <span class="result">${t('crew.lateCount', { count: entries.length })}</span>
      </summary>
      <div class="inside">
        ${
          ids.length > 1
            ? html`<div class="entry">
                <label class="pick">
                  <input type="checkbox" .checked=${count === ids.length}
                    @change=${(event: Event) => this.#choose(ids, (event.target as HTMLInputElement).checked)} />
                  <strong>${t('crew.chooseAll')}</strong>
                </label>
              </div>`
            : nothing
        }
        ${entries
          .toSorted((a, b) => claimedAt(a) - claimedAt(b))
          .slice(0, this.limit)
          .map(entry => this.#renderEntry(document, entry, ids, app))}
        ${
          entries.length > this.limit
            ? html`<button class="quiet" @click=${() => {
                this.limit += SHOWN
              }}>${t('people.showMore', { count: Math.min(SHOWN, entries.length - this.limit) })}</button>`
            : nothing
        }
        ${error ? html`<p class="error" role="alert">${error}</p>` : nothing}
        ${
          ids.length > 0
            ? html`<button @click=${() => void this.#letCount(document, choosable, app)}>${count > 0 ? t('crew.letCount', { count }) : t('crew.letChosenCount')}</button>`
            : nothing
        }
      </div>
    </details>`
  }

  #renderEntry(document: DocumentKey, late: Late, ids: readonly EntryId[], { casebook }: AppContext): TemplateResult {
    const { counted, notCounting } = late
    const { id } = counted
    const words = sayEntry(counted, document, this.views.get(document), casebook)
    return html`<div class="entry">
      ${
        ids.includes(id)
          ? html`<label class="pick">
              <input type="checkbox" .checked=${this.chosen.has(id)}
                @change=${(event: Event) => this.#choose([id], (event.target as HTMLInputElement).checked)} />
              <span dir="auto">${words}</span>
            </label>`
          : html`<p dir="auto">${words}</p>`
      }
      <p class="quiet">${currentSpeech().series([saySigned(counted, casebook), t(`crew.why ${notCounting}`)])}</p>
    </div>`
  }
}

customElements.define('spoke-late-entries', SpokeLateEntries)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-late-entries': SpokeLateEntries
  }
}
