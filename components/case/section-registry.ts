import { differencesSection } from '../differences/differences-section.ts'
import { assessmentSection } from './assessment/assessment-section.ts'
import type { CaseSection } from './case-section.ts'
import { checksSection } from './checks/checks-section.ts'
import { choosingSection } from './choosing/choosing-section.ts'
import { exitSection } from './exit/exit-section.ts'
import { fittingSection } from './fitting/fitting-section.ts'
import { followUpSection } from './follow-up/follow-up-section.ts'
import { handoverSection } from './handover/handover-section.ts'
import { measuringSection } from './measuring/measuring-section.ts'
import { photosSection } from './photos/photos-section.ts'
import { preparingSection } from './preparing/preparing-section.ts'
import { referralSection } from './referral/referral-section.ts'
import { trainingSection } from './training/training-section.ts'

/**
 * Every part of a case, in the order in which the job usually runs. A part is added by one line here and its own
 * `...-section.ts`, which must stay small: it is loaded with the first screen, the part's element only when opened.
 */
export const CASE_SECTIONS: readonly CaseSection[] = [
  differencesSection,
  referralSection,
  assessmentSection,
  measuringSection,
  choosingSection,
  preparingSection,
  checksSection,
  fittingSection,
  trainingSection,
  handoverSection,
  followUpSection,
  photosSection,
  exitSection,
]

export const caseSection = (key: string): CaseSection | undefined => CASE_SECTIONS.find(one => one.key === key)
