import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { viewOfCase } from '../../../src/case/case-view-of.ts'
import type { Counted } from '../../../src/case/entry.ts'
import { crewOf } from '../../../src/crew/crew.ts'
import { TEAM_FIELDS } from '../../../src/crew/team-fields.ts'
import { linkedDifferences } from '../../../src/doubles/linked-differences.ts'
import { linkedCases, linksOf, pairKey, pairOf } from '../../../src/doubles/links.ts'
import type { CaseId, EntryId } from '../../../src/ids.ts'
import { said, testCase } from '../../support/case-entries.ts'
import { runs } from '../../support/seed.ts'
import { aCase, added, founded, struck, teamSaid } from '../../support/team-entries.ts'

const [A, B, C, D] = ['a', 'b', 'c', 'd'].map(aCase) as [CaseId, CaseId, CaseId, CaseId]
const crew = [founded('ines'), added('ines', 'tavo'), added('ines', 'guest', 'visitor')]
const linked = (by: string, one: CaseId, other: CaseId, same = true, over: readonly EntryId[] = []): Counted =>
  teamSaid(by, { samePerson: { cases: pairOf(one, other), same } }, over)
const linksIn = (...entries: readonly Counted[]) => linksOf(crewOf([...crew, ...entries]), [...crew, ...entries])
const standing = (one: CaseId, other: CaseId, ...entries: readonly Counted[]) =>
  linksIn(...entries).get(pairKey(one, other))?.standing

describe('links between cases', () => {
  it('stand once a member says so, and can be taken back', () => {
    const link = linked('tavo', A, B)
    expect(standing(A, B, link)).toBe('same-person')
    expect(standing(B, A, link)).toBe('same-person')
    expect(standing(A, B, link, linked('ines', A, B, false, [link.id]))).toBe('two-people')
  })

  it('are disputed where two members said both without knowing of each other, until somebody says it over both', () => {
    const [one, other] = [linked('tavo', A, B), linked('ines', A, B, false)]
    expect(standing(A, B, one, other)).toBe('disputed')
    expect(linkedCases(linksIn(one, other))).toEqual([])
    expect(standing(A, B, one, other, linked('tavo', A, B, true, [one.id, other.id]))).toBe('same-person')
  })

  it('a visitor links nothing', () => {
    expect(standing(A, B, linked('guest', A, B))).toBeUndefined()
  })

  it('what a struck device said after the strike links nothing', () => {
    expect(standing(A, B, struck('ines', 'tavo'), linked('tavo', A, B))).toBeUndefined()
  })

  it('a statement over one of another pair leaves that one standing', () => {
    const link = linked('tavo', A, B)
    expect(standing(A, B, link, linked('ines', C, D, false, [link.id]))).toBe('same-person')
  })

  it('chain to one person, whatever the order', () => {
    const links = [linked('tavo', A, B), linked('tavo', C, D), linked('ines', B, C)]
    fc.assert(
      fc.property(fc.shuffledSubarray(links, { minLength: 3 }), shuffled => {
        expect(linkedCases(linksIn(...shuffled))).toEqual([[A, B, C, D].toSorted()])
      }),
      runs(20),
    )
    expect(linkedCases(linksIn(...links.slice(0, 2)))).toHaveLength(2)
  })

  it('a case is not linked with itself, and a pair has one order', () => {
    const [first, second] = pairOf(A, B)
    expect(TEAM_FIELDS.samePerson.safeParse({ cases: [first, second], same: true }).success).toBe(true)
    expect(TEAM_FIELDS.samePerson.safeParse({ cases: [second, first], same: true }).success).toBe(false)
    expect(TEAM_FIELDS.samePerson.safeParse({ cases: [first, first], same: true }).success).toBe(false)
  })
})

describe('differences between the cases of one person', () => {
  const view = (by: string, set: Readonly<Record<string, unknown>>) => viewOfCase(testCase, [said({ by, set })])
  const hip = (typed: number) => ({ hipWidthMm: { typed, unit: 'mm' } })

  it('are those of any two statements: readings within tolerance are one value, others are a difference', () => {
    const first = view('a', { personName: 'Karuni Castellow', sex: 'male', ...hip(412) })
    expect(linkedDifferences([first, view('b', { personName: 'Karuni Castellow', sex: 'male', ...hip(416) })])).toEqual(
      [],
    )
    const differences = linkedDifferences([first, view('b', { personName: 'Caruni Castelo', ...hip(431) })])
    expect(differences.map(({ field }) => field)).toEqual(['personName', 'hipWidthMm'])
    expect(differences[1]?.options.map(({ value }) => value)).toEqual([412, 431])
  })

  it('end once each case says the same', () => {
    const settled = [
      viewOfCase(testCase, [said({ by: 'a', set: { personName: 'Karuni Castellow' } })]),
      view('b', { personName: 'Karuni Castellow' }),
    ]
    expect(linkedDifferences(settled)).toEqual([])
  })

  it('a risk that one of the cases names is a risk, not a difference', () => {
    expect(linkedDifferences([view('a', { presentSore: true }), view('b', { presentSore: false })])).toEqual([])
  })
})
