import { describe, expect, test } from 'vitest'
import { orderSteps } from '../../../src/preparation/step-order.ts'

const step = (key: string, ...after: string[]) => ({ key, after })
const ordered = (...steps: ReturnType<typeof step>[]): readonly string[] =>
  orderSteps(steps).ordered.map(one => one.key)

describe('the order of steps', () => {
  test('puts prerequisites first and else keeps the order given', () => {
    expect(ordered(step('a', 'd'), step('b'), step('c'), step('d'))).toEqual(['b', 'c', 'd', 'a'])
  })

  test('ignores a prerequisite that is no step', () => {
    expect(orderSteps([step('a', 'nowhere')])).toMatchObject({ ring: [] })
    expect(ordered(step('a', 'nowhere'))).toEqual(['a'])
  })

  test('names a ring, loses no step and does not hang', () => {
    const result = orderSteps([step('start'), step('a', 'c'), step('b', 'a'), step('c', 'b'), step('end', 'c')])
    expect([...result.ring].sort()).toEqual(['a', 'b', 'c'])
    expect(result.ordered.map(one => one.key).toSorted()).toEqual(['a', 'b', 'c', 'end', 'start'])
    expect(result.ordered.at(-1)?.key).toBe('end')
  })

  test('names a step that waits for itself', () => {
    expect(orderSteps([step('a', 'a')])).toEqual({ ordered: [step('a', 'a')], ring: ['a'] })
  })

  test('names only the ring, not what waits behind it', () => {
    expect(orderSteps([step('behind', 'a'), step('a', 'b'), step('b', 'a')]).ring.toSorted()).toEqual(['a', 'b'])
  })
})
