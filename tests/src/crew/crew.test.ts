import { describe, expect, test } from 'vitest'
import type { Counted } from '../../../src/case/entry.ts'
import { countingEntries, crewOf, isInGoodStanding, whyNotCounting } from '../../../src/crew/crew.ts'
import { erasuresOf } from '../../../src/crew/erasures.ts'
import { stockOf } from '../../../src/crew/stock.ts'
import { aCase, added, device, founded, struck, teamSaid, vouched } from '../../support/team-entries.ts'

const membersOf = (entries: readonly Counted[]): Readonly<Record<string, readonly [number, boolean]>> =>
  Object.fromEntries(
    [...crewOf(entries).members.values()].map(({ name, depth, struckBy }) => [name, [depth, struckBy !== null]]),
  )

describe('who is in the crew', () => {
  test('the founder stands at 0, whoever is added one deeper, by the shortest way', () => {
    const entries = [
      founded('ana'),
      added('ana', 'ben'),
      added('ben', 'cleo'),
      added('cleo', 'dan'),
      added('ana', 'dan'),
    ]
    expect(membersOf(entries)).toEqual({ ana: [0, false], ben: [1, false], cleo: [2, false], dan: [1, false] })
  })

  test('an add by somebody who is not in the crew brings nobody in', () => {
    expect(membersOf([founded('ana'), added('stranger', 'friend')])).toEqual({ ana: [0, false] })
  })

  test('a name and a role are put right over what stands; who says nothing of it leaves two names', () => {
    const first = added('ana', 'ben')
    const named = (name: string, role: string, over: readonly Counted[], by = 'ana') => {
      const { key } = first.entry.set.add as { key: string }
      return teamSaid(
        by,
        { add: { device: device('ben'), key, name, role } },
        over.map(({ id }) => id),
      )
    }
    const crew = crewOf([founded('ana'), first, named('Ben Aske', 'therapist', [first])])
    expect(crew.members.get(device('ben'))).toMatchObject({
      name: 'Ben Aske',
      role: 'therapist',
      namedBy: device('ana'),
    })
    expect(crew.differences).toEqual([])
    const apart = [founded('ana'), added('ana', 'cleo'), first, named('Benno', 'therapist', [], 'cleo')]
    expect(crewOf(apart).differences).toMatchObject([{ type: 'member-named-twice', device: device('ben') }])
    const settled = [...apart, named('Ben', 'therapist', apart.slice(2))]
    expect(crewOf(settled).differences).toEqual([])
    expect(crewOf(settled).members.get(device('ben'))?.name).toBe('Ben')
  })

  test('the founder is named anew as others are, and made a visitor by nobody', () => {
    const found = founded('ana')
    const { key } = found.entry.set.found as { key: string }
    const anew = (role: string) => teamSaid('ben', { add: { device: device('ana'), key, name: 'Ana Verr', role } })
    const entries = [found, added('ana', 'ben')]
    expect(crewOf(entries).members.get(device('ana'))).toMatchObject({
      name: 'ana',
      role: 'coordinator',
      namedBy: null,
    })
    expect(crewOf([...entries, anew('therapist')]).members.get(device('ana'))).toMatchObject({
      name: 'Ana Verr',
      role: 'therapist',
      depth: 0,
    })
    expect(crewOf([...entries, anew('visitor')]).members.get(device('ana'))?.role).toBe('coordinator')
  })

  test('of two that strike each other the shallower stays', () => {
    const entries = [
      founded('ana'),
      added('ana', 'ben'),
      added('ben', 'cleo'),
      struck('cleo', 'ben'),
      struck('ben', 'cleo'),
    ]
    expect(membersOf(entries)).toEqual({ ana: [0, false], ben: [1, false], cleo: [2, true] })
  })

  test('three strikes in a ring at one depth: the lowest striker id strikes first, the one it hit strikes no more', () => {
    const names = ['ben', 'cleo', 'dan'].sort((a, b) => (device(a) < device(b) ? -1 : 1))
    const [low = '', middle = '', high = ''] = names
    const entries = [founded('ana'), ...names.map(name => added('ana', name))]
    const ring = [struck(low, middle), struck(middle, high), struck(high, low)]
    // low strikes middle; middle is struck already and cannot strike high; high strikes low.
    expect(membersOf([...entries, ...ring])).toMatchObject({
      [low]: [1, true],
      [middle]: [1, true],
      [high]: [1, false],
    })
  })

  test('a strike undone because its striker was struck first is named, so that somebody can say it again', () => {
    const [byBen, byAna] = [struck('ben', 'cleo'), struck('ana', 'ben')]
    const entries = [founded('ana'), added('ana', 'ben'), added('ana', 'cleo'), byBen, byAna]
    const crew = crewOf(entries)
    expect(crew.members.get(device('cleo'))?.struckBy).toBeNull()
    expect(crew.strikesWithoutEffect).toEqual([{ id: byBen.id, by: device('ben'), device: device('cleo') }])
    expect(crewOf([...entries, struck('ana', 'cleo')]).strikesWithoutEffect).toEqual([])
  })

  test('whoever a struck device adds is in the crew only when a member in good standing vouches for the add', () => {
    const add = added('ben', 'friend')
    const entries = [founded('ana'), added('ana', 'ben'), add, struck('ana', 'ben')]
    expect(membersOf(entries)).not.toHaveProperty('friend')
    expect(membersOf([...entries, vouched('friend', 'ben', add)])).not.toHaveProperty('friend')
    expect(membersOf([...entries, vouched('ben', 'ben', add)])).not.toHaveProperty('friend')
    expect(membersOf([...entries, vouched('ana', 'ben', add)])).toMatchObject({ friend: [2, false] })
  })

  test('a strike by somebody brought in afterwards by a struck device has no effect', () => {
    const entries = [
      founded('ana'),
      added('ana', 'ben'),
      struck('ana', 'ben'),
      added('ben', 'friend'),
      struck('friend', 'ana'),
    ]
    expect(membersOf(entries)).toEqual({ ana: [0, false], ben: [1, true] })
  })

  test('whoever strikes the founder off, whose phone is lost, takes its place; by its word the others stay', () => {
    const [ben, cleo] = [added('ana', 'ben'), added('ana', 'cleo')]
    const entries = [founded('ana'), ben, cleo, added('ben', 'dan')]
    const lost = struck('ben', 'ana')
    expect(membersOf([...entries, lost])).toEqual({ ana: [0, true], ben: [1, false], dan: [2, false] })
    const known = vouched('ben', 'ana', ben, cleo)
    const everybody = { ana: [0, true], ben: [1, false], cleo: [1, false], dan: [2, false] }
    expect(membersOf([...entries, lost, known])).toEqual(everybody)
    // Whom the lost phone lets in afterwards is in only by the word of one of the crew.
    expect(membersOf([...entries, lost, known, added('ana', 'gus')])).toEqual(everybody)
    // Said apart by two who have not met yet.
    const apart = [lost, known, struck('cleo', 'ana'), vouched('cleo', 'ana', ben, cleo)]
    expect(membersOf([...entries, ...apart])).toEqual(everybody)
  })

  test('the place of the founder goes on to whoever strikes the one who took it', () => {
    // Of two at one depth the lower id strikes first; the other way round the first strike is named as without effect.
    const [low = '', high = ''] = ['ben', 'cleo'].sort((a, b) => (device(a) < device(b) ? -1 : 1))
    const adds = [added('ana', low), added('ana', high)]
    const entries = [founded('ana'), ...adds, struck(low, 'ana'), vouched(low, 'ana', ...adds), struck(high, low)]
    expect(membersOf(entries)).toEqual({ ana: [0, true], [high]: [1, false] })
    const known = vouched(high, 'ana', ...adds)
    expect(membersOf([...entries, known])).toEqual({ ana: [0, true], [low]: [1, true], [high]: [1, false] })
  })

  test('a visitor looks on: its entries count nowhere, it adds, strikes and vouches nobody', () => {
    const said = teamSaid('guest', { movement: { line: 'cushion', place: 'van', amount: 5 } })
    const entries = [
      founded('ana'),
      added('ana', 'guest', 'visitor'),
      added('guest', 'friend'),
      struck('guest', 'ana'),
      said,
    ]
    const crew = crewOf(entries)
    expect([...crew.members.keys()].sort()).toEqual([device('ana'), device('guest')].sort())
    expect(crew.members.get(device('ana'))?.struckBy).toBeNull()
    expect(whyNotCounting(crew, said.id, device('guest'))).toBe('visitor')
    expect(isInGoodStanding(crew, device('guest'))).toBe(false)
    const promoted = crewOf([
      founded('ana'),
      added('ana', 'guest', 'visitor'),
      said,
      added('ana', 'guest', 'therapist'),
    ])
    expect(whyNotCounting(promoted, said.id, device('guest'))).toBeUndefined()
  })

  test('whoever was let in to write stays so: what they recorded does not vanish by a second invitation as visitor', () => {
    const first = added('ana', 'ben', 'therapist')
    const crew = crewOf([founded('ana'), first, added('ana', 'ben', 'visitor', [first.id])])
    expect(crew.members.get(device('ben'))?.role).toBe('therapist')
  })

  test('a device added under two names is one member, and the difference is named', () => {
    const other = teamSaid('ana', { add: { ...(added('ana', 'ben').entry.set.add as object), name: 'Benedict' } })
    const crew = crewOf([founded('ana'), added('ana', 'ben'), other])
    expect(crew.differences).toEqual([
      {
        type: 'member-named-twice',
        device: device('ben'),
        named: expect.arrayContaining([
          { name: 'ben', role: 'technician' },
          { name: 'Benedict', role: 'technician' },
        ]),
      },
    ])
  })
})

