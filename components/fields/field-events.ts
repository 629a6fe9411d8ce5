import type { FieldName, FieldValue } from '../../src/case/fields.ts'

/**
 * A person changed an answer. `undefined`: they took back what they had typed.
 */
export class FieldChangeEvent<Name extends FieldName = FieldName> extends Event {
  static readonly type = 'field-change'
  readonly field: Name
  readonly value: FieldValue<Name> | undefined

  constructor(field: Name, value: FieldValue<Name> | undefined) {
    super(FieldChangeEvent.type, { bubbles: true, composed: true })
    this.field = field
    this.value = value
  }
}

/** A person says that a risk is no longer so, and what was seen or done (B6). */
export class RiskLowerEvent extends Event {
  static readonly type = 'risk-lower'
  readonly field: FieldName
  readonly why: string

  constructor(field: FieldName, why: string) {
    super(RiskLowerEvent.type, { bubbles: true, composed: true })
    this.field = field
    this.why = why
  }
}

declare global {
  interface HTMLElementEventMap {
    'field-change': FieldChangeEvent
    'risk-lower': RiskLowerEvent
  }
}
