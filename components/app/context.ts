import { createContext } from '@lit/context'
import type { CalendarDate } from '../../src/calendar-date.ts'
import type { CaseId } from '../../src/ids.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import type { Casebook } from '../../sync/casebook.ts'
import type { OutcomeBrief } from '../../sync/outcome-rules.ts'
import type { Meetings } from '../../sync/transport/meetings.ts'
import type { HubStay } from './hub-stay.ts'

export type AppCasebook = Casebook<Outcome, OutcomeBrief>

/** What the composition root gives to every element below the shell. */
export interface AppContext {
  readonly casebook: AppCasebook
  /** True for the practice trip: said on every screen, kept in a store of its own. */
  readonly practice: boolean
  /** The connections to others of the crew. Undefined in practice: a practice casebook is each device's own. */
  readonly meetings?: Meetings
  /** The hub at the address that the app came from, where there may be one. */
  readonly hub?: HubStay
  /** The date in the team's zone. */
  today(): CalendarDate
}

export const appContext = createContext<AppContext>(Symbol('outspoke app'))

/** Where the app is: in the address after #, so that back works and an address says nothing about a person. */
export type Route =
  | { readonly page: 'people' }
  | { readonly page: 'new-referral' }
  | { readonly page: 'case'; readonly caseId: CaseId; readonly section: string | null }
  | { readonly page: 'ready' }
  | { readonly page: 'hand-on' }
  | { readonly page: 'nearby' }
  | { readonly page: 'two-codes' }
  | { readonly page: 'crew' }
  | { readonly page: 'settings' }
  | {
      readonly page: 'print'
      readonly what: 'build-sheet' | 'day' | 'handover' | 'summary' | 'label'
      readonly caseId: CaseId | null
    }
