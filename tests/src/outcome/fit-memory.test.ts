import { describe, expect, it } from 'vitest'
import type { Catalogue } from '../../../src/chair/chair-model.ts'
import { DEFAULT_POLICY } from '../../../src/fitting/policy.ts'
import { FitMemory } from '../../../src/outcome/fit-memory.ts'

const CATALOGUE: Catalogue = { catalogue: 1, title: 'Test', models: [] }

/** Asks in turn; gives the inputs for which an answer had to be made. */
const madeFor = (memory: FitMemory, asked: readonly string[], catalogue = CATALOGUE): readonly string[] => {
  const made: string[] = []
  for (const inputs of asked) {
    const answer = memory.remember('fit', catalogue, DEFAULT_POLICY, inputs, () => {
      made.push(inputs)
      return `answer to ${inputs}`
    })
    expect(answer).toBe(`answer to ${inputs}`)
  }
  return made
}

describe('a memory of fits', () => {
  it('makes an answer once for the same inputs, and anew for another catalogue', () => {
    const memory = new FitMemory(10)
    expect(madeFor(memory, ['a', 'b', 'a', 'a', 'b'])).toEqual(['a', 'b'])
    expect(madeFor(memory, ['a'], { ...CATALOGUE })).toEqual(['a'])
  })

  it('lets go of what was not asked for longest, and keeps what is asked for again and again', () => {
    const memory = new FitMemory(3)
    expect(madeFor(memory, ['at hand', 'b', 'c', 'at hand', 'd', 'at hand', 'e', 'at hand'])).toEqual([
      'at hand',
      'b',
      'c',
      'd',
      'e',
    ])
    expect(madeFor(memory, ['b'])).toEqual(['b'])
  })

  it('keeps nothing where it may keep nothing', () => {
    expect(madeFor(new FitMemory(0), ['a', 'a'])).toEqual(['a', 'a'])
  })

  it('keeps every way in which open differences of one case are weighed, and not thousands of cases', () => {
    const memory = new FitMemory()
    const ways = Array.from({ length: 64 }, (_, index) => `way ${index}`)
    madeFor(memory, ways)
    expect(madeFor(memory, ways)).toEqual([])
    madeFor(
      memory,
      Array.from({ length: 1000 }, (_, index) => `case ${index}`),
    )
    expect(madeFor(memory, ways)).toEqual(ways)
  })
})
