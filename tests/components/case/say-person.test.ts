import { describe, expect, it } from 'vitest'
import type { CaseFacts } from '../../../components/case/case-section.ts'
import { sayPerson } from '../../../components/case/say-person.ts'

const factsOf = (values: Readonly<Record<string, unknown>>): CaseFacts =>
  ({ view: { values }, outcome: { today: '2026-05-15', target: undefined } }) as unknown as CaseFacts

describe('what stands below the name of a person', () => {
  it('says an age that was guessed as a guess, never as a year of birth', () => {
    expect(sayPerson(factsOf({ birthYear: 1985 }))).toBe('about 41 years')
  })

  it('says nothing of a year that is still to come', () => {
    expect(sayPerson(factsOf({ birthYear: 2031, place: 'Hule' }))).toBe('Hule')
  })
})
