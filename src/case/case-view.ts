import type { CaseId, DeviceId, EntryId } from '../ids.ts'
import type { EntryKind } from './entry.ts'
import type { FieldName, FieldValue, NamesOfKind, Reading } from './fields.ts'

/** One statement that still stands for a field. */
export interface Head<Value = unknown> {
  readonly id: EntryId
  readonly by: DeviceId
  readonly at: number
  readonly kind: EntryKind
  readonly value: Value
  readonly why?: string
}

type Single = Exclude<FieldName, NamesOfKind<'event'>>

/** What the record says of each field, resolved: a measure is a number in the field's own unit. Open differences are absent. */
export type ResolvedValues = {
  readonly [Name in Single]?: Name extends NamesOfKind<'measure'> ? number : FieldValue<Name>
}

export interface CaseEvent<Value> {
  readonly id: EntryId
  readonly by: DeviceId
  readonly value: Value
}

/** `photo`: those that stand, without the removed ones. `photoRemoved`: every removal ever said. */
export type CaseEvents = { readonly [Name in NamesOfKind<'event'>]: readonly CaseEvent<FieldValue<Name>>[] }

/** One of the values that a difference is about, and the statements that give it. A measure's in its field's own unit. */
export interface DifferenceOption {
  readonly value: unknown
  readonly heads: readonly Head[]
}

/** A field to which entries made without knowledge of each other gave different values. Options in a fixed order. */
export interface Difference {
  readonly field: Single
  readonly options: readonly DifferenceOption[]
}

/**
 * A case as its counting entries say it is: a pure function of the set of entries, whatever their order. `newer` names
 * fields that a later version wrote and nobody here has answered (B7); `unknownFields` are names this version lacks.
 */
export interface CaseView {
  readonly caseId: CaseId
  readonly values: ResolvedValues
  readonly events: CaseEvents
  readonly differences: readonly Difference[]
  /** The standing statements of every field that was ever validly set. Never empty for such a field (B2). */
  readonly heads: { readonly [Name in FieldName]?: readonly Head[] }
  /** True where a standing reading of the mass was guessed. */
  readonly massGuessed: boolean
  /** Every reading ever taken of a measure, overridden ones too, for histories such as growth. */
  readonly readings: { readonly [Name in NamesOfKind<'measure'>]?: readonly Head<Reading>[] }
  readonly newer: readonly FieldName[]
  readonly unknownFields: readonly string[]
  readonly entryCount: number
}
