import { describe, expect, test } from 'vitest'
import { createCasebook } from '../../sync/open-casebook.ts'
import { createMemoryStorage } from '../../sync/storage/memory.ts'
import { createDeviceKey } from '../../sync/trust/device-key.ts'
import { expectOk, foundCasebook, invite, meet, smallRules, TODAY } from '../support/casebooks.ts'

const LOWER = { crewName: 'River crew', place: 'Lower Kesse valley' }
const UPPER = { crewName: 'River crew', place: 'Upper Kesse valley' }

describe('what a crew calls itself', () => {
  test('is said at the founding, with the role of the founder, and comes to every device', async () => {
    const { deviceKey } = await createDeviceKey()
    const options = { storage: createMemoryStorage().open(), deviceKey, rules: smallRules, clock: () => 0 }
    const founding = { founderName: 'Ana', founderRole: 'therapist' as const, title: LOWER }
    const casebook = expectOk(await createCasebook({ ...options, today: () => TODAY, ...founding }))
    expect(casebook.crew().title).toEqual(LOWER)
    expect(casebook.crew().members.get(deviceKey.device)?.role).toBe('therapist')
  })

  test('is unsaid for a casebook founded without it, and can be given later', async () => {
    const ana = await foundCasebook('Ana')
    expect(ana.casebook.crew().title).toBeNull()
    expectOk(await ana.casebook.setTitle(LOWER))
    const ben = await invite(ana, 'Ben')
    expect(ben.casebook.crew().title).toEqual(LOWER)
  })

  test('given anew takes the place of what stood there', async () => {
    const ana = await foundCasebook('Ana', {})
    expectOk(await ana.casebook.setTitle(LOWER))
    expectOk(await ana.casebook.setTitle(UPPER))
    expect(ana.casebook.crew()).toMatchObject({ title: UPPER, differences: [] })
  })

  test('given apart is a difference that both devices name alike, and the next title ends it', async () => {
    const ana = await foundCasebook('Ana')
    const ben = await invite(ana, 'Ben')
    expectOk(await ana.casebook.setTitle(LOWER))
    expectOk(await ben.casebook.setTitle(UPPER))
    await meet(ana.casebook, ben.casebook)
    expect(ana.casebook.crew().title).toEqual(ben.casebook.crew().title)
    for (const { casebook } of [ana, ben])
      expect(casebook.crew().differences).toEqual([
        {
          type: 'crew-named-twice',
          names: expect.arrayContaining(['River crew, Lower Kesse valley', 'River crew, Upper Kesse valley']),
        },
      ])
    expectOk(await ben.casebook.setTitle(LOWER))
    await meet(ana.casebook, ben.casebook)
    expect(ana.casebook.crew()).toMatchObject({ title: LOWER, differences: [] })
  })

  test('is not given by a visitor', async () => {
    const ana = await foundCasebook('Ana')
    expectOk(await ana.casebook.setTitle(LOWER))
    const vera = await invite(ana, 'Vera', 'visitor')
    const refused = await vera.casebook.setTitle(UPPER)
    expect(!refused.ok && refused.failure.type).toBe('visitor')
  })
})
