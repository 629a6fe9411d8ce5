import { assessmentSection } from './assessment/assessment-section.ts'
import type { CaseSection } from './case-section.ts'
import { measuringSection } from './measuring/measuring-section.ts'
import { referralSection } from './referral/referral-section.ts'

/**
 * Every part of a case, in the order in which the job usually runs. A part is added by one line here and its own
 * `...-section.ts`, which must stay small: it is loaded with the first screen, the part's element only when opened.
 */
export const CASE_SECTIONS: readonly CaseSection[] = [referralSection, assessmentSection, measuringSection]

export const caseSection = (key: string): CaseSection | undefined => CASE_SECTIONS.find(one => one.key === key)
