import type { CalendarDate } from '../src/calendar-date.ts'
import type { CaseView } from '../src/case/case-view.ts'
import type { SharedContext } from '../src/crew/shared-context.ts'

/** The least that everything derived from a case must say: the next date on which it would differ by the calendar alone. */
export interface AnyOutcome {
  readonly changesOn: CalendarDate | null
}

/**
 * What is derived from a case, handed in by who puts the app together. Both functions are pure: same entries, context,
 * date and version give the same on every device. `Brief` is plain JSON data, what lists show without opening a case.
 */
export interface Rules<Outcome extends AnyOutcome, Brief> {
  readonly version: string
  outcomeOf(view: CaseView, context: SharedContext, today: CalendarDate): Outcome
  /** What lists show; `view` for what is said of the person rather than worked out. */
  briefOf(outcome: Outcome, view: CaseView): Brief
}
