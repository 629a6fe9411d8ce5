import type { CaseId } from '../../src/ids.ts'
import type { AppCasebook } from '../app/context.ts'

/** Words that go along with an act (a fault, a reason, a second name) before it is done. Gone with the page, never stored. */
const wordsByCasebook = new WeakMap<AppCasebook, Map<string, string>>()

/** What was typed so far, however often its form was closed or moved meanwhile. */
export const keptWords = (casebook: AppCasebook, caseId: CaseId, form: string): string =>
  wordsByCasebook.get(casebook)?.get(`${caseId} ${form}`) ?? ''

/** An empty text forgets. */
export const keepWords = (casebook: AppCasebook, caseId: CaseId, form: string, words: string): void => {
  const kept = wordsByCasebook.get(casebook) ?? new Map<string, string>()
  wordsByCasebook.set(casebook, kept)
  if (words === '') kept.delete(`${caseId} ${form}`)
  else kept.set(`${caseId} ${form}`, words)
}
