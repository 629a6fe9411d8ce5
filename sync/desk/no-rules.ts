import type { AnyOutcome, Rules } from '../rules.ts'

/** For what only keeps, checks and hands on: nothing is worked out. */
export const noRules: Rules<AnyOutcome, null> = {
  version: 'none',
  outcomeOf: () => ({ changesOn: null }),
  briefOf: () => null,
}
