import { describe, expect, test } from 'vitest'
import { type CalendarDate, toCalendarDate } from '../../src/calendar-date.ts'
import type { CaseView } from '../../src/case/case-view.ts'
import { modelField } from '../../src/crew/catalogue-fields.ts'
import type { SharedContext } from '../../src/crew/shared-context.ts'
import { DEFAULT_POLICY } from '../../src/fitting/policy.ts'
import { openCasebook } from '../../sync/open-casebook.ts'
import { signEntry } from '../../sync/signed-entry.ts'
import { expectOk, foundCasebook, invite, meet, smallRules, type TestDevice, TODAY } from '../support/casebooks.ts'
import { EXAMPLE_FOLDING } from '../support/example-chairs.ts'

const hip = (typed: number) => ({ kind: 'save' as const, set: { hipWidthMm: { typed, unit: 'mm' } } })
const keysOf = ({ casebook }: TestDevice) => casebook.context().catalogue.models.map(({ key }) => key)
const { key } = EXAMPLE_FOLDING

describe('catalogue and policy', () => {
  test('are the same on every device after meeting, replaced as a whole, retired, and there after a restart', async () => {
    const ana = await foundCasebook('Ana')
    const ben = await invite(ana, 'Ben')
    expectOk(await ana.casebook.setModel(key, EXAMPLE_FOLDING))
    await meet(ana.casebook, ben.casebook)
    const heavier = { ...EXAMPLE_FOLDING, massKg: EXAMPLE_FOLDING.massKg + 1 }
    expectOk(await ben.casebook.setModel(key, heavier))
    const policy = { ...DEFAULT_POLICY, elbowDeg: [105, 115] as [number, number] }
    expectOk(await ben.casebook.setPolicy(policy))
    await meet(ana.casebook, ben.casebook)
    for (const device of [ana, ben, await ana.restart()]) {
      expect(device.casebook.context().catalogue.models).toEqual([heavier])
      expect(device.casebook.context().policy).toEqual(policy)
      expect(device.casebook.context().differences).toEqual([])
    }
    expectOk(await ana.casebook.setModel(key, null))
    await meet(ana.casebook, ben.casebook)
    expect([keysOf(ana), keysOf(ben)]).toEqual([[], []])
  })

  test('set apart to different things: every device uses the same one, and the difference is named until it is set again', async () => {
    const ana = await foundCasebook('Ana')
    const ben = await invite(ana, 'Ben')
    const first = expectOk(await ana.casebook.setModel(key, EXAMPLE_FOLDING))
    const second = expectOk(await ben.casebook.setModel(key, { ...EXAMPLE_FOLDING, capacityKg: 90 }))
    await meet(ana.casebook, ben.casebook)
    const expected = { type: 'catalogue-differs', field: modelField(key), entries: [first.id, second.id].sort() }
    expect(ana.casebook.context().differences).toEqual([expected])
    expect(ben.casebook.context()).toEqual(ana.casebook.context())
    expect(ana.casebook.context().catalogue.models[0]?.capacityKg).toBe(
      first.id < second.id ? EXAMPLE_FOLDING.capacityKg : 90,
    )
    expectOk(await ana.casebook.setModel(key, { ...EXAMPLE_FOLDING, capacityKg: 80 }))
    await meet(ana.casebook, ben.casebook)
    expect(ben.casebook.context().differences).toEqual([])
    expect(ben.casebook.context().catalogue.models.map(({ capacityKg }) => capacityKg)).toEqual([80])
  })

  test('a model of a later version, or under another key, is no model here: named, and the others stand', async () => {
    const ana = await foundCasebook('Ana')
    expectOk(await ana.casebook.setModel(key, EXAMPLE_FOLDING))
    const values = [
      JSON.stringify({ key, wings: 2 }),
      JSON.stringify({ ...EXAMPLE_FOLDING, key: 'other' }),
      'not json',
      7,
    ]
    for (const [index, value] of values.entries()) {
      const set = { [modelField(`later-${index}`)]: value }
      const draft = { case: ana.casebook.casebookId as never, at: 1, kind: 'save' as const, set, over: [] }
      const { signed } = expectOk(await signEntry(ana.key, draft))
      expect((await ana.casebook.admitEntries('catalogue', [signed])).added).toHaveLength(1)
    }
    expect(keysOf(ana)).toEqual([key])
    expect(ana.casebook.context().differences.map(({ type }) => type)).toEqual(Array(4).fill('catalogue-newer'))
    const wrong = await ana.casebook.setModel('another-key', EXAMPLE_FOLDING)
    expect(!wrong.ok && wrong.failure.type).toBe('invalid-value')
    const noPolicy = await ana.casebook.setPolicy({ ...DEFAULT_POLICY, policy: 2 } as never)
    expect(!noPolicy.ok && noPolicy.failure.type).toBe('invalid-value')
  })
})

