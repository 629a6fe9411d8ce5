import type { CaseId } from '../../src/ids.ts'
import type { AppCasebook } from '../app/context.ts'
import { draftsOf } from './drafts.ts'

/** Words that go along with an act (a fault, a reason, a second name) before it is done. */
const wordsKey = (caseId: CaseId, form: string): string => `${caseId} words ${form}`

/** What was typed so far, however often its form was closed, the device locked or the page loaded anew meanwhile. */
export const keptWords = (casebook: AppCasebook, caseId: CaseId, form: string): string => {
  const kept = draftsOf(casebook).kept(wordsKey(caseId, form))
  return typeof kept === 'string' ? kept : ''
}

/** An empty text forgets. */
export const keepWords = (casebook: AppCasebook, caseId: CaseId, form: string, words: string): void => {
  draftsOf(casebook).keep(wordsKey(caseId, form), words === '' ? undefined : words)
}
