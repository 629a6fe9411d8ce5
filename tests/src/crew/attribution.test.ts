import { describe, expect, test } from 'vitest'
import type { Counted } from '../../../src/case/entry.ts'
import { attributionOf, markOf, plainName } from '../../../src/crew/attribution.ts'
import { type Crew, crewOf } from '../../../src/crew/crew.ts'
import type { DeviceId } from '../../../src/ids.ts'
import { added, device, founded, struck, teamSaid } from '../../support/team-entries.ts'

const named = (by: string, who: string, name: string): Counted => {
  const first = added(by, who)
  const { key } = first.entry.set.add as { key: string }
  return teamSaid(by, { add: { device: device(who), key, name, role: 'technician' } })
}

describe('under which name an entry is shown', () => {
  test('its device’s, after a strike too; none for a device that is not in the crew', () => {
    const crew = crewOf([founded('ana'), added('ana', 'ben'), struck('ana', 'ben')])
    expect(attributionOf(crew, device('ben'))).toEqual({ name: 'ben', mark: null })
    expect(attributionOf(crew, device('stranger'))).toBeUndefined()
  })

  // Unicode 15, UAX 15: U+FF22 is compatible with B; UAX 9: U+202E turns what follows, U+2066 to U+2069 isolate.
  test.each([
    ['the same letters', 'Ben Aske', 'Ben Aske'],
    ['large and small letters', 'Ben Aske', 'BEN  aske'],
    ['letters that are compatible', 'Ben Aske', '\uff22en Aske'],
    ['signs that are not seen', 'Ben Aske', 'Ben\u200b A\u00adske\u2069'],
    ['joiners', 'Ben Aske', 'Ben\u200d As\u200cke'],
  ])('two whose names differ in %s only are told apart by their devices', (_, one, other) => {
    const crew = crewOf([founded('ana'), named('ana', 'ben', one), named('ana', 'dan', other)])
    const [ben, dan] = [attributionOf(crew, device('ben')), attributionOf(crew, device('dan'))]
    expect(ben?.mark).toBe(device('ben').slice(0, 4))
    expect(dan?.mark).toBe(device('dan').slice(0, 4))
    expect(ben?.mark).not.toBe(dan?.mark)
    expect(attributionOf(crew, device('ana'))?.mark).toBeNull()
  })

  test('a name that turns its surroundings or spreads over lines stands plain, a Persian one keeps its joiner', () => {
    expect(plainName('\u202eneB\u202c,\u2028\u2067 x\u2069\n y')).toBe('neB, x y')
    expect(plainName('علی\u200cرضا')).toBe('علی\u200cرضا')
  })

  test('a name of nothing that is seen is shown by its device', () => {
    const crew = crewOf([founded('ana'), named('ana', 'ben', '\u200b\u2066')])
    expect(attributionOf(crew, device('ben'))).toEqual({ name: '', mark: device('ben').slice(0, 4) })
  })

  test('a device made to begin as another one is told from it by more letters', () => {
    const [one, other] = ['AbCdEfGhIjKlMnOpQrStUQ' as DeviceId, 'AbCdEfXhIjKlMnOpQrStUQ' as DeviceId]
    const crew = { members: new Map([one, other].map(id => [id, {}])) } as unknown as Crew
    expect([markOf(crew, one), markOf(crew, other)]).toEqual(['AbCdEfG', 'AbCdEfX'])
  })
})
