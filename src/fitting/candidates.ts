import { bodyOf } from '../body/measurements.ts'
import type { Person } from '../body/person.ts'
import { doubtsOf, withoutSetAside } from '../body/plausibility.ts'
import type { CalendarDate } from '../calendar-date.ts'
import type { Catalogue } from '../chair/chair-model.ts'
import { sitterOf } from './loaded-chair.ts'
import { needsOf } from './needs.ts'
import type { Policy } from './policy.ts'
import { type Candidate, searchCatalogue } from './search.ts'

/**
 * Every chair of the catalogue, as taken from stock, that no hard rule excludes for this person, best first: the whole
 * ranking of which `recommend` works out the top. Empty where measures are missing or nothing serves.
 */
export const candidatesFor = (
  person: Person,
  catalogue: Catalogue,
  policy: Policy,
  today: CalendarDate,
  smallGapAccepted = false,
): readonly Candidate[] => {
  const trusted = withoutSetAside(person, doubtsOf(person, today))
  const { body } = bodyOf(trusted, today)
  if (!body) return []
  return searchCatalogue(sitterOf(trusted, body), needsOf(trusted, body, policy, smallGapAccepted), catalogue, policy)
    .candidates
}