describe('what counts after a strike', () => {
  const early = teamSaid('ben', { movement: { line: 'cushion', place: 'van', amount: 5 } })
  const late = teamSaid('ben', { movement: { line: 'cushion', place: 'van', amount: 70 } })
  const entries = [founded('ana'), added('ana', 'ben'), added('ana', 'cleo'), early, struck('ana', 'ben'), late]

  test('only what a member in good standing vouches for; the rest is told to have come after', () => {
    const crew = crewOf([...entries, vouched('cleo', 'ben', early)])
    expect(whyNotCounting(crew, early.id, device('ben'))).toBeUndefined()
    expect(whyNotCounting(crew, late.id, device('ben'))).toBe('came-after-strike')
    expect(whyNotCounting(crew, late.id, device('nobody'))).toBe('not-in-crew')
    expect(countingEntries(crew, [early, late])).toEqual([early])
  })

  test('the voucher struck as well: its word ends', () => {
    const crew = crewOf([...entries, vouched('cleo', 'ben', early), struck('ana', 'cleo')])
    expect(countingEntries(crew, [early, late])).toEqual([])
  })

  test('the order in which entries came decides nothing', () => {
    const all = [...entries, vouched('cleo', 'ben', early), struck('cleo', 'ana')]
    const [there, back] = [crewOf(all), crewOf(all.toReversed())]
    expect(back.members).toEqual(there.members)
    expect(back.vouched).toEqual(there.vouched)
  })
})

