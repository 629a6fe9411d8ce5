import type { ReactiveController, ReactiveControllerHost } from 'lit'
import type { CaseView } from '../../src/case/case-view.ts'
import { type FieldName, type FieldValue, fieldOf, isWeighedWith, type Reading } from '../../src/case/fields.ts'
import { announce } from '../app/announce.ts'
import type { AppContext } from '../app/context.ts'
import type { FieldChangeEvent, RiskLowerEvent } from '../fields/field-events.ts'
import { t } from '../text/text.ts'
import { Draft, type DraftResult } from './draft.ts'
import { draftOf } from './drafts.ts'

/** `saved` only after the store has committed. */
export type FormState =
  | { readonly status: 'still' }
  | { readonly status: 'saving' }
  | { readonly status: 'saved' }
  | { readonly status: 'failed'; readonly message: string; readonly field: FieldName | null }

/** A store that answers sooner is not worth a word: two renderings saved, and no flicker (project value). */
const SAY_SAVING_AFTER_MS = 150

/** Keeps what a person types into one form, and saves it; see `Draft` for what a merge cannot do to it. */
export class FormController implements ReactiveController {
  readonly #host: ReactiveControllerHost & EventTarget
  #app: AppContext | undefined
  #view: CaseView | undefined
  #form = ''
  #draft = new Draft()
  state: FormState = { status: 'still' }

  constructor(host: ReactiveControllerHost & EventTarget) {
    this.#host = host
    host.addController(this)
  }

  hostConnected(): void {}

  /** Called from `willUpdate` with what the host shows; `form` names the form within the case. */
  show(app: AppContext | undefined, view: CaseView | undefined, form: string): void {
    const moved = app !== this.#app || view?.caseId !== this.#view?.caseId || form !== this.#form
    this.#app = app
    this.#view = view
    this.#form = form
    if (!moved) return
    this.#draft = app && view ? draftOf(app.casebook, view.caseId, form) : new Draft()
    this.state = { status: 'still' }
  }

  get draft(): Draft {
    return this.#draft
  }

  /** What is wrong with a field, in words, where a save said so. */
  errorOf(field: FieldName): string {
    return this.state.status === 'failed' && this.state.field === field ? this.state.message : ''
  }

  readonly handleChange = (event: FieldChangeEvent): void => {
    event.stopPropagation()
    this.set(event.field, event.value)
  }

  /** A risk that is no longer so is its own decision with its reason, saved at once (B6). */
  readonly handleLower = async (event: RiskLowerEvent): Promise<void> => {
    event.stopPropagation()
    if (!this.#view) return
    const lowering = new Draft()
    lowering.set(event.field, false as never, this.#view)
    const result = await this.#run(lowering, 'settle', event.why)
    if (result.ok) this.#draft.drop(event.field)
    this.#host.requestUpdate()
  }

  set<Name extends FieldName>(field: Name, value: FieldValue<Name> | undefined): void {
    if (!this.#view) throw new Error(`${field} was changed before its case was shown`)
    if (value === undefined) this.#draft.drop(field)
    else this.#draft.set(field, value, this.#view)
    this.#touched()
  }

  /** Saves with the last word on one field. `saved` is called before anything is rendered anew: one rendering shows it all. */
  async saveDecided<Name extends FieldName>(
    field: Name,
    value: FieldValue<Name>,
    how: 'repeat' | 'correction',
    saved: () => void,
  ): Promise<void> {
    this.#draft.decide(field, value, how)
    await this.save(saved)
  }

  drop(): void {
    this.#draft.clear()
    this.#touched()
  }

  /** Says what is wrong with a field: these words, else what the registry refuses in what is typed. */
  check(field: FieldName, words?: string): void {
    const problem = words ?? problemOf(field, this.#draft.value(field))
    if (problem !== null) this.#fail(problem, field)
  }

  /** True once the store has committed everything that was typed. */
  async save(saved?: () => void): Promise<boolean> {
    if (this.state.status === 'saving') return false
    if (this.#draft.isEmpty) return this.#fail(t('form.nothingToSave'), null)
    for (const field of this.#draft.fields) {
      const problem = problemOf(field, this.#draft.value(field))
      if (problem !== null) return this.#fail(problem, field)
    }
    return (await this.#run(this.#draft, 'save', undefined, saved)).ok
  }

  #touched(): void {
    this.state = { status: 'still' }
    this.#host.requestUpdate()
  }

  #fail(message: string, field: FieldName | null): false {
    this.state = { status: 'failed', message, field }
    this.#host.requestUpdate()
    return false
  }

  async #run(draft: Draft, kind: 'save' | 'settle', why?: string, saved?: () => void): Promise<DraftResult> {
    const [app, view] = [this.#app, this.#view]
    if (!app || !view) throw new Error(`form ${this.#form} was saved before its case was shown`)
    this.state = { status: 'saving' }
    const saying = setTimeout(() => this.#host.requestUpdate(), SAY_SAVING_AFTER_MS)
    const result = await draft.save(app.casebook, view.caseId, kind, why).finally(() => clearTimeout(saying))
    if (view.caseId !== this.#view?.caseId) return result
    if (result.ok) {
      this.state = { status: 'saved' }
      saved?.()
      announce(t('form.saved'))
    } else this.#fail(t('form.notSaved', { reason: result.message }), result.field)
    this.#host.requestUpdate()
    return result
  }
}

/** What is wrong with a value in the words of a form; null where the registry takes it. */
const problemOf = (field: FieldName, value: unknown): string | null => {
  if (value === '') return t('form.emptied')
  if ((field === 'limbLossLeft' || field === 'limbLossRight') && lacksFraction(value)) return t('form.fractionNeeded')
  if (fieldOf(field).schema.safeParse(value).success) return null
  if (field === 'birthYear') return t('form.notAYear')
  if (field === 'toldAndAgreed') return t('form.agreementNeeds')
  if (field === 'loads') return t('form.loadNeeds')
  const { kind } = fieldOf(field)
  if (kind === 'date') return t('form.notADate')
  if (kind === 'measure') return problemOfReading(value as Partial<Reading>)
  return kind === 'text' ? t('form.tooLong', { count: mostCharacters(field) ?? 0 }) : t('form.notANumber')
}

/** Of two weighings both are needed, and something must lie between them. */
const problemOfReading = ({ typed, less, how }: Partial<Reading>): string => {
  if (!isWeighedWith(how) || typeof typed !== 'number') return t('form.notANumber')
  if (typeof less !== 'number') return t(how === 'scale-in-chair' ? 'form.chairAloneNeeded' : 'form.adultAloneNeeded')
  return less < typed ? t('form.notANumber') : t('form.nothingBetween')
}

/** Where a thigh or lower leg is cut, how much is left decides the balance (design of fitting: required). */
const lacksFraction = (value: unknown): boolean => {
  const loss = value as FieldValue<'limbLossLeft'>
  return (loss?.level === 'transfemoral' || loss?.level === 'transtibial') && loss.remainingFraction === undefined
}

/** Longest text that a field takes; undefined where it takes no text. */
export const mostCharacters = (field: FieldName): number | undefined => {
  const { schema } = fieldOf(field)
  return 'maxLength' in schema && typeof schema.maxLength === 'number' ? schema.maxLength : undefined
}
