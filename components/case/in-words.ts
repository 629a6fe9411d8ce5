import { t } from '../text/text.ts'
import type { CaseFacts, CaseSection, SectionResult } from './case-section.ts'
import { type NextThing, nextThing } from './next-thing.ts'

/** What `say` says; where it fails, that it did: one sentence with a fault must not take the others from the screen. */
export const inWords = (say: () => string): string => {
  try {
    return say()
  } catch {
    return t('frame.noWords')
  }
}

/** What a part came to, or that it could not be put in words; the part itself can still be opened. */
export const resultOf = (section: CaseSection, facts: CaseFacts): SectionResult => {
  try {
    return section.result(facts)
  } catch {
    return { text: t('frame.noWords'), left: null, calls: 'warn' }
  }
}

/** A part that fails to say whether it has something to say is shown. */
export const isShown = (section: CaseSection, facts: CaseFacts): boolean => {
  try {
    return section.isShown?.(facts) ?? true
  } catch {
    return true
  }
}

export const nextOrFault = (facts: CaseFacts): NextThing | undefined => {
  try {
    return nextThing(facts)
  } catch {
    return { text: t('frame.noWords'), section: facts.outcome.next[0]?.section ?? 'follow-up' }
  }
}
