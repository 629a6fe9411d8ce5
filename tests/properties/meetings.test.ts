import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { EntryId } from '../../src/ids.ts'
import { expectOk, foundCasebook, invite } from '../support/casebooks.ts'
import type { MemoryChannel } from '../support/channels.ts'
import { addCase, allEqual, join, type Phone, phoneOf, restarted } from '../support/phones.ts'
import { runs } from '../support/seed.ts'

const COUNT = 3
const step = fc.oneof(
  {
    weight: 4,
    arbitrary: fc.record({ what: fc.constant('write' as const), at: fc.nat(COUNT - 1), isNew: fc.boolean() }),
  },
  {
    weight: 3,
    arbitrary: fc.record({ what: fc.constant('join' as const), at: fc.nat(COUNT - 1), other: fc.nat(COUNT - 1) }),
  },
  { weight: 2, arbitrary: fc.record({ what: fc.constant('cut' as const), afterFrames: fc.nat(30) }) },
  { weight: 1, arbitrary: fc.record({ what: fc.constant('restart' as const), at: fc.nat(COUNT - 1) }) },
  { weight: 2, arbitrary: fc.record({ what: fc.constant('rest' as const) }) },
)

const idsAt = async ({ device: { casebook } }: Phone): Promise<ReadonlySet<EntryId>> => {
  const ids = new Set<EntryId>()
  for (const key of casebook.hashes().keys()) for (const id of await casebook.entryIds(key)) ids.add(id)
  return ids
}

/** Entries of a device that stand on no other one, counted by looking into every copy. */
const onlyAt = async (phone: Phone, phones: readonly Phone[]): Promise<number> => {
  const others = await Promise.all(phones.filter(other => other !== phone).map(idsAt))
  const { casebook } = phone.device
  let count = 0
  for (const key of casebook.hashes().keys())
    for (const { counted } of await casebook.record(key))
      if (counted.entry.by === casebook.device && others.every(ids => !ids.has(counted.id))) count += 1
  return count
}

/** A case, or something more about one that is here. */
const write = async (phone: Phone, number: number, isNew: boolean): Promise<void> => {
  const { casebook } = phone.device
  const [known] = casebook.summaries()
  if (isNew || !known) await addCase(phone, `Invented ${number}`)
  else expectOk(await casebook.save(known.caseId, { kind: 'save', set: { personName: `Renamed ${number}` } }))
}

test('nothing is taken for handed on that stands on no other device, whatever comes and breaks off', async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(step, { maxLength: 25 }), async steps => {
      const founder = await foundCasebook('Ana')
      const phones = [founder, await invite(founder, 'Ben'), await invite(founder, 'Cleo')].map(phoneOf)
      const at = (index: number): Phone => {
        const phone = phones[index]
        if (!phone) throw new Error(`no phone ${index}`)
        return phone
      }
      const lines: MemoryChannel[] = []
      const rest = () => Promise.all(phones.map(phone => phone.until(isAtRest)))
      for (const [number, one] of steps.entries()) {
        if (one.what === 'write') await write(at(one.at), number, one.isNew)
        else if (one.what === 'join' && one.at !== one.other) {
          const [line] = await join(at(one.at), at(one.other))
          lines.push(line)
        } else if (one.what === 'cut') {
          const line = lines.at(-1)
          const from = line?.sent.length ?? 0
          if (line)
            line.onTheWay = frame => {
              if (line.sent.length < from + one.afterFrames) return frame
              line.close()
              return undefined
            }
        } else if (one.what === 'restart') phones[one.at] = await restarted(at(one.at))
        else if (one.what === 'rest') await rest()
        for (const phone of phones) {
          const { entries } = await phone.device.casebook.notHandedOn()
          // Looked at afterwards: what went over meanwhile makes this smaller, never larger.
          expect(entries).toBeGreaterThanOrEqual(await onlyAt(phone, phones))
        }
      }
      await Promise.all(phones.map(({ meetings }) => meetings.close()))
      const all = await Promise.all(phones.map(restarted))
      const [ana, ben, cleo] = [all[0], all[1], all[2]]
      if (!ana || !ben || !cleo) throw new Error('a phone is missing')
      await join(ana, ben)
      await join(ben, cleo)
      for (const phone of all) await phone.until(async () => (await phone.device.casebook.notHandedOn()).entries === 0)
      await Promise.all(all.map(phone => phone.until(allEqual)))
      for (const phone of all) expect(await onlyAt(phone, all)).toBe(0)
      expectOk(await ana.device.casebook.setTitle({ crewName: 'River crew', place: 'Upper Kesse valley' }))
      await ana.until(async () => (await ana.device.casebook.notHandedOn()).entries === 0)
    }),
    runs(25),
  )
})

const isAtRest = (devices: Phone['meetings']['devices']): boolean =>
  devices.every(({ phase }) => phase === 'equal' || phase === 'over')
