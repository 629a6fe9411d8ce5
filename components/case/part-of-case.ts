import { html, nothing, type TemplateResult } from 'lit'
import type { PhotoSubject } from '../../src/case/fields.ts'
import type { CaseFacts, CaseSection } from './case-section.ts'

/** Fetches what a part of a case is shown with. `looksOn`: by somebody who records nothing. */
export const loadPart = (section: CaseSection, looksOn: boolean): Promise<unknown> =>
  Promise.all([
    section.load(),
    looksOn ? import('./spoke-looking.ts') : undefined,
    section.photos ? import('./photos/spoke-photos.ts') : undefined,
  ])

/** The inside of a part that was fetched, with the photos that belong to it. */
export const renderPart = (section: CaseSection, facts: CaseFacts, looksOn: boolean): TemplateResult =>
  // Photos are looked at where everybody sees them.
  html`${looksOn && section.key !== 'photos' ? toRead(section, facts) : section.render(facts)}${
    section.photos ? photosBeside(section.photos, facts) : nothing
  }`

const toRead = ({ key }: CaseSection, { view, outcome }: CaseFacts): TemplateResult =>
  html`<spoke-looking .section=${key} .view=${view} .outcome=${outcome}></spoke-looking>`

const photosBeside = (subjects: readonly PhotoSubject[], { view, outcome }: CaseFacts): TemplateResult =>
  html`<spoke-photos .subjects=${subjects} .view=${view} .outcome=${outcome}></spoke-photos>`
