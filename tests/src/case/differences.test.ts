import { describe, expect, it } from 'vitest'
import type { CaseView } from '../../../src/case/case-view.ts'
import { viewOfCase } from '../../../src/case/case-view-of.ts'
import { type FlatOutcome, weighDifferences, withValues } from '../../../src/case/differences.ts'
import { type Said, said, testCase } from '../../support/case-entries.ts'

// Expectations follow from rule B10 of the shared record, worked by hand; no published source.

const length = (typed: number) => ({ typed, unit: 'mm' })
const apart = (...sets: readonly Said['set'][]) =>
  viewOfCase(
    testCase,
    sets.map((set, index) => said({ set, by: `device ${index}` })),
  )

/** An outcome with a threshold, as real outcomes have. */
const outcome = ({ values }: CaseView): FlatOutcome => ({ 'setting.size': (values.hipWidthMm ?? 0) > 420 ? 440 : 400 })

describe('weighing differences', () => {
  const view = apart({ hipWidthMm: length(400) }, { hipWidthMm: length(452) })

  it('says what would change, from what, to what', () => {
    const { differences } = weighDifferences(view, outcome)
    expect(differences).toHaveLength(1)
    expect(differences[0]?.effect).toBe('changes')
    expect(differences[0]?.options.map(option => [option.value, option.changes])).toEqual([
      [400, []],
      [452, [{ key: 'setting.size', from: 400, to: 440, given: [] }]],
    ])
  })

  it('has no effect where every option gives the same outcome', () => {
    const close = apart({ hipWidthMm: length(390) }, { hipWidthMm: length(410) })
    expect(weighDifferences(close, outcome).differences[0]?.effect).toBe('none')
  })

  it('shows meanwhile the view with every first option, and keeps all statements', () => {
    const { base } = weighDifferences(view, outcome)
    expect(base.values.hipWidthMm).toBe(400)
    expect(base.differences).toEqual([])
    expect(base.heads.hipWidthMm).toHaveLength(2)
    expect(view.values.hipWidthMm).toBeUndefined()
  })

  it('finds two that matter only together, and says in whose company', () => {
    const both = ({ values }: CaseView): FlatOutcome => ({
      'hold.both': values.posture === 'some-support' && values.trunkNeed === 'some',
    })
    const two = apart({ posture: 'complex', trunkNeed: 'high' }, { posture: 'some-support', trunkNeed: 'some' })
    const { differences } = weighDifferences(two, both)
    expect(differences.map(({ field, effect }) => [field, effect])).toEqual([
      ['posture', 'changes'],
      ['trunkNeed', 'changes'],
    ])
    expect(differences[0]?.options[1]?.changes).toEqual([
      { key: 'hold.both', from: false, to: true, given: [{ field: 'trunkNeed', value: 'some' }] },
    ])
  })

  it('names the least company in which a change shows', () => {
    const four = apart(
      { posture: 'complex', trunkNeed: 'free', skill: 'expert', ground: 'mixed' },
      { posture: 'sits-well', trunkNeed: 'some', skill: 'new', ground: 'rough' },
    )
    // Shows with trunkNeed alone, and also with skill and ground together; the latter combination is tried earlier.
    const either = ({ values: { posture, trunkNeed, skill, ground } }: CaseView): FlatOutcome => ({
      'hold.any': posture === 'sits-well' && (trunkNeed === 'some' || (skill === 'new' && ground === 'rough')),
    })
    const posture = weighDifferences(four, either).differences.find(({ field }) => field === 'posture')
    expect(posture?.options[1]?.changes.map(change => change.given)).toEqual([[{ field: 'trunkNeed', value: 'some' }]])
  })

  it('computes each combination once, in any company', () => {
    const three = apart(
      { posture: 'complex', trunkNeed: 'high', hipWidthMm: length(300) },
      { posture: 'some-support', trunkNeed: 'some', hipWidthMm: length(400) },
      { hipWidthMm: length(500) },
    )
    const seen: string[] = []
    weighDifferences(three, ({ values }) => {
      seen.push(`${values.posture} ${values.trunkNeed} ${values.hipWidthMm}`)
      return {}
    })
    expect(seen).toHaveLength(12)
    expect(new Set(seen).size).toBe(12)
  })

  const crowd = apart(
    ...[300, 320, 340, 360, 380].flatMap(mm => [
      { hipWidthMm: length(mm), ribHeightMm: length(mm), axillaHeightMm: length(mm) },
    ]),
  )

  it('holds all above 64 combinations without trying them', () => {
    const { differences } = weighDifferences(crowd, () => {
      throw new Error('tried')
    })
    expect(differences.map(({ effect }) => effect)).toEqual(['too-many', 'too-many', 'too-many'])
    expect(differences[0]?.options).toHaveLength(5)
  })

  it('does not multiply by fields that never feed the outcome, but lists them', () => {
    const { differences } = weighDifferences(crowd, outcome, field => field === 'hipWidthMm')
    expect(differences.map(({ effect }) => effect)).toEqual(['none', 'none', 'none'])
    const names = apart({ personName: 'Tavi' }, { personName: 'Tavy' }, { hipWidthMm: length(400) })
    expect(weighDifferences(names, outcome, () => false).differences).toMatchObject([
      { field: 'personName', effect: 'none', options: [{ value: 'Tavi' }, { value: 'Tavy' }] },
    ])
  })

  it('takes a hold that appears, or goes, as a change', () => {
    const appears = weighDifferences(view, ({ values }) => (values.hipWidthMm === 452 ? { 'hold.wide': true } : {}))
    expect(appears.differences[0]?.options[1]?.changes).toEqual([{ key: 'hold.wide', from: null, to: true, given: [] }])
  })
})

it('an answered mass is guessed only where that very answer was', () => {
  const view = apart(
    { massKg: { typed: 60, unit: 'kg', how: 'guessed' } },
    { massKg: { typed: 75, unit: 'kg', how: 'scale' } },
  )
  const options = view.differences[0]?.options ?? []
  const guessed = options.map(option => withValues(view, [{ field: 'massKg', option }]).massGuessed)
  expect(guessed).toEqual([true, false])
})
