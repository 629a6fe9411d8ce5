import { describe, expect, it } from 'vitest'
import type { Counted } from '../../../src/case/entry.ts'
import { entriesByField, type FieldRule, headsOf } from '../../../src/case/heads.ts'
import { entryIdSchema } from '../../../src/ids.ts'
import { hashedId, said, underForgedId } from '../../support/case-entries.ts'

// Expectations here follow from the rules B2-B7 of the shared record, stated beside each group; no published source.

const numbers: FieldRule = { isValid: value => typeof value === 'number' }
const flags: FieldRule = { isValid: value => typeof value === 'boolean', lowers: (from, to) => from === true && !to }

const valuesOf = (entries: readonly Counted[], field: string, rule: FieldRule) =>
  headsOf(entries, field, rule)
    .heads.map(head => head.value)
    .sort()

describe('B2: heads are the valid statements that no other valid statement of the field names', () => {
  it('keeps both values of two devices that did not know of each other', () => {
    const entries = [said({ set: { a: 400 }, by: 'x' }), said({ set: { a: 452 }, by: 'y' })]
    expect(valuesOf(entries, 'a', numbers)).toEqual([400, 452])
  })

  it('lets a later statement end the one it names', () => {
    const first = said({ set: { a: 400 } })
    const second = said({ set: { a: 452 }, over: [first] })
    expect(valuesOf([second, first], 'a', numbers)).toEqual([452])
  })

  it('waits for a named entry that is not here yet, and takes effect when it comes', () => {
    const first = said({ set: { a: 400 } })
    const second = said({ set: { a: 452 }, over: [first] })
    expect(valuesOf([second], 'a', numbers)).toEqual([452])
    expect(valuesOf([second, first], 'a', numbers)).toEqual([452])
  })

  it('gives no effect to an over that names an entry without the field', () => {
    const other = said({ set: { b: 1 } })
    const entries = [other, said({ set: { a: 2 }, over: [other] })]
    expect(valuesOf(entries, 'b', numbers)).toEqual([1])
    expect(valuesOf(entries, 'a', numbers)).toEqual([2])
  })

  it('gives no effect to the over of an entry whose own value is invalid', () => {
    const first = said({ set: { a: 400 } })
    expect(valuesOf([first, said({ set: { a: 'wide' }, over: [first] })], 'a', numbers)).toEqual([400])
  })

  it('takes the same entry twice as once', () => {
    const first = said({ set: { a: 400 } })
    expect(headsOf([first, first], 'a', numbers).heads).toHaveLength(1)
  })

  it('sorts heads by entry id, whatever their order', () => {
    const entries = [1, 2, 3, 4, 5].map(a => said({ set: { a } }))
    const ids = headsOf(entries, 'a', numbers).heads.map(head => head.id as string)
    expect(ids).toEqual(entries.map(entry => entry.id as string).sort())
    expect(headsOf([...entries].reverse(), 'a', numbers)).toEqual(headsOf(entries, 'a', numbers))
  })

  it('reads own keys only: a field named like an inherited property is not set', () => {
    const entries = [said({ set: { a: 1 } })]
    for (const name of ['__proto__', 'constructor', 'toString', 'hasOwnProperty'])
      expect(headsOf(entries, name, { isValid: () => true })).toEqual({ heads: [], newer: false })
  })
})

describe('rings of over: ids are hashes, so none can be built; a field keeps a head even if one were handed in', () => {
  const idA = entryIdSchema.parse(hashedId('ring a'))
  const idB = entryIdSchema.parse(hashedId('ring b'))

  it('two entries that name each other both stand', () => {
    const a = underForgedId(said({ set: { a: 1 }, over: [idB] }), idA)
    const b = underForgedId(said({ set: { a: 2 }, over: [idA] }), idB)
    expect(valuesOf([a, b], 'a', numbers)).toEqual([1, 2])
  })

  it('an entry that names itself stands', () => {
    expect(valuesOf([underForgedId(said({ set: { a: 1 }, over: [idA] }), idA)], 'a', numbers)).toEqual([1])
  })
})

describe('an entry that names itself', () => {
  it('stands beside others as if it had not', () => {
    const id = entryIdSchema.parse(hashedId('self'))
    const self = underForgedId(said({ set: { a: 1 }, over: [id] }), id)
    expect(valuesOf([self, said({ set: { a: 2 } })], 'a', numbers)).toEqual([1, 2])
  })
})

