import type { CalendarDate } from '../src/calendar-date.ts'
import type { CaseView } from '../src/case/case-view.ts'
import type { SharedContext } from '../src/crew/shared-context.ts'

/** The least that everything derived from a case must say: the next date on which it would differ by the calendar alone. */
export interface AnyOutcome {
  readonly changesOn: CalendarDate | null
}

/** Values by field, as one entry says them. */
export type FieldSet = Readonly<Record<string, unknown>>

/**
 * What is derived from a case, handed in by who puts the app together. All functions are pure: same entries, context,
 * date and version give the same on every device. `Brief` is plain JSON data, what lists show without opening a case.
 */
export interface Rules<Outcome extends AnyOutcome, Brief> {
  readonly version: string
  outcomeOf(view: CaseView, context: SharedContext, today: CalendarDate): Outcome
  /** What lists show; `view` for what is said of the person rather than worked out. */
  briefOf(outcome: Outcome, view: CaseView): Brief
  /**
   * Why this device must not record these fields now, in words; undefined when it may. `outcomeWith` gives the outcome of
   * the case as it would stand with some fields said. Asked before a save only: what another device recorded counts.
   */
  whyRefused?(set: FieldSet, outcomeWith: (said: FieldSet) => Outcome): string | undefined
}
