import { describe, expect, it } from 'vitest'
import { consequencesOf, settingsWaiting } from '../../../components/differences/consequences.ts'
import { build, check, choose, handOver, type Work } from '../../../demo/practice/chair-work.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { CASE_DAY, type PracticeCase, practiceCase } from '../../support/practice-case.ts'

const DAY = toCalendarDate('2026-05-12')

/** A number stays on one line with its unit: to be read it is a space all the same. */
const words = (text: string | null): string => (text ?? '').replace(/\u00a0/g, ' ')

const workOn = ({ casebook, technician, caseId }: PracticeCase): Work => ({
  casebook,
  hand: technician,
  caseId,
  on: DAY,
})

/** What one answer that came in apart would change, in words. */
const consequences = async (practice: PracticeCase, set: Readonly<Record<string, unknown>>) => {
  await practice.technician.say(practice.caseId, [{ on: DAY, set }])
  const outcome = await practice.casebook.outcome(practice.caseId, CASE_DAY)
  const difference = outcome?.differences[0]
  if (!outcome || !difference) throw new Error('no difference arose')
  const found = consequencesOf(difference, outcome, practice.casebook.context().catalogue)
  return { options: difference.options.map(option => option.value), found }
}

describe('what a difference would change, in words', () => {
  it('is the size of the chair when hips are wider than its seat', async () => {
    // The smallest seat not under the hips (WHO-derived width rule); "Town folding" comes in 380 and 405.
    const { options, found } = await consequences(await practiceCase('hanneth'), {
      hipWidthMm: { typed: 379, unit: 'mm' },
    })
    expect(options).toEqual([379, 387])
    expect(found.map(one => [one.setting, one.said.map(words)])).toEqual([['seatWidthMm', ['380 mm', '405 mm']]])
    expect([...settingsWaiting(found)]).toEqual(['seatWidthMm'])
  })

  it('is a hold, said for the answer that brings it and for no other', async () => {
    // A complex posture is beyond a basic-level crew: refer (WHO 2008, table 3.3).
    const { options, found } = await consequences(await practiceCase('hanneth'), { posture: 'complex' })
    expect(options).toEqual(['complex', 'sits-well'])
    const holds = found.filter(one => one.kind === 'hold' && one.standsInTheWay)
    expect(holds.map(one => one.said)).toContainEqual([
      'Needs more than this crew may fit: refer to a seating specialist.',
      null,
    ])
  })

  it('is the axle and the checks made for it, once a chair stands built', async () => {
    const practice = await practiceCase('selka')
    const work = workOn(practice)
    await choose(work)
    await build(work, 'LK-0006')
    await check(work)
    // A load on the handles moves the mass centre back, so the axle must stand further back (statics).
    const { options, found } = await consequences(practice, { loads: [{ massKg: 18, at: 'handles', when: 'usual' }] })
    const heavy = options.findIndex(option => JSON.stringify(option).includes('18'))
    expect(options).toHaveLength(2)
    const holes = found
      .find(one => one.setting === 'axle')
      ?.said.map(one => Number(/hole (\d+) of/.exec(one ?? '')?.[1]))
    expect(holes?.[heavy]).toBeLessThan(holes?.[1 - heavy] ?? 0)
    // Brakes are set to the wheel: after any move of the axle they are checked again (common practice, no source).
    const brakes = found.find(one => one.kind === 'check' && one.name === 'Brakes hold on a slope')
    expect(brakes?.said[heavy]).toBe('check again')
    expect(brakes?.said[1 - heavy]).toBe('in order')
    expect([...settingsWaiting(found)]).toContain('axle')
    expect([...settingsWaiting(found)]).not.toContain('seatWidthMm')
    // Settings stand first; what is chosen and recommended alike is said once.
    expect(found[0]?.kind).toBe('setting')
    expect(found.filter(one => one.setting === 'axle')).toHaveLength(1)
  })

  it('is the day of the next visit when the age decides it', async () => {
    const practice = await practiceCase('selka')
    const work = workOn(practice)
    await choose(work)
    await build(work, 'LK-0006')
    await handOver(work, 'LK-0006')
    // A child is seen within six weeks, everybody within six months of the handover on 12 May 2026 (WHO 2008, 3.3.9, and
    // basic-level content: 42 days are 23 June).
    const { options, found } = await consequences(practice, { dateOfBirth: '1999-03-01' })
    const grown = options.indexOf('1999-03-01')
    const review = found.find(one => one.kind === 'due' && one.name.startsWith('Review'))
    expect(review?.said[grown]).toBe('12 November 2026')
    expect(review?.said[1 - grown]).toBe('23 June 2026')
  })
})
