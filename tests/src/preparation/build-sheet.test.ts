import { describe, expect, test } from 'vitest'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import type { AsBuilt } from '../../../src/chair/as-built.ts'
import { type SetUp, settingTexts } from '../../../src/chair/set-up.ts'
import { type BuildSheet, buildSheet } from '../../../src/preparation/build-sheet.ts'
import { dayNeeds } from '../../../src/preparation/day-needs.ts'
import type { StepTick } from '../../../src/preparation/step-state.ts'
import { changedModel, practice, practiceModel, practiceSetUp, resolvedIn } from '../../support/practice-set-ups.ts'

const trail = practiceModel('trail-folding')
const setUp = practiceSetUp(trail)
const aim = (change: Partial<SetUp> = {}) => resolvedIn(practice, { ...setUp, ...change })
const sheetFor = (change: Partial<SetUp>, built: AsBuilt = setUp): BuildSheet => buildSheet(aim(change), built)
const keysOf = (sheet: BuildSheet): readonly string[] => sheet.steps.map(step => step.key)
const stepOf = (sheet: BuildSheet, key: string) => {
  const found = [...sheet.steps, ...sheet.done].find(step => step.key === key)
  if (found === undefined) throw new Error(`no step ${key}`)
  return found
}

describe('the sheet of a new chair', () => {
  const sheet = buildSheet(aim({ seatDepth: 'd460' }))

  test('sets everything, once, in order, from nothing', () => {
    expect(sheet.changes.map(change => change.from)).toEqual(Array.from({ length: 8 }, () => null))
    expect(new Set(keysOf(sheet)).size).toBe(sheet.steps.length)
    expect(keysOf(sheet)[0]).toBe('unpack')
    expect(sheet.steps.every(step => step.state === 'to-do')).toBe(true)
    expect(sheet.problems).toEqual([])
  })

  test('names spanners by the bolts of the chair and a printed torque where there is one', () => {
    expect(stepOf(sheet, 'rear-axle').tools).toEqual(['tape', 'spanner 13 mm', 'spanner 19 mm', 'torque wrench'])
    expect(stepOf(sheet, 'rear-axle').tightenings).toMatchObject([
      {
        fastener: 'axle-nut',
        thread: 'M12',
        spannerMm: 19,
        head: 'older-din',
        torque: { type: 'printed', torqueNm: 40 },
      },
      { fastener: 'axle-plate-bolt', thread: 'M8', spannerMm: 13, torque: { type: 'printed', torqueNm: 18 } },
    ])
    expect(stepOf(sheet, 'caster-stems').tightenings).toMatchObject([
      { fastener: 'caster-stem-nut', torque: { type: 'upper-bound' } },
    ])
  })

  test('lists the parts of the size and the cushion', () => {
    expect(stepOf(sheet, 'frame').parts).toEqual([{ key: 'long-seat-tubes', title: 'Long seat tubes, pair' }])
    expect(stepOf(sheet, 'cushion').parts).toEqual([{ key: 'flat-foam', title: 'Flat foam' }])
  })

  test('gives the pressures for the ground on the step that inflates', () => {
    const rough = buildSheet(aim(), undefined, undefined, 'rough')
    expect(stepOf(rough, 'tyre-pressures').pressures).toMatchObject({
      rear: { type: 'pneumatic', leastKPa: 310, mostKPa: 380 },
      caster: { type: 'solid' },
    })
    expect(stepOf(rough, 'brakes').pressures).toBeUndefined()
  })

  test('says which steps wait for which', () => {
    expect(stepOf(sheet, 'brakes').after).toEqual(
      expect.arrayContaining(['rear-axle', 'rear-wheels', 'tyre-pressures']),
    )
    expect(stepOf(sheet, 'rear-axle').neededBy).toEqual(
      expect.arrayContaining(['rear-wheels', 'caster-stems', 'brakes']),
    )
    expect(stepOf(sheet, 'footrest-left').after).toEqual(expect.arrayContaining(['cushion', 'seat-height']))
    expect(stepOf(sheet, 'test-ride').neededBy).toEqual([])
  })

  test('has no step for what the chair lacks', () => {
    const rigid = practiceModel('fixed-rigid')
    const keys = keysOf(buildSheet(resolvedIn(practice, practiceSetUp(rigid))))
    expect(keys).not.toContain('armrest')
    expect(keys).not.toContain('anti-tip')
    expect(keys).not.toContain('fold-and-open')
    const child = practiceModel('growing-child')
    expect(keysOf(buildSheet(resolvedIn(practice, practiceSetUp(child))))).toContain('anti-tip')
  })

  test('has no tyres to inflate where all are solid', () => {
    const solid = changedModel('trail-folding', { tyres: { rear: 'solid', caster: 'solid' } })
    const keys = keysOf(buildSheet(resolvedIn(solid, setUp)))
    expect(keys).not.toContain('tyre-pressures')
    expect(keys.indexOf('rear-wheels')).toBeLessThan(keys.indexOf('brakes'))
  })
})

