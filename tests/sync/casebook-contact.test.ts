import { describe, expect, test } from 'vitest'
import { expectOk, foundCasebook, invite, meet } from '../support/casebooks.ts'

// What is expected is what was said: rules B2 and B4 of the record, worked by hand.
const WORKSHOP = { who: 'Workshop at Dorrow', telephone: '+000 55 01' }
const SIRA = { who: 'Sira Vellanke', telephone: '+000 55 02' }

describe('whom people call about their chair', () => {
  test('is unsaid at first, can be said, and comes to every device', async () => {
    const ana = await foundCasebook('Ana')
    expect(ana.casebook.crew().contacts).toEqual([])
    expectOk(await ana.casebook.setContact(WORKSHOP))
    const ben = await invite(ana, 'Ben')
    expect(ben.casebook.crew().contacts).toEqual([WORKSHOP])
  })

  test('said anew takes the place of what stood there, and can be taken back', async () => {
    const ana = await foundCasebook('Ana')
    expectOk(await ana.casebook.setContact(WORKSHOP))
    expectOk(await ana.casebook.setContact(SIRA))
    expect(ana.casebook.crew().contacts).toEqual([SIRA])
    expectOk(await ana.casebook.setContact(null))
    expect(ana.casebook.crew().contacts).toEqual([])
  })

  test('said apart stands twice, on both devices alike, until somebody says which', async () => {
    const ana = await foundCasebook('Ana')
    const ben = await invite(ana, 'Ben')
    expectOk(await ana.casebook.setContact(WORKSHOP))
    expectOk(await ben.casebook.setContact(SIRA))
    await meet(ana.casebook, ben.casebook)
    const stands = ana.casebook.crew().contacts
    expect(stands).toHaveLength(2)
    expect(stands).toEqual(expect.arrayContaining([WORKSHOP, SIRA]))
    expect(ben.casebook.crew().contacts).toEqual(stands)
    expectOk(await ben.casebook.setContact(SIRA))
    await meet(ana.casebook, ben.casebook)
    expect(ana.casebook.crew().contacts).toEqual([SIRA])
  })

  test('said apart and alike stands once', async () => {
    const ana = await foundCasebook('Ana')
    const ben = await invite(ana, 'Ben')
    expectOk(await ana.casebook.setContact(SIRA))
    expectOk(await ben.casebook.setContact(SIRA))
    await meet(ana.casebook, ben.casebook)
    expect(ana.casebook.crew().contacts).toEqual([SIRA])
  })

  test('without a number is refused, and so is a word of a visitor', async () => {
    const ana = await foundCasebook('Ana')
    const refused = await ana.casebook.setContact({ who: 'Sira Vellanke', telephone: ' ' })
    expect(refused.ok).toBe(false)
    const vera = await invite(ana, 'Vera', 'visitor')
    const visitor = await vera.casebook.setContact(SIRA)
    expect(!visitor.ok && visitor.failure.type).toBe('visitor')
    expect(ana.casebook.crew().contacts).toEqual([])
  })
})
