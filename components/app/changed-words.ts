import type { Catalogue } from '../../src/chair/chair-model.ts'
import type { SetUp } from '../../src/chair/set-up.ts'
import { sayHold } from '../case/say-hold.ts'
import { SET_UP_NAMES, type SetUpName, saySetUpValue, setUpName } from '../case/say-set-up.ts'
import { modelIn, saySize } from '../case/set-up-words.ts'
import { currentSpeech, t } from '../text/text.ts'
import type { CaseFacts, ChangedCase } from './what-changed.ts'

/** Said together as the chair and its size. */
const SIZE_NAMES: readonly SetUpName[] = ['chair', 'seatWidthMm', 'seatDepth']

const sayChange = (what: string, before: string | null, after: string | null): readonly string[] => {
  if (before === after) return []
  if (after === null) return [t('handOn.isGone', { what, before: before ?? '' })]
  return [before === null ? t('handOn.isNow', { what, after }) : t('handOn.was', { what, before, after })]
}

/** Which chair, and where that stays, which of its settings; a chair of another size has all others too. */
const sayChair = (what: string, catalogue: Catalogue, before: SetUp | null, after: SetUp | null): readonly string[] => {
  const size = (setUp: SetUp | null): string | null => setUp && saySize(catalogue, setUp)
  const sizes = sayChange(what, size(before), size(after))
  if (sizes.length > 0 || !before || !after) return sizes
  const model = modelIn(catalogue, after.chair)
  return SET_UP_NAMES.filter(name => !SIZE_NAMES.includes(name)).flatMap(name =>
    sayChange(
      `${what}, ${setUpName(name)}`,
      saySetUpValue(name, before[name], model),
      saySetUpValue(name, after[name], model),
    ),
  )
}

const holdsSaid = (facts: CaseFacts): readonly string[] => facts.holds.map(hold => sayHold(hold, facts))

const sayHolds = (before: readonly string[], after: readonly string[]): readonly string[] => [
  ...after.filter(hold => !before.includes(hold)).map(hold => t('handOn.stands', { hold })),
  ...before.filter(hold => !after.includes(hold)).map(hold => t('handOn.ended', { hold })),
]

const sayDue = ({ due }: CaseFacts): string | null =>
  due && t('handOn.dueOn', { what: t(`due.${due.kind}`), date: currentSpeech().date(due.date) })

/** What came of it for one person, no more than what changed: what stands in the way first. */
export const sayChanged = ({ before, after }: ChangedCase, catalogue: Catalogue): readonly string[] => {
  const said = [
    ...sayHolds(holdsSaid(before), holdsSaid(after)),
    ...sayChair(t('handOn.setUp'), catalogue, before.chosen, after.chosen),
    // With a chair chosen, what would be recommended now is no news.
    ...(before.chosen && after.chosen ? [] : sayChair(t('handOn.best'), catalogue, before.best, after.best)),
    ...sayChange(t('handOn.due'), sayDue(before), sayDue(after)),
  ]
  return said.length > 0 ? said : [t('handOn.asBefore')]
}
