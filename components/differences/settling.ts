import type { CaseView } from '../../src/case/case-view.ts'
import { type FieldName, isFieldName } from '../../src/case/fields.ts'
import type { CaseId, EntryId } from '../../src/ids.ts'
import type { AppCasebook } from '../app/context.ts'
import type { Draft, DraftResult, Edit } from '../controllers/draft.ts'
import { draftOf, draftsOf } from '../controllers/drafts.ts'

/** How a person is about to end a difference. */
export type Way = 'keep' | 'again'

interface Begun {
  readonly way: Way
  /** The statements that were on screen when it was begun. */
  readonly stood: readonly EntryId[]
  readonly why: string
}

const begunKey = (caseId: CaseId, field: string): string => `${caseId} settling ${field}`

const readBegun = (kept: unknown): Begun | undefined => {
  const { way, stood, why } = Object(kept) as Readonly<Record<string, unknown>>
  return (way === 'keep' || way === 'again') && Array.isArray(stood) && typeof why === 'string'
    ? { way, stood, why }
    : undefined
}

/**
 * A decision being made about one difference. It outlives its element and no merge touches it: it ends the statements that
 * were on screen when it was begun, so what came in since stands beside it and opens the difference again (B5).
 */
export class Settling {
  readonly #casebook: AppCasebook
  readonly #caseId: CaseId
  readonly #draft: Draft
  readonly #begun: Begun
  readonly field: FieldName

  constructor(casebook: AppCasebook, caseId: CaseId, field: FieldName, begun: Begun) {
    this.#casebook = casebook
    this.#caseId = caseId
    this.#draft = draftOf(casebook, caseId, `differences ${field}`)
    this.#begun = begun
    this.field = field
  }

  get way(): Way {
    return this.#begun.way
  }

  get stood(): readonly EntryId[] {
    return this.#begun.stood
  }

  /** The reason as it is typed now. */
  get why(): string {
    return readBegun(draftsOf(this.#casebook).kept(begunKey(this.#caseId, this.field)))?.why ?? ''
  }

  get edit(): Edit | undefined {
    return this.#draft.edit(this.field)
  }

  say(why: string): void {
    draftsOf(this.#casebook).keep(begunKey(this.#caseId, this.field), { ...this.#begun, why })
  }

  answer(value: unknown, view: CaseView): void {
    if (value === undefined) this.#draft.drop(this.field)
    else this.#draft.set(this.field, value as never, { ...view, heads: this.#headsThatStood(view) })
  }

  async save(): Promise<DraftResult> {
    const why = this.why.trim()
    return this.#draft.save(this.#casebook, this.#caseId, 'settle', why === '' ? undefined : why)
  }

  /** Leaves it, or puts it away after it was saved. */
  end(): void {
    this.#draft.drop(this.field)
    draftsOf(this.#casebook).keep(begunKey(this.#caseId, this.field), undefined)
  }

  #headsThatStood(view: CaseView): CaseView['heads'] {
    return { ...view.heads, [this.field]: (view.heads[this.field] ?? []).filter(head => this.stood.includes(head.id)) }
  }
}

export const settlingOf = (casebook: AppCasebook, caseId: CaseId, field: FieldName): Settling | undefined => {
  const begun = readBegun(draftsOf(casebook).kept(begunKey(caseId, field)))
  return begun && new Settling(casebook, caseId, field, begun)
}

/** Fields of a case about which somebody is in the middle of deciding. */
export const fieldsBeingSettled = (casebook: AppCasebook, caseId: CaseId): readonly FieldName[] => {
  const begins = begunKey(caseId, '')
  return draftsOf(casebook)
    .keys.filter(key => key.startsWith(begins))
    .map(key => key.slice(begins.length))
    .filter(isFieldName)
}

export const beginSettling = (casebook: AppCasebook, view: CaseView, field: FieldName, way: Way): Settling => {
  settlingOf(casebook, view.caseId, field)?.end()
  const begun: Begun = { way, stood: (view.heads[field] ?? []).map(head => head.id), why: '' }
  draftsOf(casebook).keep(begunKey(view.caseId, field), begun)
  return new Settling(casebook, view.caseId, field, begun)
}
