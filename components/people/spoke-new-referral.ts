import { ContextConsumer } from '@lit/context'
import { html, LitElement, nothing, type TemplateResult } from 'lit'
import type { CaseId } from '../../src/ids.ts'
import { announce } from '../app/announce.ts'
import { type AppContext, appContext } from '../app/context.ts'
import { addressOf, goTo } from '../app/routes.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { whileWriting } from '../controllers/writing.ts'
import { looksOn } from '../crew/looks-on.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { sayFailure } from '../text/say-failure.ts'
import { type TextKey, t } from '../text/text.ts'
import { PeopleSearch } from './people-search.ts'
import { dropReferralDraft, keepReferralDraft, type ReferralDraft, referralDraft } from './referral-draft.ts'
import { type ReferralFault, readReferral } from './referral-statement.ts'

type TextName = 'name' | 'otherNames' | 'age' | 'place' | 'household' | 'telephone' | 'referredBy' | 'byName'
type DateName = 'dateOfBirth' | 'referredOn'

const MOST_ALIKE = 3

/** Somebody new: the name alone is enough, and what they were told and agreed to has its place from the start. */
export class SpokeNewReferral extends LitElement {
  static override styles = [base, formStyles]
  static override properties = {
    draft: { state: true },
    faults: { state: true },
    refusal: { state: true },
    isSaving: { state: true },
  }
  declare draft: ReferralDraft | undefined
  declare faults: readonly ReferralFault[]
  declare refusal: string
  declare isSaving: boolean

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })
  #search: PeopleSearch | undefined

  constructor() {
    super()
    this.faults = []
    this.refusal = ''
    this.isSaving = false
    new SpeechController(this)
  }

  override willUpdate(): void {
    const app = this.#app.value
    if (app && !this.draft) this.draft = referralDraft(app.casebook, app.today())
  }

  #set(part: Partial<ReferralDraft>): void {
    const app = this.#app.value
    if (!app || !this.draft) return
    this.draft = { ...this.draft, ...part }
    this.faults = this.faults.filter(({ field }) => !(field in part))
    this.refusal = ''
    keepReferralDraft(app.casebook, this.draft)
  }

  async #save(event: Event): Promise<void> {
    event.preventDefault()
    const app = this.#app.value
    if (!app || !this.draft || this.isSaving) return
    const read = readReferral(this.draft, app.today())
    if (!read.ok) {
      this.faults = read.faults
      await this.updateComplete
      this.renderRoot.querySelector<HTMLElement>('[aria-invalid="true"]')?.focus()
      return
    }
    this.isSaving = true
    const saved = await whileWriting(() => app.casebook.addCase({ kind: 'save', set: read.set }))
    this.isSaving = false
    if (!saved.ok) {
      this.refusal = t('referral.notSaved', { reason: sayFailure(saved.failure) })
      return
    }
    announce(t('referral.saved', { name: read.set.personName ?? '' }))
    dropReferralDraft(app.casebook)
    goTo({ page: 'case', caseId: saved.value.caseId, section: null })
  }

  #leave(): void {
    const app = this.#app.value
    if (app) dropReferralDraft(app.casebook)
    this.draft = undefined
    goTo({ page: 'people' })
  }

  override render(): TemplateResult {
    const [app, draft] = [this.#app.value, this.draft]
    if (!app || !draft) return html`<p class="page" role="status">${t('app.loading')}</p>`
    if (looksOn(app.casebook)) return html`<p class="page notice">${t('crew.lookingOn')} ${t('crew.lookingOnDo')}</p>`
    return html`<form class="page" novalidate @submit=${(event: Event) => void this.#save(event)}>
      <h1>${t('referral.title')}</h1>
      <p class="quiet">${t('referral.intro')}</p>
      ${this.#renderText('name', { hint: 'referral.nameHint' })} ${this.#renderAlike(app, draft)}
      ${this.#renderText('otherNames')}
      <div class="pair">${this.#renderText('place')} ${this.#renderText('household')}</div>
      ${this.#renderBirth(draft)}
      ${this.#renderPicks('sex', 'referral.sex', [
        ['female', 'referral.female'],
        ['male', 'referral.male'],
        ['', 'referral.unsaid'],
      ])}
      ${this.#renderText('telephone', { type: 'tel' })}
      <div class="pair">${this.#renderText('referredBy')} ${this.#renderDate('referredOn')}</div>
      ${this.#renderAgreement(draft)}
      ${this.refusal ? html`<p class="notice danger" role="alert">${this.refusal}</p>` : nothing}
      <div class="actions">
        <button class="main" type="submit">${this.isSaving ? t('form.saving') : t('referral.save')}</button>
        <button class="quiet" type="button" @click=${() => this.#leave()}>${t('referral.leave')}</button>
      </div>
    </form>`
  }

  #renderText(name: TextName, { hint, type = 'text' }: { hint?: TextKey; type?: string } = {}): TemplateResult {
    const fault = this.#faultOf(name)
    return html`<div class="question">
      <label for=${name}>${t(`referral.${name === 'age' ? 'ageYears' : name}`)}</label>
      ${hint ? html`<p class="hint" id=${`${name}-hint`}>${t(hint)}</p>` : nothing}
      <input id=${name} type=${type} autocomplete="off" .value=${this.draft?.[name] ?? ''}
        inputmode=${name === 'age' ? 'numeric' : nothing} aria-describedby=${`${name}-hint ${name}-error`}
        aria-invalid=${fault ? 'true' : 'false'}
        @input=${(event: InputEvent) => this.#set({ [name]: (event.target as HTMLInputElement).value })} />
      ${fault ? html`<p class="error" id=${`${name}-error`}>${fault}</p>` : nothing}
    </div>`
  }

  #renderDate(name: DateName): TemplateResult {
    const fault = this.#faultOf(name)
    return html`<div class="question">
      <label for=${name}>${t(`referral.${name}`)}</label>
      <input id=${name} type="date" .value=${this.draft?.[name] ?? ''} aria-describedby=${`${name}-error`}
        max=${this.#app.value?.today() ?? nothing} aria-invalid=${fault ? 'true' : 'false'}
        @input=${(event: InputEvent) => this.#set({ [name]: (event.target as HTMLInputElement).value })} />
      ${fault ? html`<p class="error" id=${`${name}-error`}>${fault}</p>` : nothing}
    </div>`
  }

  #renderPicks<Name extends 'sex' | 'birth' | 'agreed' | 'by'>(
    name: Name,
    legend: TextKey,
    answers: readonly (readonly [ReferralDraft[Name], TextKey])[],
  ): TemplateResult {
    const fault = this.#faultOf(name)
    return html`<fieldset class="question" aria-describedby=${`${name}-error`}>
      <legend>${t(legend)}</legend>
      ${answers.map(
        ([value, words]) => html`<div class="pick">
          <input type="radio" name=${name} id=${`${name}-${value}`} aria-invalid=${fault ? 'true' : 'false'}
            .checked=${this.draft?.[name] === value} @change=${() => this.#set({ [name]: value })} />
          <label for=${`${name}-${value}`}>${t(words)}</label>
        </div>`,
      )}
      ${fault ? html`<p class="error" id=${`${name}-error`}>${fault}</p>` : nothing}
    </fieldset>`
  }

  #renderBirth({ birth }: ReferralDraft): TemplateResult {
    return html`
      ${this.#renderPicks('birth', 'referral.birth', [
        ['date', 'referral.birthKnown'],
        ['about', 'referral.birthAbout'],
        ['unknown', 'referral.birthUnknown'],
      ])}
      ${birth === 'date' ? this.#renderDate('dateOfBirth') : birth === 'about' ? this.#renderText('age') : nothing}
    `
  }

  #renderAgreement({ told, agreed, by }: ReferralDraft): TemplateResult {
    const fault = this.#faultOf('told')
    return html`<section class="block stack" aria-labelledby="told-title">
      <h2 id="told-title">${t('referral.told')}</h2>
      <p>${t('referral.toldBody')}</p>
      <div class="question">
        <div class="pick">
          <input type="checkbox" id="told" .checked=${told} aria-invalid=${fault ? 'true' : 'false'} aria-describedby="told-error"
            @change=${(event: Event) => this.#set({ told: (event.target as HTMLInputElement).checked })} />
          <label for="told">${t('referral.toldYes')}</label>
        </div>
        ${fault ? html`<p class="error" id="told-error">${fault}</p>` : nothing}
      </div>
      ${this.#renderPicks('agreed', 'referral.agreed', [
        ['yes', 'referral.agreedYes'],
        ['no', 'referral.agreedNo'],
        ['later', 'referral.agreedLater'],
      ])}
      ${agreed === 'no' ? html`<p class="notice warn">${t('referral.agreedNoWhat')}</p>` : nothing}
      ${
        agreed === 'yes'
          ? html`${this.#renderPicks('by', 'referral.agreedBy', [
              ['person', 'referral.byPerson'],
              ['guardian', 'referral.byGuardian'],
              ['relative', 'referral.byRelative'],
            ])}
            ${by === 'person' ? nothing : this.#renderText('byName')}`
          : nothing
      }
    </section>`
  }

  /** A second record of the same person is easier to avoid than to mend. */
  #renderAlike({ casebook }: AppContext, { name }: ReferralDraft): TemplateResult | typeof nothing {
    if (name.trim().length < 3) return nothing
    const people = casebook.summaries()
    this.#search ??= new PeopleSearch(
      people.map(person => ({
        caseId: person.caseId,
        name: person.name,
        otherNames: person.brief?.person.otherNames ?? null,
        place: null,
      })),
    )
    const found = (this.#search.find(name) ?? []).slice(0, MOST_ALIKE)
    if (found.length === 0) return nothing
    const nameOf = (caseId: CaseId): string => {
      const person = people.find(one => one.caseId === caseId)
      return [person?.name, person?.brief?.person.place].filter(Boolean).join(', ')
    }
    return html`<div class="notice">
      <p>${t('referral.alike')}</p>
      <ul>${found.map(
        caseId =>
          html`<li class="pick"><a href=${addressOf({ page: 'case', caseId, section: null })}>${nameOf(caseId)}</a></li>`,
      )}</ul>
    </div>`
  }

  #faultOf(field: keyof ReferralDraft): string {
    const fault = this.faults.find(one => one.field === field)
    return fault ? t(fault.words) : ''
  }
}

customElements.define('spoke-new-referral', SpokeNewReferral)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-new-referral': SpokeNewReferral
  }
}
