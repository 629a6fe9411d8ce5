import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { Counted } from '../../src/case/entry.ts'
import { countingEntries, crewOf } from '../../src/crew/crew.ts'
import { erasuresOf } from '../../src/crew/erasures.ts'
import { stockOf } from '../../src/crew/stock.ts'
import { runs } from '../support/seed.ts'
import { aCase, added, device, founded, struck, teamSaid, vouched } from '../support/team-entries.ts'

const NAMES = ['ana', 'ben', 'cleo', 'dan', 'eva', 'finn']
const name = fc.constantFrom(...NAMES)
const ROLES = ['technician', 'therapist', 'coordinator', 'visitor'] as const

type Step =
  | { readonly do: 'add'; readonly by: string; readonly who: string; readonly role: string }
  | { readonly do: 'strike'; readonly by: string; readonly who: string }
  | { readonly do: 'move'; readonly by: string; readonly amount: number }
  | { readonly do: 'keep'; readonly by: string; readonly amount: number; readonly over: number }
  | { readonly do: 'erase'; readonly by: string }
  | { readonly do: 'vouch'; readonly by: string; readonly of: number }

const step: fc.Arbitrary<Step> = fc.oneof(
  fc.record({ do: fc.constant('add' as const), by: name, who: name, role: fc.constantFrom(...ROLES) }),
  fc.record({ do: fc.constant('strike' as const), by: name, who: name }),
  fc.record({ do: fc.constant('move' as const), by: name, amount: fc.constantFrom(-2, -1, 1, 3) }),
  fc.record({ do: fc.constant('keep' as const), by: name, amount: fc.nat(3), over: fc.nat(40) }),
  fc.record({ do: fc.constant('erase' as const), by: name }),
  fc.record({ do: fc.constant('vouch' as const), by: name, of: fc.nat(40) }),
)

/** A history as entries; a vouch is for some earlier entry. */
const written = (steps: readonly Step[]): readonly Counted[] => {
  const entries: Counted[] = [founded('ana'), added('ana', 'ben'), added('ana', 'cleo'), added('ben', 'dan')]
  for (const one of steps) {
    if (one.do === 'add') entries.push(added(one.by, one.who, one.role))
    else if (one.do === 'strike') entries.push(struck(one.by, one.who))
    else if (one.do === 'erase') entries.push(teamSaid(one.by, { erase: { case: aCase('one') } }))
    else if (one.do === 'move')
      entries.push(teamSaid(one.by, { movement: { line: 'chair', place: 'van', amount: one.amount } }))
    else if (one.do === 'keep') {
      const over = entries[one.over % entries.length]?.id
      entries.push(teamSaid(one.by, { keep: { line: 'chair', place: 'van', amount: one.amount } }, over ? [over] : []))
    } else {
      const about = entries[one.of % entries.length]
      if (about) entries.push(vouched(one.by, 'ben', about))
    }
  }
  return entries
}

const told = (entries: readonly Counted[]): string => {
  const crew = crewOf(entries)
  return JSON.stringify({
    members: [...crew.members.values()],
    vouched: [...crew.vouched].sort(),
    lost: crew.strikesWithoutEffect,
    differences: crew.differences,
    counting: countingEntries(crew, entries)
      .map(({ id }) => id)
      .sort(),
    erasures: [...erasuresOf(crew, entries)],
    stock: stockOf(crew, entries),
  })
}

const histories = fc.array(step, { maxLength: 25 })
/** Three strikes and more in every history. */
const strikes = fc.array(fc.record({ do: fc.constant('strike' as const), by: name, who: name }), {
  minLength: 3,
  maxLength: 6,
})

test('any order and repetition of any history, three strikes among it, gives the same crew, erasures and stock', () => {
  fc.assert(
    fc.property(histories, strikes, fc.infiniteStream(fc.nat()), (steps, struckSteps, shuffle) => {
      const entries = written([...steps, ...struckSteps])
      const expected = told(entries)
      for (let order = 0; order < 4; order += 1) {
        const keyed = [...entries, ...entries.slice(0, 5)].map(entry => ({ entry, key: shuffle.next().value }))
        keyed.sort((a, b) => a.key - b.key)
        const other = keyed.map(({ entry }) => entry)
        expect(told(other).replaceAll(/"counting":\[[^\]]*\]/g, '')).toBe(
          expected.replaceAll(/"counting":\[[^\]]*\]/g, ''),
        )
        expect(new Set(JSON.parse(told(other)).counting)).toEqual(new Set(JSON.parse(expected).counting))
      }
    }),
    runs(150),
  )
})

test('a founder whom nobody has struck keeps whoever the founder added and nobody struck', () => {
  fc.assert(
    fc.property(histories, steps => {
      const entries = written(steps.filter(one => one.do !== 'strike'))
      const crew = crewOf(entries)
      for (const add of entries.filter(({ entry }) => Object.hasOwn(entry.set, 'add')))
        if (crew.members.get(add.entry.by)?.role !== 'visitor' && crew.members.has(add.entry.by))
          expect([...crew.members.keys()]).toContain((add.entry.set.add as { device: string }).device)
      expect([...crew.members.values()].every(({ struckBy }) => struckBy === null)).toBe(true)
    }),
    runs(100),
  )
})

test('a strike is never undone by anything a struck device, or one it brought in afterwards, can still write', () => {
  fc.assert(
    fc.property(histories, fc.array(step, { maxLength: 10 }), (steps, afterwards) => {
      const before = written([...steps, { do: 'strike', by: 'ana', who: 'dan' }])
      const crew = crewOf(before)
      const [ana, dan] = [crew.members.get(device('ana')), crew.members.get(device('dan'))]
      fc.pre(ana !== undefined && ana.struckBy === null)
      fc.pre(dan !== undefined && dan.struckBy !== null)
      // Only dan writes on, and a friend whom dan adds now.
      const friend = added('dan', 'gus')
      const hostile = afterwards.flatMap(one => {
        if (one.do === 'strike') return [struck('dan', one.who), struck('gus', one.who)]
        if (one.do === 'vouch') return [vouched('gus', 'dan', friend), vouched('dan', 'dan', friend)]
        if (one.do === 'add') return [added('gus', 'dan'), added('dan', 'gus')]
        return []
      })
      const after = crewOf([...before, friend, ...hostile])
      expect(
        [...after.members.values()].filter(({ struckBy }) => struckBy !== null).map(({ name: who }) => who),
      ).toEqual([...crew.members.values()].filter(({ struckBy }) => struckBy !== null).map(({ name: who }) => who))
      expect(after.members.has(device('gus'))).toBe(false)
    }),
    runs(150),
  )
})
