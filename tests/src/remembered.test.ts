import { describe, expect, it } from 'vitest'
import { rememberedFor } from '../../src/remembered.ts'

describe('what is remembered for an object', () => {
  it('is made once for each object, and anew for an equal other one', () => {
    let made = 0
    const sizeOf = rememberedFor((rows: readonly number[]) => {
      made += 1
      return { size: rows.length }
    })
    const [three, alsoThree, one] = [[1, 2, 3], [1, 2, 3], [1]]
    expect(sizeOf(three)).toBe(sizeOf(three))
    expect([sizeOf(three).size, sizeOf(one).size, sizeOf(alsoThree).size]).toEqual([3, 1, 3])
    expect(made).toBe(3)
  })

  it('may be undefined, and is still made once', () => {
    let made = 0
    const nothing = rememberedFor((_: object) => {
      made += 1
      return undefined
    })
    const subject = {}
    expect([nothing(subject), nothing(subject)]).toEqual([undefined, undefined])
    expect(made).toBe(1)
  })
})