describe('the sheet of a chair as read', () => {
  test('is empty when the chair is what is aimed at', () => {
    expect(sheetFor({})).toMatchObject({ steps: [], done: [], changes: [], tools: [], makesStale: [], problems: [] })
  })

  test('takes a tape reading a little off as the value, and one further off as work', () => {
    expect(sheetFor({}, { ...setUp, footrestLeftMm: 302, seatWidthMm: 341 }).changes).toEqual([])
    expect(sheetFor({}, { ...setUp, footrestLeftMm: 311 }).changes).toEqual([
      { setting: 'footrestLeft', from: '311', to: '300' },
    ])
  })

  test('takes a size by millimetres as well as by its key, and both must agree', () => {
    const { seatDepth, backHeight, ...rest } = setUp
    expect(sheetFor({}, { ...rest, seatDepthMm: 360, backHeightMm: 340 }).changes).toEqual([])
    expect(sheetFor({}, { ...setUp, backHeightMm: 380 }).changes).toEqual([
      { setting: 'backHeight', from: '380', to: 'b340' },
    ])
    expect(sheetFor({}, { ...setUp, backHeight: 'b380', backHeightMm: 340 }).changes).toHaveLength(1)
    expect(sheetFor({}, { ...setUp, seatDepth: 'd380', seatDepthMm: 360 }).changes).toHaveLength(1)
  })

  test('an axle moved level: wheels, tyres, brakes, tighten, spin, fold, ride; no caster stems', () => {
    const sheet = sheetFor({ axle: 'hole-3' })
    expect(keysOf(sheet)).toEqual([
      'rear-axle',
      'rear-wheels',
      'tyre-pressures',
      'brakes',
      'tighten',
      'spin-and-roll',
      'fold-and-open',
      'test-ride',
    ])
    expect(stepOf(sheet, 'brakes').changes).toEqual([{ setting: 'axle', from: 'hole-2', to: 'hole-3' }])
    expect(sheet.tools).toEqual(expect.arrayContaining(['spanner 19 mm', 'spanner 10 mm', 'pressure gauge']))
  })

  test('an axle raised turns the frame: the caster stems are set upright again and the clearance measured', () => {
    const rigid = practiceModel('fixed-rigid')
    const at = (axle: string): SetUp => ({ ...practiceSetUp(rigid), axle })
    expect(rigid.axlePositions.map(axle => axle.raiseMm)).toEqual([0, 0, 0, 25, 0])
    const raised = keysOf(buildSheet(resolvedIn(practice, at('hole-4')), at('hole-3')))
    expect(raised).toEqual(expect.arrayContaining(['caster-stems', 'footrest-clearance']))
    const level = keysOf(buildSheet(resolvedIn(practice, at('hole-3')), at('hole-2')))
    expect(level).not.toContain('caster-stems')
    const unknown = keysOf(buildSheet(resolvedIn(practice, at('hole-3')), at('some other hole')))
    expect(unknown).toContain('caster-stems')
  })

  test('a cushion changed brings no spanner', () => {
    const sheet = sheetFor({ cushion: 'high-relief' })
    expect(keysOf(sheet)).toEqual(['cushion', 'test-ride'])
    expect(stepOf(sheet, 'test-ride').after).toEqual(['cushion'])
    expect(sheet.tools).toEqual([])
    expect(sheet.makesStale.toSorted()).toEqual(['fitWhileMoving', 'handCheckUnderSeatBones', 'seatFlat', 'testRide'])
  })

  test('a footrest taken off and put on', () => {
    expect(sheetFor({ footrestLeftMm: null }).changes).toEqual([{ setting: 'footrestLeft', from: '300', to: 'off' }])
    expect(sheetFor({}, { ...setUp, footrestLeftMm: null }).changes).toEqual([
      { setting: 'footrestLeft', from: 'off', to: '300' },
    ])
  })

  test('another chair than the one chosen is named, and nothing on it counts', () => {
    const sheet = sheetFor({}, { ...setUp, chair: 'town-folding' })
    expect(sheet.problems).toMatchObject([{ type: 'other-chair', names: ['town-folding'] }])
    expect(keysOf(sheet)).toEqual(keysOf(buildSheet(aim())))
  })

  test('what has not been read yet is work still to do', () => {
    const { cushion, ...rest } = setUp
    expect(sheetFor({}, rest).changes).toEqual([{ setting: 'cushion', from: null, to: 'flat-foam' }])
    expect(keysOf(sheetFor({}, rest))).toEqual(['unpack', 'cushion', 'label', 'test-ride'])
  })
})

