import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { toCalendarDate } from '../../src/calendar-date.ts'
import { caseMemory, viewOfCase } from '../../src/case/case-view-of.ts'
import type { Counted } from '../../src/case/entry.ts'
import { DEFAULT_POLICY } from '../../src/fitting/policy.ts'
import type { EntryId } from '../../src/ids.ts'
import { FitMemory } from '../../src/outcome/fit-memory.ts'
import { outcome } from '../../src/outcome/outcome.ts'
import { fortyForms, PRACTICE_CATALOGUE } from '../bench/realistic-cases.ts'
import { said, testCase } from '../support/case-entries.ts'
import { runs } from '../support/seed.ts'
import { seededRandom } from '../support/seeded-random.ts'

// A memory may save time and must change no answer: what is made with it is compared with what is made from nothing.

/** One person's provision by two crews, whose forms name the statement before (`over`) or were made without knowing it. */
const record = fc
  .record({
    seed: fc.nat({ max: 10_000 }),
    other: fc.nat({ max: 10_000 }),
    apart: fc.array(fc.boolean(), { minLength: 1, maxLength: 7 }),
    from: fc.shuffledSubarray([...Array(80).keys()], { minLength: 24, maxLength: 48 }),
  })
  .map(({ seed, other, apart, from }) => {
    const forms = [...fortyForms(seededRandom(seed)), ...fortyForms(seededRandom(other))]
    const last = new Map<string, EntryId>()
    return from.flatMap((place, at): readonly Counted[] => {
      const set = forms[place]
      if (!set) return []
      const knows = !apart[at % apart.length] || at % 5 !== 0
      const over = knows ? Object.keys(set).flatMap(field => last.get(field) ?? []) : []
      const entry = said({ set, at, over: [...new Set(over)], by: at % 2 ? 'x' : 'y' })
      for (const field of Object.keys(set)) last.set(field, entry.id)
      return [entry]
    })
  })

describe('the memory of a case', () => {
  it('gives the view that is made from nothing, entry by entry, in whatever order they come', () => {
    const arriving = record.chain(entries =>
      fc.shuffledSubarray([...entries, ...entries], { minLength: entries.length }),
    )
    fc.assert(
      fc.property(arriving, entries => {
        const memory = caseMemory()
        for (const count of entries.keys()) {
          const here = entries.slice(0, count + 1)
          expect(JSON.stringify(viewOfCase(testCase, here, memory))).toBe(JSON.stringify(viewOfCase(testCase, here)))
        }
      }),
      runs(30),
    )
  })

  it('gives it too when entries no longer count, or count again: whatever was handed in before', () => {
    const turns = record.chain(entries => fc.array(fc.shuffledSubarray([...entries]), { minLength: 2, maxLength: 8 }))
    fc.assert(
      fc.property(turns, several => {
        const memory = caseMemory()
        for (const counting of several)
          expect(JSON.stringify(viewOfCase(testCase, counting, memory))).toBe(
            JSON.stringify(viewOfCase(testCase, counting)),
          )
      }),
      runs(60),
    )
  })
})

describe('the memories of an outcome', () => {
  const days = ['2024-12-31', '2025-06-30', '2026-11-25'].map(toCalendarDate)
  const context = { catalogue: PRACTICE_CATALOGUE, policy: DEFAULT_POLICY }

  it('give the same text as an outcome of copies, which nothing was ever remembered of', () => {
    const remembered = new FitMemory()
    fc.assert(
      fc.property(record, fc.constantFrom(...days), (entries, today) => {
        const fields = caseMemory()
        for (let count = entries.length % 4; count <= entries.length; count += 4) {
          const here = entries.slice(0, count)
          const made = outcome(viewOfCase(testCase, here, fields), context, today, remembered)
          const copies = outcome(structuredClone(viewOfCase(testCase, here)), structuredClone(context), today)
          expect(JSON.stringify(made)).toBe(JSON.stringify(copies))
        }
      }),
      runs(25),
    )
  })
})