describe('B3: fields are separate', () => {
  const form = said({ set: { a: 1, b: 10 } })

  it('keeps b of {a, b} when the entry is overridden for a alone', () => {
    const entries = [form, said({ set: { a: 2 }, over: [form] })]
    expect(valuesOf(entries, 'a', numbers)).toEqual([2])
    expect(valuesOf(entries, 'b', numbers)).toEqual([10])
  })

  it('keeps the other fields of an entry with one invalid value', () => {
    expect(valuesOf([said({ set: { a: 'wide', b: 10 } })], 'b', numbers)).toEqual([10])
  })
})

describe('B6: lowering a guard takes a decision with a reason', () => {
  const risk = said({ set: { sore: true } })
  const lowered = (kind: string, why?: string) =>
    said({ set: { sore: false }, over: [risk], kind, ...(why ? { why } : {}) })

  it('keeps true beside a plain save of false that names it', () => {
    expect(valuesOf([risk, lowered('save')], 'sore', flags)).toEqual([false, true])
    expect(valuesOf([risk, lowered('save', 'looked at it')], 'sore', flags)).toEqual([false, true])
  })

  it('keeps true beside a settle or retest that gives no reason', () => {
    for (const kind of ['settle', 'retest'])
      expect(valuesOf([risk, lowered(kind)], 'sore', flags)).toEqual([false, true])
  })

  it('ends true by a settle or retest that says what was seen', () => {
    for (const kind of ['settle', 'retest'])
      expect(valuesOf([risk, lowered(kind, 'skin closed and pale')], 'sore', flags)).toEqual([false])
  })

  it('cannot be got round by a chain of plain saves', () => {
    const plain = lowered('save')
    const again = said({ set: { sore: false }, over: [risk, plain], at: 2_000 })
    expect(valuesOf([risk, plain, again], 'sore', flags)).toEqual([false, true])
  })

  it('raises a guard by a plain save', () => {
    const clear = said({ set: { sore: false } })
    expect(valuesOf([clear, said({ set: { sore: true }, over: [clear] })], 'sore', flags)).toEqual([true])
  })
})

describe('B7: what a later version wrote', () => {
  const first = said({ set: { a: 400 } })

  it.each([
    ['an unknown version', said({ v: 2, set: { a: 452 }, over: [first] })],
    ['an unknown kind', said({ kind: 'amend', set: { a: 452 }, over: [first] })],
    ['an unknown value', said({ set: { a: { between: [440, 460] } }, over: [first] })],
  ])('%s: the old value still stands, and the field is marked', (_, later) => {
    expect(headsOf([first, later], 'a', numbers).heads.map(head => head.value)).toEqual([400])
    expect(headsOf([first, later], 'a', numbers).newer).toBe(true)
    expect(headsOf([first], 'a', numbers).newer).toBe(false)
  })

  it('is answered by a readable statement of the field that names it', () => {
    const later = said({ v: 2, set: { a: 452 } })
    const answer = said({ set: { a: 460 }, over: [first, later] })
    expect(headsOf([first, later, answer], 'a', numbers)).toMatchObject({ heads: [{ value: 460 }], newer: false })
  })

  it('is not answered by a statement of another field, nor by an unreadable one', () => {
    const later = said({ v: 2, set: { a: 452 } })
    expect(headsOf([first, later, said({ set: { b: 1 }, over: [later] })], 'a', numbers).newer).toBe(true)
    expect(headsOf([first, later, said({ set: { a: 'x' }, over: [later] })], 'a', numbers).newer).toBe(true)
  })

  it('leaves a field that only a later version set without a head, but marked', () => {
    expect(headsOf([said({ v: 2, set: { a: 1 } })], 'a', numbers)).toEqual({ heads: [], newer: true })
  })
})

it('gives the same heads from a field of the index as from all entries', () => {
  const first = said({ set: { a: 1, b: 2 } })
  const entries = [first, said({ set: { a: 3 }, over: [first] }), said({ v: 9, set: { b: 5 } })]
  const index = entriesByField(entries)
  expect([...index.keys()].sort()).toEqual(['a', 'b'])
  for (const field of ['a', 'b'])
    expect(headsOf(index.get(field) ?? [], field, numbers)).toEqual(headsOf(entries, field, numbers))
})
