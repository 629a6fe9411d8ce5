import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Counted } from '../../src/case/entry.ts'
import { type FieldRule, headsOf } from '../../src/case/heads.ts'
import { entryIdSchema } from '../../src/ids.ts'
import { hashedId, said, underForgedId } from '../support/case-entries.ts'
import { runs } from '../support/seed.ts'

// A history of statements about two fields, `guard` (true holds) and `size`, in which later ones name earlier ones.
// The properties are rules B2-B7 of the shared record; where a model is used, it is the rule read literally.

const guard: FieldRule = { isValid: value => typeof value === 'boolean', lowers: (from, to) => from === true && !to }
const size: FieldRule = { isValid: value => typeof value === 'number' }
const RULES = { guard, size } as const
const FIELDS = ['guard', 'size'] as const

const step = fc.record({
  guard: fc.option(fc.oneof(fc.boolean(), fc.constant('unreadable'))),
  size: fc.option(fc.oneof(fc.integer({ min: 0, max: 3 }), fc.constant({ later: 1 }))),
  kind: fc.constantFrom('save', 'save', 'settle', 'retest', 'amend'),
  why: fc.option(fc.constant('seen')),
  by: fc.constantFrom('x', 'y', 'z'),
  over: fc.array(fc.nat({ max: 30 }), { maxLength: 4 }),
})

const history = fc.array(step, { maxLength: 14 }).map(steps => {
  const entries: Counted[] = []
  for (const [at, { guard: flag, size: mm, kind, why, by, over }] of steps.entries()) {
    const set = { ...(flag === null ? {} : { guard: flag }), ...(mm === null ? {} : { size: mm }), note: at }
    const named = [...new Set(over.flatMap(index => entries[index] ?? []))]
    entries.push(said({ set, kind, by, over: named, at, ...(why === null ? {} : { why }) }))
  }
  return entries
})

const shuffled = <Item>(items: readonly Item[]) =>
  fc.shuffledSubarray([...items, ...items], { minLength: items.length * 2 })

const isStatement = (counted: Counted, field: (typeof FIELDS)[number]): boolean =>
  counted.readable && Object.hasOwn(counted.entry.set, field) && RULES[field].isValid(counted.entry.set[field])

const idsOf = (entries: readonly Counted[], field: (typeof FIELDS)[number]): readonly string[] =>
  headsOf(entries, field, RULES[field]).heads.map(head => head.id)

describe('heads of any history', () => {
  it('are the same for any order and repetition of its entries', () => {
    fc.assert(
      fc.property(
        history.chain(entries => fc.tuple(fc.constant(entries), shuffled(entries))),
        ([entries, mixed]) => {
          for (const field of FIELDS)
            expect(headsOf(mixed, field, RULES[field])).toEqual(headsOf(entries, field, RULES[field]))
        },
      ),
      runs(300),
    )
  })

  it('are never none for a field that was ever validly set', () => {
    fc.assert(
      fc.property(history, entries => {
        for (const field of FIELDS)
          expect(idsOf(entries, field).length > 0).toBe(entries.some(entry => isStatement(entry, field)))
      }),
      runs(300),
    )
  })

  it('are never none even if ids could be forged into rings', () => {
    const ids = ['p', 'q', 'r', 's'].map(name => entryIdSchema.parse(hashedId(name)))
    const ring = fc
      .array(fc.subarray(ids), { minLength: 1, maxLength: 4 })
      .map(overs =>
        overs.map((over, index) =>
          underForgedId(said({ set: { size: index }, over }), ids[index] ?? entryIdSchema.parse(hashedId('t'))),
        ),
      )
    fc.assert(
      fc.property(ring, entries => {
        expect(idsOf(entries, 'size').length).toBeGreaterThan(0)
      }),
      runs(200),
    )
  })

  it('lose nothing that no statement of that field named', () => {
    fc.assert(
      fc.property(history, entries => {
        for (const field of FIELDS) {
          const statements = entries.filter(entry => isStatement(entry, field))
          const named = new Set(statements.flatMap(({ readable, entry }) => (readable ? entry.over : [])))
          const unnamed = statements.filter(({ id }) => !named.has(id)).map(({ id }) => id)
          expect(idsOf(entries, field)).toEqual(expect.arrayContaining(unnamed))
        }
      }),
      runs(300),
    )
  })

  it('keep every head when others add what names none of them', () => {
    fc.assert(
      fc.property(history, history, (ours, theirs) => {
        const known = new Set<string>(ours.map(({ id }) => id))
        const strangers = theirs.filter(({ readable, entry }) => !readable || !entry.over.some(id => known.has(id)))
        for (const field of FIELDS) {
          const before = idsOf(ours, field)
          expect(idsOf([...ours, ...strangers], field)).toEqual(expect.arrayContaining([...before]))
        }
      }),
      runs(200),
    )
  })

  it('keep b of a form {a, b} of which only a is overridden', () => {
    fc.assert(
      fc.property(history, fc.integer(), (entries, mm) => {
        const forms = entries.filter(entry => isStatement(entry, 'guard') && isStatement(entry, 'size'))
        const standing = idsOf(entries, 'guard')
        const later = said({ set: { size: mm }, over: forms, kind: 'settle', why: 'measured' })
        expect(idsOf([...entries, later], 'guard')).toEqual(standing)
        const sizes = idsOf([...entries, later], 'size')
        expect(sizes).toContain(later.id)
        for (const form of forms) expect(sizes).not.toContain(form.id)
      }),
      runs(200),
    )
  })

  it('wait for a named entry: the order in which a pair arrives does not matter, nor what lies between', () => {
    fc.assert(
      fc.property(history, fc.nat(), (entries, pick) => {
        if (entries.length === 0) return
        const late = entries[pick % entries.length]
        if (!late) return
        const before = entries.filter(entry => entry !== late)
        for (const field of FIELDS)
          expect(headsOf([...before, late], field, RULES[field])).toEqual(headsOf(entries, field, RULES[field]))
      }),
      runs(200),
    )
  })

  it('hold true until a settle or retest that says why names it, with false', () => {
    fc.assert(
      fc.property(history, entries => {
        const lowering = entries.filter(
          ({ readable, entry }) =>
            readable && entry.set.guard === false && entry.kind !== 'save' && entry.why !== undefined,
        )
        const raising = entries.filter(entry => isStatement(entry, 'guard') && entry.entry.set.guard === true)
        const mayBeGone = new Set(
          [...lowering, ...raising].flatMap(({ readable, entry }) => (readable ? entry.over : [])),
        )
        const trues = raising.filter(({ id }) => !mayBeGone.has(id)).map(({ id }) => id)
        expect(idsOf(entries, 'guard')).toEqual(expect.arrayContaining(trues))
      }),
      runs(300),
    )
  })

  it('are marked newer exactly while an unreadable entry is not named by a readable statement of the field', () => {
    fc.assert(
      fc.property(history, entries => {
        for (const field of FIELDS) {
          const setters = entries.filter(({ entry }) => Object.hasOwn(entry.set, field))
          const statements = setters.filter(entry => isStatement(entry, field))
          const answered = new Set(statements.flatMap(({ readable, entry }) => (readable ? entry.over : [])))
          const open = setters.filter(entry => !isStatement(entry, field) && !answered.has(entry.id))
          expect(headsOf(entries, field, RULES[field]).newer).toBe(open.length > 0)
        }
      }),
      runs(300),
    )
  })
})
