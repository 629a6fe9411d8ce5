import type { NotHandedOn } from '../../sync/casebook.ts'
import type { RoundProgress } from '../../sync/exchange/exchange.ts'
import { t } from '../text/text.ts'

/** How much written here is on no other device, and about how many people. */
export const sayOnlyHere = ({ entries, cases }: NotHandedOn): string => {
  const words = t('nearby.onlyHere', { count: entries })
  return cases.length === 0 ? words : t('nearby.onlyHerePeople', { entries: words, count: cases.length })
}

/** What either of the two lacks, as their hashes told at the beginning of the round. */
export const sayLacks = ({ onlyHere, onlyThere }: RoundProgress): readonly string[] => [
  ...(onlyThere > 0 ? [t('nearby.onlyThere', { count: onlyThere })] : []),
  ...(onlyHere > 0 ? [t('nearby.onlyHereCases', { count: onlyHere })] : []),
]
