import type { CaseView } from '../../src/case/case-view.ts'
import { viewOfCase } from '../../src/case/case-view-of.ts'
import type { Counted } from '../../src/case/entry.ts'
import { fieldOf, isFieldName } from '../../src/case/fields.ts'
import { POLICY_FIELD } from '../../src/crew/catalogue-fields.ts'
import type { DocumentKey } from '../../sync/exchange/replica.ts'
import type { AppCasebook } from '../app/context.ts'
import { sayInFull } from '../case/say-in-full.ts'
import { historyOf } from '../follow-up/history-words.ts'
import { fieldLabel, sayName } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'

const sayOfCase = (name: string, value: unknown, view: CaseView, casebook: AppCasebook): string => {
  if (!isFieldName(name)) return t('crew.said other')
  const { kind, schema } = fieldOf(name)
  // What happened is told as in the history of a case. Only what the registry takes can be put in words.
  if (kind === 'event' || !schema.safeParse(value).success) return fieldLabel(name)
  return t('crew.saidThat', {
    what: fieldLabel(name),
    value: sayInFull(name, value, view, casebook.context().catalogue),
  })
}

/** What happened, as it would stand in the history of the case. */
const sayHappened = (counted: Counted, view: CaseView, casebook: AppCasebook): readonly string[] =>
  historyOf(viewOfCase(view.caseId, [counted]), casebook.context().catalogue).map(({ words }) => words)

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
  counted: Counted,
  document: DocumentKey,
  view: CaseView | undefined,
  casebook: AppCasebook,
): string => {
  const { readable, entry } = counted
  if (!readable) return t('crew.newer')
  const said = Object.entries(entry.set).map(([name, value]) => {
    if (document === 'team') return sayOfTeam(name)
    if (document === 'catalogue') return sayOfCatalogue(name)
    return view ? sayOfCase(name, value, view, casebook) : isFieldName(name) ? fieldLabel(name) : t('crew.said other')
  })
  return [...said, ...(view ? sayHappened(counted, view, casebook) : [])].join('; ')
}

/** By whom, and when by the clock of that phone. */
export const saySigned = ({ readable, entry }: Counted, casebook: AppCasebook): string => {
  const who = sayName(casebook, entry.by)
  return readable ? t('crew.saidBy', { who, when: currentSpeech().moment(entry.at) }) : who
}
