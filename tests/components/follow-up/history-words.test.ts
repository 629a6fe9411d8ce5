import { describe, expect, it } from 'vitest'
import { historyOf } from '../../../components/follow-up/history-words.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import type { CaseView } from '../../../src/case/case-view.ts'
import type { FieldValue } from '../../../src/case/fields.ts'

const ON = toCalendarDate('2026-11-15')

const told = (events: Partial<Record<keyof CaseView['events'], unknown>>): string => {
  const none = Object.fromEntries(
    [
      'review',
      'repair',
      'tyreReading',
      'handover',
      'notFound',
      'skinLook',
      'problem',
      'stature',
      'chairReturned',
      'cushionIssued',
    ].map(name => [name, []]),
  )
  const all = Object.entries(events).map(([name, value]) => [name, [{ id: 'one', by: 'a-device', value }]])
  const view = { events: { ...none, ...Object.fromEntries(all) } } as unknown as CaseView
  return historyOf(view, { models: [] } as never)
    .map(({ words }) => words)
    .join('\n')
}

describe('the history of a chair', () => {
  it('tells everything that was typed of a repair', () => {
    const repair: FieldValue<'repair'> = {
      repairedOn: ON,
      part: 'left brake block',
      fault: 'worn through',
      cause: 'wet sand at the landing',
      chairUsable: true,
      doneBy: 'the smith at the mill',
    }
    expect(told({ repair })).toBe(
      'repair of left brake block: worn through, by the smith at the mill. Cause: wet sand at the landing',
    )
  })

  it('tells everything that was answered at a review', () => {
    const review: FieldValue<'review'> = {
      visitedOn: ON,
      fit: 'ok',
      skin: 'ok',
      chair: 'problem',
      skills: 'not-done',
      skinHealedWhy: 'closed, pale, dry',
      inUse: 'daily',
      satisfactionChair: 4,
      satisfactionService: 5,
      note: 'sells bread at the ferry',
    }
    const words = told({ review })
    expect(words).toContain('Chair problem')
    expect(words).toContain('The sore has healed: closed, pale, dry')
    expect(words).toContain('Chair used every day')
    expect(words).toContain('Content with the chair 4 of 5')
    expect(words).toContain('with the help 5 of 5')
    expect(words).toContain('sells bread at the ferry')
  })

  it('tells the air in which a tyre was read: its pressure means nothing without', () => {
    const tyreReading: FieldValue<'tyreReading'> = {
      on: ON,
      tyre: 'rear-left',
      foundKPa: 310,
      leftKPa: 450,
      celsius: 28,
      altitudeM: 640,
    }
    const words = told({ tyreReading }).replaceAll('\u00a0', ' ')
    expect(words).toContain('found 310 kPa')
    expect(words).toContain('pumped up to 450 kPa')
    expect(words).toBe('Rear left: found 310 kPa and pumped up to 450 kPa (air 28 °C, 640 m above the sea)')
  })
})
