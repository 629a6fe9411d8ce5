import { describe, expect, it } from 'vitest'
import catalogue from '../../demo/practice-catalogue.json'

const rejects = async (work: () => unknown): Promise<string> => {
  try {
    await work()
  } catch (error) {
    return String(error)
  }
  return 'nothing'
}

describe('matchers in the browser', () => {
  it('refuse what is not so', async () => {
    expect(await rejects(() => expect({ a: [1] }).toEqual({ a: [2] }))).toContain('expected')
    expect(await rejects(() => expect([1]).toHaveLength(2))).toContain('length')
    expect(await rejects(() => expect(() => 1).toThrow())).toContain('throw')
    expect(await rejects(() => expect(Promise.resolve(1)).resolves.toBe(2))).toContain('expected')
    expect(await rejects(() => expect({ a: 1 }).toMatchObject({ a: 2 }))).toContain('expected')
    expect(await rejects(() => expect('a').toEqual(expect.stringContaining('b')))).toContain('expected')
  })

  it.each([
    ['a row', 1],
    ['another', 2],
  ])('take rows: %s', async (name, number) => {
    expect([name, number]).toEqual([expect.any(String), expect.any(Number)])
    expect(new Uint8Array([1])).toEqual(new Uint8Array([1]))
    expect(await rejects(() => expect(new Uint8Array([1])).toEqual(new Uint8Array([2])))).toContain('expected')
    await expect(Promise.reject(new Error('no room'))).rejects.toThrow('no room')
    expect(() => {
      throw new Error('no room')
    }).toThrow(/room/)
    expect({ a: 1, b: 2 }).not.toMatchObject({ a: 2 })
  })
})

it('reads JSON as the build does', () => {
  // The file's own first line: "catalogue": 1.
  expect(catalogue.catalogue).toBe(1)
})