describe('after every change', () => {
  /** Counts how often the rules were asked, by case. */
  const counted = () => {
    const asked: string[] = []
    const rules = {
      ...smallRules,
      outcomeOf: (view: CaseView, context: SharedContext, today: CalendarDate) => {
        asked.push(view.caseId)
        if (view.values.place === 'Badlands') throw new Error('no rule for this place')
        const { catalogue } = context
        return {
          hipWidthMm: view.values.hipWidthMm ?? null,
          open: [],
          models: catalogue.models.length,
          changesOn: today < '2026-12-01' ? toCalendarDate('2026-12-01') : null,
        }
      },
    }
    return { asked, rules }
  }

  test('only the changed case is derived anew; a change of catalogue re-does the open ones, a movement of stock that no outcome read none', async () => {
    const { asked, rules } = counted()
    const ana = await foundCasebook('Ana', { rules })
    const ids = []
    for (const width of [400, 410, 420]) ids.push(expectOk(await ana.casebook.addCase(hip(width))).caseId)
    const [first = '' as never, , third = '' as never] = ids
    await ana.casebook.settled()
    asked.length = 0

    expectOk(await ana.casebook.save(first, { ...hip(405), over: [...(await ana.casebook.entryIds(first))] }))
    await ana.casebook.settled()
    expect(asked).toEqual([first])
    expect(ana.casebook.summaries().find(({ caseId }) => caseId === first)?.brief).toEqual({ hip: 405 })

    expectOk(await ana.casebook.moveStock({ movement: { line: 'cushion', place: 'van', amount: 4 } }))
    await ana.casebook.settled()
    expect(asked).toEqual([first])

    expectOk(await ana.casebook.save(third, { kind: 'save', set: { exit: { on: '2026-11-20', why: 'moved' } } }))
    await ana.casebook.settled()
    asked.length = 0
    expectOk(await ana.casebook.setModel(key, EXAMPLE_FOLDING))
    await ana.casebook.settled()
    expect(asked.toSorted()).toEqual(ids.slice(0, 2).toSorted())
    expect((await ana.casebook.outcome(first, TODAY))?.models).toBe(1)
  })

  test('nothing is derived again after a restart on the same day; on the day on which outcomes change, the open cases are', async () => {
    let today = TODAY
    const { asked, rules } = counted()
    const ana = await foundCasebook('Ana', { rules, today: () => today })
    expectOk(await ana.casebook.addCase(hip(400)))
    await ana.casebook.settled()
    asked.length = 0
    const again = await ana.restart()
    today = toCalendarDate('2026-11-30')
    again.casebook.refresh()
    await again.casebook.settled()
    expect(asked).toEqual([])
    today = toCalendarDate('2026-12-01')
    again.casebook.refresh()
    await again.casebook.settled()
    expect(asked).toHaveLength(1)
    expect(again.casebook.summaries()[0]).toMatchObject({ on: today, changesOn: null })
  })

  test('many cases are derived in slices: whoever asks for something meanwhile does not wait for all of them', async () => {
    const asked: string[] = []
    const slow = {
      ...smallRules,
      outcomeOf: (...given: Parameters<typeof smallRules.outcomeOf>) => {
        asked.push(given[0].caseId)
        for (const start = performance.now(); performance.now() - start < 5; );
        return smallRules.outcomeOf(...given)
      },
    }
    const ana = await foundCasebook('Ana', { rules: slow })
    const ids = []
    for (let index = 0; index < 30; index += 1) ids.push(expectOk(await ana.casebook.addCase(hip(400 + index))).caseId)
    await ana.casebook.settled()
    asked.length = 0
    expectOk(await ana.casebook.setModel(key, EXAMPLE_FOLDING))
    expect((await ana.casebook.view(ids[7] ?? ('' as never)))?.values.hipWidthMm).toBe(407)
    expect(asked.length).toBeLessThan(30)
    await ana.casebook.settled()
    expect(asked).toHaveLength(30)
  })

  test('other rules than those of the summary derive it anew', async () => {
    const ana = await foundCasebook('Ana')
    expectOk(await ana.casebook.addCase(hip(400)))
    await ana.casebook.settled()
    const { asked, rules } = counted()
    const updated = expectOk(await openCasebook({ ...ana.options, rules: { ...rules, version: 'small 2' } }))
    await updated.settled()
    expect(asked).toHaveLength(1)
  })

  test('the same entries, context and date are derived once and remembered', async () => {
    const { asked, rules } = counted()
    const ana = await foundCasebook('Ana', { rules })
    const { caseId } = expectOk(await ana.casebook.addCase(hip(400)))
    await ana.casebook.settled()
    const one = await ana.casebook.outcome(caseId, TODAY)
    expect(await ana.casebook.outcome(caseId, TODAY)).toBe(one)
    expect(asked).toHaveLength(1)
    await ana.casebook.outcome(caseId, toCalendarDate('2026-11-26'))
    expect(asked).toHaveLength(2)
  })

  test('a case that the rules cannot judge is stored, shown and named; the others are derived', async () => {
    const { rules } = counted()
    const ana = await foundCasebook('Ana', { rules })
    const { caseId } = expectOk(await ana.casebook.addCase({ kind: 'save', set: { place: 'Badlands' } }))
    expectOk(await ana.casebook.addCase(hip(400)))
    await ana.casebook.settled()
    expect(ana.casebook.problems()).toEqual([{ type: 'rules-failed', caseId, message: 'no rule for this place' }])
    expect(ana.casebook.summaries().map(({ brief }) => brief)).toEqual(expect.arrayContaining([null, { hip: 400 }]))
    const again = await ana.restart()
    expect((await again.casebook.view(caseId))?.values.place).toBe('Badlands')
    await again.casebook.settled()
    const entries = await again.casebook.entryIds(caseId)
    expectOk(await again.casebook.save(caseId, { kind: 'save', set: { place: 'Low Ford' }, over: entries }))
    await again.casebook.settled()
    expect(again.casebook.problems()).toEqual([])
  })

  test('whoever listens hears of the entries and of what was derived, until it stops', async () => {
    const ana = await foundCasebook('Ana')
    const heard: string[] = []
    const stop = ana.casebook.subscribe(change => heard.push(change.type))
    const { caseId } = expectOk(await ana.casebook.addCase(hip(400)))
    await ana.casebook.settled()
    expect(heard).toEqual(['entries', 'derived'])
    stop()
    expectOk(await ana.casebook.save(caseId, hip(401)))
    await ana.casebook.settled()
    expect(heard).toHaveLength(2)
  })
})