describe('erasing takes two devices', () => {
  const one = aCase('one')
  const erase = (by: string) => teamSaid(by, { erase: { case: one } })
  const crew = [founded('ana'), added('ana', 'ben'), added('ana', 'guest', 'visitor')]

  test('one word hides, also said twice; a second device erases', () => {
    const stateOf = (...words: readonly Counted[]) => {
      const entries = [...crew, ...words]
      return erasuresOf(crewOf(entries), entries).get(one)?.state
    }
    expect(stateOf()).toBeUndefined()
    expect(stateOf(erase('ana'))).toBe('hidden')
    expect(stateOf(erase('ana'), erase('ana'))).toBe('hidden')
    expect(stateOf(erase('ana'), erase('guest'))).toBe('hidden')
    expect(stateOf(erase('ana'), erase('stranger'))).toBe('hidden')
    expect(stateOf(erase('ana'), erase('ben'))).toBe('erased')
  })
})

describe('stock is a sum of movements', () => {
  const crew = [founded('ana'), added('ana', 'ben')]
  const move = (by: string, amount: number, line = 'trail-folding 400') =>
    teamSaid(by, { movement: { line, place: 'van', amount } })
  const reserve = (by: string, amount: number, name: string) =>
    teamSaid(by, { reservation: { line: 'trail-folding 400', place: 'van', amount, case: aCase(name) } })
  const stock = (...said: readonly Counted[]) => stockOf(crewOf([...crew, ...said]), [...crew, ...said])

  test('two phones that give out the last chair apart leave -1, and it is said', () => {
    const { lines, differences } = stock(move('ana', 1), move('ana', -1), move('ben', -1))
    expect(lines).toEqual([{ line: 'trail-folding 400', place: 'van', onHand: -1, reserved: [], free: -1 }])
    expect(differences).toEqual([{ type: 'stock-below-zero', line: 'trail-folding 400', place: 'van', pieces: -1 }])
  })

  test('a chair promised to two people is said; given free again it is not', () => {
    const twice = stock(move('ana', 1), reserve('ana', 1, 'one'), reserve('ben', 1, 'two'))
    expect(twice.differences.map(({ type, pieces }) => [type, pieces])).toEqual([['stock-promised-twice', -1]])
    const freed = stock(move('ana', 1), reserve('ana', 1, 'one'), reserve('ben', 1, 'two'), reserve('ben', -1, 'two'))
    expect(freed.differences).toEqual([])
    expect(freed.lines[0]).toMatchObject({ onHand: 1, free: 0, reserved: [{ case: aCase('one'), amount: 1 }] })
  })

  test('a set number, a half chair and a movement of nothing are no movements', () => {
    const bad = [{ onHand: 4 }, { amount: 0.5 }, { amount: 0 }, { amount: 1, extra: true }].map(value =>
      teamSaid('ana', { movement: { line: 'cushion', place: 'van', ...value } }),
    )
    expect(stock(...bad).lines).toEqual([])
  })
})