describe('ticks', () => {
  const texts = settingTexts(setUp)
  const day = toCalendarDate('2026-03-02')
  const ticksOf = (sheet: BuildSheet, on = day): readonly StepTick[] =>
    sheet.steps.map(step => ({ step: step.key, on, against: step.against }))
  const all = ticksOf(buildSheet(aim()))

  test('empty the sheet of a new chair', () => {
    const sheet = buildSheet(aim(), undefined, all)
    expect(sheet.steps).toEqual([])
    expect(sheet.done.map(step => step.key)).toEqual(all.map(tick => tick.step))
    expect(sheet.tools).toEqual([])
  })

  test('are the only proof of steps that a reading does not show', () => {
    const keys = keysOf(buildSheet(aim(), setUp, []))
    expect(keys).toEqual(expect.arrayContaining(['brakes', 'back-tension', 'tighten', 'test-ride']))
    expect(keys).not.toContain('rear-axle')
    expect(keys).not.toContain('cushion')
  })

  test('go stale when the set-up moves: what was done for the old axle is to be redone, though the axle now reads right', () => {
    const sheet = buildSheet(aim({ axle: 'hole-3' }), { ...setUp, axle: 'hole-3' }, all)
    expect(keysOf(sheet)).toEqual([
      'rear-wheels',
      'tyre-pressures',
      'brakes',
      'tighten',
      'spin-and-roll',
      'fold-and-open',
      'test-ride',
    ])
    expect(stepOf(sheet, 'brakes')).toMatchObject({
      state: 'redo',
      changes: [{ setting: 'axle', from: 'hole-2', to: 'hole-3' }],
    })
    expect(sheet.done.map(step => step.key)).toContain('back-height')
  })

  test('of a later day replace those of an earlier one', () => {
    const later = { step: 'brakes', on: toCalendarDate('2026-03-09'), against: { ...texts, axle: 'hole-4' } }
    expect(stepOf(buildSheet(aim(), undefined, [...all, later]), 'brakes').state).toBe('redo')
    expect(stepOf(buildSheet(aim(), undefined, [later, ...all]), 'brakes').state).toBe('redo')
  })

  test('against what the chair shows are contradicted, not believed', () => {
    const sheet = buildSheet(aim(), { ...setUp, axle: 'hole-4' }, all)
    expect(stepOf(sheet, 'rear-axle').state).toBe('contradicted')
    expect(stepOf(sheet, 'test-ride').state).toBe('contradicted')
    expect(stepOf(sheet, 'back-height').state).toBe('done')
  })

  test('of what is done once count without saying for which chair', () => {
    const unpacked = { step: 'unpack', on: day, against: {} }
    expect(stepOf(buildSheet(aim(), undefined, [unpacked]), 'unpack').state).toBe('done')
    expect(stepOf(buildSheet(aim(), undefined, [{ ...unpacked, step: 'brakes' }]), 'brakes').state).toBe('redo')
  })

  test('made for another chair do not count', () => {
    const twin = changedModel('trail-folding', { key: 'trail-twin' })
    const sheet = buildSheet(resolvedIn(twin, { ...setUp, chair: 'trail-twin' }), undefined, all)
    expect(stepOf(sheet, 'unpack').state).toBe('redo')
    expect(stepOf(sheet, 'test-ride').state).toBe('redo')
  })
})

