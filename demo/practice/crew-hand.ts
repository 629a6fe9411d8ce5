import type { CalendarDate } from '../../src/calendar-date.ts'
import type { CaseView } from '../../src/case/case-view.ts'
import type { EntryKind } from '../../src/case/entry.ts'
import { type FieldName, fieldOf, isFieldName } from '../../src/case/fields.ts'
import { type CaseId, caseIdSchema, type EntryId } from '../../src/ids.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import { toBase64Url } from '../../sync/bytes.ts'
import type { Casebook } from '../../sync/casebook.ts'
import type { OutcomeBrief } from '../../sync/outcome-rules.ts'
import { signEntry } from '../../sync/signed-entry.ts'
import type { DeviceKey } from '../../sync/trust/device-key.ts'

export type PracticeCasebook = Casebook<Outcome, OutcomeBrief>

/** One thing somebody states. Without `over` it stands beside what is there, as when both worked apart. */
export interface Said {
  readonly set: Readonly<Record<string, unknown>>
  readonly on: CalendarDate
  readonly kind?: EntryKind
  readonly why?: string
  readonly over?: readonly EntryId[]
}

const CASE_ID_BYTES = 16

/** A random id for a new case. */
export const newCaseId = (): CaseId =>
  caseIdSchema.parse(toBase64Url(globalThis.crypto.getRandomValues(new Uint8Array(CASE_ID_BYTES))))

/** What stood on screen for these fields: named when a statement takes its place (B4). Events never end one another. */
export const shownIn = (view: CaseView | undefined, set: Said['set']): readonly EntryId[] => {
  const names = Object.keys(set).filter(
    (name): name is FieldName => isFieldName(name) && fieldOf(name).kind !== 'event',
  )
  return [...new Set(names.flatMap(name => (view?.heads[name] ?? []).map(head => head.id)))]
}

/**
 * One of the invented crew, working on a phone of their own: what they state is signed with that phone's key and comes
 * into this casebook as any entry from another device does.
 */
export class CrewHand {
  readonly #casebook: PracticeCasebook
  readonly #deviceKey: DeviceKey
  #minutes = 0

  constructor(casebook: PracticeCasebook, deviceKey: DeviceKey) {
    this.#casebook = casebook
    this.#deviceKey = deviceKey
  }

  /** Brings in what was stated about one person, in one go. */
  async say(caseId: CaseId, statements: readonly Said[]): Promise<void> {
    const entries: Uint8Array[] = []
    for (const { set, on, kind = 'save', why, over = [] } of statements) {
      this.#minutes += 1
      const at = Date.parse(`${on}T08:00:00Z`) + this.#minutes * 60_000
      const draft = { case: caseId, at, kind, set, over: [...over], ...(why === undefined ? {} : { why }) }
      const signed = await signEntry(this.#deviceKey, draft)
      if (!signed.ok) throw new Error(`the practice trip says something that is no entry: ${signed.failure.message}`)
      entries.push(signed.value.signed)
    }
    const { refused } = await this.#casebook.admitEntries(caseId, entries)
    if (refused[0]) throw new Error(`the practice trip was refused something: ${refused[0].message}`)
  }

  /** States something over what stands there now. */
  async change(caseId: CaseId, said: Said): Promise<void> {
    const view = await this.#casebook.view(caseId)
    await this.say(caseId, [{ ...said, over: shownIn(view, said.set) }])
  }
}
