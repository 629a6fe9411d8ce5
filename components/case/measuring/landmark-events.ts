import type { MeasureName } from './landmarks.ts'

/** A reading was saved: the store has committed it. */
export class ReadingSavedEvent extends Event {
  readonly field: MeasureName
  readonly words: string

  constructor(field: MeasureName, words: string) {
    super('reading-saved', { bubbles: true, composed: true })
    this.field = field
    this.words = words
  }
}

declare global {
  interface HTMLElementEventMap {
    'reading-saved': ReadingSavedEvent
  }
}