describe('a step that cannot be undone', () => {
  const rigid = practiceModel('fixed-rigid')
  const rigidSetUp = practiceSetUp(rigid)
  const target = resolvedIn(practice, rigidSetUp)
  const against = stepOf(buildSheet(target), 'cut-hanger-tubes').against
  const tick = { step: 'cut-hanger-tubes', on: toCalendarDate('2026-03-02'), against }
  const stateWith = (...ticks: readonly StepTick[]) => stepOf(buildSheet(target, rigidSetUp, ticks), tick.step).state

  test('asks for a second name and comes before what is set on it', () => {
    const sheet = buildSheet(target)
    expect(stepOf(sheet, 'cut-hanger-tubes')).toMatchObject({ needsSecondName: true, state: 'to-do' })
    expect(stepOf(sheet, 'brakes').needsSecondName).toBe(false)
    expect(stepOf(sheet, 'footrest-left').after).toContain('cut-hanger-tubes')
  })

  test('is not done until a second name stands with its tick', () => {
    expect(stateWith(tick)).toBe('second-name-missing')
    expect(stateWith({ ...tick, secondName: '  ' })).toBe('second-name-missing')
    expect(stateWith({ ...tick, secondName: 'Odile Brandt' })).toBe('done')
    expect(stateWith(tick, { ...tick, secondName: 'Odile Brandt' })).toBe('done')
  })

  test('done again for other settings is no longer done for the first', () => {
    const again = { ...tick, on: toCalendarDate('2026-03-04'), against: { footrestLeft: '310', footrestRight: '310' } }
    expect(stateWith({ ...tick, secondName: 'Odile Brandt' }, { ...again, secondName: 'Odile Brandt' })).toBe('redo')
  })

  test('is not taken as done because the chair reads right', () => {
    expect(stateWith()).toBe('second-name-missing')
  })
})

describe('a faulty catalogue', () => {
  test('with steps that wait for each other is named; every step is still listed', () => {
    const ring = changedModel('trail-folding', {
      steps: [
        { key: 'first', title: 'First', settings: ['axle'], after: ['second'] },
        { key: 'second', title: 'Second', settings: ['axle'], after: ['first'] },
        { key: 'rear-axle', title: 'Axle', settings: ['axle'], after: ['brakes'] },
      ],
    })
    const sheet = buildSheet(resolvedIn(ring, setUp))
    expect(sheet.problems).toMatchObject([{ type: 'steps-in-a-ring' }])
    expect(sheet.problems[0]?.message).toContain(sheet.problems[0]?.names.join(', '))
    expect(keysOf(sheet)).toEqual(expect.arrayContaining(['first', 'second', 'rear-axle', 'brakes', 'test-ride']))
  })

  test("a model's own step may follow the test ride", () => {
    const own = changedModel('trail-folding', {
      steps: [{ key: 'flag', title: 'Fit the flag', settings: [], after: ['test-ride'] }],
    })
    const sheet = buildSheet(resolvedIn(own, setUp))
    expect(keysOf(sheet).at(-1)).toBe('flag')
    expect(sheet.problems).toEqual([])
  })
})

describe("a day's needs", () => {
  test('merge tools once and count parts by chair', () => {
    const child = practiceModel('growing-child')
    const needs = dayNeeds([
      buildSheet(aim({ seatDepth: 'd460' })),
      buildSheet(aim({ seatDepth: 'd480', cushion: 'high-relief' })),
      buildSheet(resolvedIn(practice, practiceSetUp(child))),
      buildSheet(aim({ cushion: 'high-relief' }), setUp),
    ])
    expect(new Set(needs.tools).size).toBe(needs.tools.length)
    expect(needs.tools).toEqual(expect.arrayContaining(['spanner 10 mm', 'spanner 13 mm', 'spanner 19 mm', 'pump']))
    const count = (chair: string, key: string) =>
      needs.parts.filter(part => part.chair === chair && part.key === key).map(part => part.count)
    expect(count('trail-folding', 'long-seat-tubes')).toEqual([2])
    expect(count('trail-folding', 'flat-foam')).toEqual([1])
    expect(count('trail-folding', 'high-relief')).toEqual([2])
    expect(count('growing-child', 'child-foam')).toEqual([1])
  })

  test('of nothing are nothing', () => {
    expect(dayNeeds([])).toEqual({ tools: [], parts: [] })
  })
})
