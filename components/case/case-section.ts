import type { TemplateResult } from 'lit'
import type { CaseView } from '../../src/case/case-view.ts'
import type { PhotoSubject } from '../../src/case/fields.ts'
import type { Catalogue } from '../../src/chair/chair-model.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import type { AppCasebook } from '../app/context.ts'
import type { TextKey } from '../text/text.ts'

/** What every part of a case is shown from. */
export interface CaseFacts {
  readonly view: CaseView
  readonly outcome: Outcome
  /** Names chairs and cushions; absent where only keys can be said. */
  readonly catalogue?: Catalogue | undefined
  /** Knows what is typed and not saved; absent where that is not asked. */
  readonly casebook?: AppCasebook | undefined
}

/** What a closed part says: its result as a sentence, how much is left, and whether it asks for a hand. */
export interface SectionResult {
  readonly text: string
  /** Things still lacking before handover; 0 is done, null says nothing about it. */
  readonly left: number | null
  readonly calls?: 'warn' | 'danger'
}

/** One part of a case. `key` stands in the address. The element is loaded when the part is opened for the first time. */
export interface CaseSection {
  readonly key: string
  readonly title: TextKey
  /** False where the part has nothing to say on this case (no difference is open). Absent: always shown. */
  isShown?(facts: CaseFacts): boolean
  result(facts: CaseFacts): SectionResult
  load(): Promise<unknown>
  /** What photos are useful here: those stand below, and more can be added. */
  readonly photos?: readonly PhotoSubject[]
  /** The element with `.view` and `.outcome`; it may be rendered before its definition has come. */
  render(facts: CaseFacts): TemplateResult
}

/** How many fields of a part are still lacking, by the stage of the case; 0 once nothing is. */
export const leftIn = ({ outcome }: CaseFacts, section: Outcome['next'][number]['section']): number =>
  outcome.next.find(lack => lack.section === section)?.needs.length ?? 0
