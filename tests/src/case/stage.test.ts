import { describe, expect, it } from 'vitest'
import { viewOfCase } from '../../../src/case/case-view-of.ts'
import { STAGES, stageOf } from '../../../src/case/stage.ts'
import { said, testCase } from '../../support/case-entries.ts'

// The order of sections follows WHO, Guidelines on the provision of manual wheelchairs in less resourced settings, 2008,
// table 3.2 (referral, assessment, prescription, preparation, fitting, training, follow-up). What each needs: project value.

const viewOf = (...sets: readonly Readonly<Record<string, unknown>>[]) =>
  viewOfCase(
    testCase,
    sets.map(set => said({ set })),
  )
const on = '2026-05-02'
const length = (typed: number) => ({ typed, unit: 'mm' })
const referral = { personName: 'Tavi', birthYear: 1980, toldAndAgreed: { told: true, agreed: true, by: 'person', on } }
const assessment = {
  posture: 'sits-well',
  trunkNeed: 'free',
  propulsion: ['hands'],
  skill: 'new',
  ground: 'mixed',
  ...Object.fromEntries(
    [
      'presentSore',
      'pastSore',
      'reducedSensation',
      'cannotReposition',
      'moisture',
      'newWeakness',
      'breathingTrouble',
      'swallowingTrouble',
      'uncontrolledSpasms',
    ].map(name => [name, false]),
  ),
}
const legs = {
  thighDepthLeftMm: length(480),
  thighDepthRightMm: length(480),
  calfLengthLeftMm: length(430),
  calfLengthRightMm: length(430),
}
const body = {
  massKg: { typed: 70, unit: 'kg' },
  hipWidthMm: length(380),
  ribHeightMm: length(280),
  axillaHeightMm: length(480),
}
const check = (result: string) => ({ checkBrakesHold: { result, on, against: {} } })
const needsOf = (view: ReturnType<typeof viewOf>, section: string) =>
  stageOf(view, ['brakesHold']).next.find(lack => lack.section === section)?.needs

describe('where a case stands', () => {
  it('an empty case stands at referral and lacks everything up to handover', () => {
    const { stage, next } = stageOf(viewOf())
    expect(stage).toBe('referral')
    expect(next.map(lack => lack.section)).toEqual(STAGES.slice(0, 9))
  })

  it('moves on when a section lacks nothing more', () => {
    expect(stageOf(viewOf(referral)).stage).toBe('assessment')
    expect(stageOf(viewOf(referral, assessment)).stage).toBe('measuring')
    expect(stageOf(viewOf(referral, assessment, legs, body)).stage).toBe('choosing')
  })

  it('forces no order: measured first, it stands there, and says what was passed over', () => {
    const view = viewOf(legs)
    expect(stageOf(view).stage).toBe('measuring')
    expect(stageOf(view).next[0]).toEqual({
      section: 'referral',
      needs: ['personName', 'dateOfBirth', 'toldAndAgreed'],
    })
    expect(needsOf(view, 'measuring')).toEqual(['massKg', 'hipWidthMm', 'ribHeightMm', 'scapulaHeightMm'])
  })

  it('asks for no measure of a lost leg', () => {
    const lost = viewOf({ limbLossLeft: { level: 'transfemoral', remainingFraction: 0.5 } })
    expect(needsOf(lost, 'measuring')).not.toContain('thighDepthLeftMm')
    expect(needsOf(lost, 'measuring')).not.toContain('calfLengthLeftMm')
    expect(needsOf(lost, 'measuring')).toContain('thighDepthRightMm')
    const below = viewOf({ limbLossLeft: { level: 'transtibial', prosthesisWorn: true } })
    expect(needsOf(below, 'measuring')).toContain('thighDepthLeftMm')
    expect(needsOf(below, 'measuring')).toContain('calfLengthLeftMm')
  })

  it('a failed check is still to do, a passed one is done', () => {
    expect(needsOf(viewOf(check('fail')), 'checks')).toEqual(['checkBrakesHold'])
    expect(needsOf(viewOf(check('pass')), 'checks')).toBeUndefined()
  })

  it('training counts when demonstrated (WHO 2008, p. 84)', () => {
    expect(needsOf(viewOf({ trainedMobility: { demonstrated: false, on } }), 'training')).toContain('trainedMobility')
    expect(needsOf(viewOf({ trainedMobility: { demonstrated: true, on } }), 'training')).not.toContain(
      'trainedMobility',
    )
  })

  it('an open difference is not asked for again: it is settled, not measured from nothing', () => {
    const view = viewOf({ hipWidthMm: length(380) }, { hipWidthMm: length(430) })
    expect(view.differences).toHaveLength(1)
    expect(needsOf(view, 'measuring')).not.toContain('hipWidthMm')
  })

  it('is follow-up once a chair is handed over, and not any more when that chair came back', () => {
    const given = { handover: { handedOverOn: on, serialNumber: 'K-12' } }
    expect(stageOf(viewOf(given))).toEqual({ stage: 'follow-up', next: [] })
    const otherBack = { chairReturned: { on: '2026-06-01', serialNumber: 'K-11' } }
    expect(stageOf(viewOf(given, otherBack)).stage).toBe('follow-up')
    const back = { chairReturned: { on: '2026-06-01', serialNumber: 'K-12' } }
    expect(stageOf(viewOf(given, back)).stage).not.toBe('follow-up')
    expect(stageOf(viewOf(given, { chairReturned: { on: '2026-04-01' } })).stage).toBe('follow-up')
  })

  it('is closed by an exit, and open again when the exit is taken back', () => {
    const exit = said({ set: { exit: { on, why: 'moved' } } })
    const back = said({ set: { exit: null }, over: [exit] })
    expect(stageOf(viewOfCase(testCase, [exit])).stage).toBe('closed')
    expect(stageOf(viewOfCase(testCase, [exit, back])).stage).toBe('referral')
  })
})
