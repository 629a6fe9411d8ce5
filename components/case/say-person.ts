import { ageOn, completedMonths } from '../../src/calendar-date.ts'
import { t } from '../text/text.ts'
import type { CaseFacts } from './case-section.ts'

const sayAge = ({ view, outcome }: CaseFacts): string | undefined => {
  const { dateOfBirth, birthYear } = view.values
  // A day still to come is a doubt of its own, not an age.
  if (dateOfBirth && dateOfBirth <= outcome.today) {
    const years = ageOn(dateOfBirth, outcome.today)
    return years < 2
      ? t('frame.months', { count: completedMonths(dateOfBirth, outcome.today) })
      : t('frame.years', { count: years })
  }
  // Whoever gave an age gave a guess: it is said as one, as the list of people says it.
  const about = birthYear === undefined ? -1 : Number(outcome.today.slice(0, 4)) - birthYear
  return about < 0 ? undefined : t('frame.aboutYears', { count: about })
}

const sayChair = ({ outcome, catalogue }: CaseFacts): string | undefined => {
  const setUp = outcome.target?.setUp
  const model = catalogue?.models.find(one => one.key === setUp?.chair)
  const depth = model?.seatDepths.find(one => one.key === setUp?.seatDepth)
  return setUp && model && depth
    ? t('frame.chosenChair', { chair: model.title, width: setUp.seatWidthMm, depth: depth.valueMm })
    : undefined
}

/** Below the name: how old, where, which chair; what is not known is left out. */
export const sayPerson = (facts: CaseFacts): string =>
  [sayAge(facts), facts.view.values.place, sayChair(facts)].filter(part => part !== undefined).join(' · ')
