import type { CaseView } from '../../src/case/case-view.ts'
import type { Counted } from '../../src/case/entry.ts'
import { fieldOf, isFieldName } from '../../src/case/fields.ts'
import { POLICY_FIELD } from '../../src/crew/catalogue-fields.ts'
import type { DocumentKey } from '../../sync/exchange/replica.ts'
import type { AppCasebook } from '../app/context.ts'
import { sayInFull } from '../case/say-in-full.ts'
import { fieldLabel, sayName } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'

const sayOfCase = (name: string, value: unknown, view: CaseView, casebook: AppCasebook): string => {
  if (!isFieldName(name)) return t('crew.said other')
  // Only what the registry takes can be put in words; the rest is named and left.
  if (!fieldOf(name).schema.safeParse(value).success) return fieldLabel(name)
  return t('crew.saidThat', {
    what: fieldLabel(name),
    value: sayInFull(name, value, view, casebook.context().catalogue),
  })
}

/** What was said of crew and stock that has a sentence of its own; trips and the like are told where they are shown. */
const OF_TEAM = ['found', 'title', 'contact', 'add', 'strike', 'vouch', 'erase', 'movement', 'reservation'] as const
type OfTeam = (typeof OF_TEAM)[number]

const sayOfTeam = (name: string): string => {
  const known: OfTeam | undefined = OF_TEAM.find(one => one === name)
  return t(known ? `crew.said ${known}` : 'crew.said other')
}

const sayOfCatalogue = (name: string): string => t(name === POLICY_FIELD ? 'crew.said policy' : 'crew.said model')

/** What an entry states, in words. `view`: of the case that it belongs to, as what counts says it is. */
export const sayEntry = (
  { readable, entry }: Counted,
  document: DocumentKey,
  view: CaseView | undefined,
  casebook: AppCasebook,
): string => {
  if (!readable) return t('crew.newer')
  const said = Object.entries(entry.set).map(([name, value]) => {
    if (document === 'team') return sayOfTeam(name)
    if (document === 'catalogue') return sayOfCatalogue(name)
    return view ? sayOfCase(name, value, view, casebook) : isFieldName(name) ? fieldLabel(name) : t('crew.said other')
  })
  return said.join('; ')
}

/** By whom, and when by the clock of that phone. */
export const saySigned = ({ readable, entry }: Counted, casebook: AppCasebook): string => {
  const who = sayName(casebook, entry.by)
  return readable ? t('crew.saidBy', { who, when: currentSpeech().moment(entry.at) }) : who
}
