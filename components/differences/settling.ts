import type { CaseView } from '../../src/case/case-view.ts'
import type { FieldName } from '../../src/case/fields.ts'
import type { CaseId, EntryId } from '../../src/ids.ts'
import type { AppCasebook } from '../app/context.ts'
import type { Draft, DraftResult, Edit } from '../controllers/draft.ts'
import { draftOf } from '../controllers/form-controller.ts'

/** How a person is about to end a difference. */
export type Way = 'keep' | 'again'

/**
 * A decision being made about one difference. It outlives its element and no merge touches it: it ends the statements that
 * were on screen when it was begun, so what came in since stands beside it and opens the difference again (B5).
 */
export class Settling {
  readonly field: FieldName
  readonly way: Way
  readonly #draft: Draft
  /** What was on screen when it was begun. */
  readonly stood: readonly EntryId[]
  why = ''

  constructor(field: FieldName, way: Way, draft: Draft, view: CaseView) {
    this.field = field
    this.way = way
    this.#draft = draft
    this.stood = (view.heads[field] ?? []).map(head => head.id)
  }

  get edit(): Edit | undefined {
    return this.#draft.edit(this.field)
  }

  answer(value: unknown, view: CaseView): void {
    if (value === undefined) this.#draft.drop(this.field)
    else this.#draft.set(this.field, value as never, { ...view, heads: this.#headsThatStood(view) })
  }

  async save(casebook: AppCasebook, caseId: CaseId): Promise<DraftResult> {
    const why = this.why.trim()
    return this.#draft.save(casebook, caseId, 'settle', why === '' ? undefined : why)
  }

  leave(): void {
    this.#draft.drop(this.field)
  }

  #headsThatStood(view: CaseView): CaseView['heads'] {
    return { ...view.heads, [this.field]: (view.heads[this.field] ?? []).filter(head => this.stood.includes(head.id)) }
  }
}

const open = new Map<string, Settling>()
const keyOf = (caseId: CaseId, field: FieldName): string => `${caseId} ${field}`

export const settlingOf = (caseId: CaseId, field: FieldName): Settling | undefined => open.get(keyOf(caseId, field))

/** Fields of a case about which somebody is in the middle of deciding. */
export const fieldsBeingSettled = (caseId: CaseId): readonly FieldName[] =>
  [...open].filter(([key]) => key.startsWith(`${caseId} `)).map(([, settling]) => settling.field)

export const beginSettling = (casebook: AppCasebook, view: CaseView, field: FieldName, way: Way): Settling => {
  endSettling(view.caseId, field)
  const settling = new Settling(field, way, draftOf(casebook, view.caseId, `differences ${field}`), view)
  open.set(keyOf(view.caseId, field), settling)
  return settling
}

/** Leaves it, or puts it away after it was saved. */
export const endSettling = (caseId: CaseId, field: FieldName): void => {
  open.get(keyOf(caseId, field))?.leave()
  open.delete(keyOf(caseId, field))
}
