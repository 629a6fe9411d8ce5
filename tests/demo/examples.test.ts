import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'
import { call } from '../support/command-line.ts'

/** The example files that the README names, taken by the commands it names them for. */
const example = (name: string): string => fileURLToPath(new URL(`../../demo/${name}`, import.meta.url))
const TODAY = ['--today', '2026-05-14'] as const

describe('demo/person.json', () => {
  it('is taken by fit as it stands, without doubts or holds, and gives seats that follow the basic rules', async () => {
    const { status, stdout } = await call('fit', example('person.json'), ...TODAY, '--top', '3')
    const answer = JSON.parse(stdout)
    expect(status).toBe(0)
    expect(answer.options).toHaveLength(3)
    expect(answer.doubts).toEqual([])
    expect(answer.holds).toEqual([])
    // WHO, Wheelchair Service Training Package, basic level: the seat is no narrower than the hips, and ends about
    // 30 mm or more before the hollow of the knee. Hips 352 mm, shorter thigh 470 mm.
    for (const { seatWidthMm, seatDepthMm } of answer.options) {
      expect(seatWidthMm).toBeGreaterThanOrEqual(352)
      expect(470 - seatDepthMm).toBeGreaterThanOrEqual(30)
    }
  })
})

describe('demo/case.json', () => {
  it('is taken by outcome: a difference that matters, and brakes to be tried again once the axle has moved', async () => {
    const { status, stdout } = await call('outcome', example('case.json'), ...TODAY)
    const answer = JSON.parse(stdout)
    expect(status).toBe(0)
    const [difference] = answer.differences
    expect(difference.field).toBe('hipWidthMm')
    // 36 cm as typed is 360 mm, wider than the seat of 355 mm that was chosen.
    expect(difference.options.map((option: { value: number }) => option.value)).toEqual([352, 360])
    expect(difference.effect).toBe('changes')
    expect(answer.holds.map((hold: { key: string }) => hold.key)).toContain('difference')
    // Brakes are set again after any move of the axle: common practice, no source. The file says they were tried in hole 3.
    const brakes = answer.checks.find((one: { check: string }) => one.check === 'brakesHold')
    expect(brakes.state).toBe('stale')
    expect(brakes.changed[0]).toMatchObject({ setting: 'axle', from: 'hole-3' })
    expect(brakes.changed[0].to).not.toBe('hole-3')
  })
})
