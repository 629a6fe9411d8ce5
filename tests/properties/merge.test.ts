import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { CaseId, EntryId } from '../../src/ids.ts'
import type { DocumentKey } from '../../sync/exchange/replica.ts'
import { carry, expectOk, foundCasebook, heldBy, invite, type TestDevice, TODAY } from '../support/casebooks.ts'
import { runs } from '../support/seed.ts'

/** What happens on the devices of a crew that is apart. Numbers pick a device, a case, a message, as there are. */
type Step =
  | { readonly do: 'save'; readonly by: number; readonly on: number; readonly width: number; readonly over: boolean }
  | { readonly do: 'note'; readonly by: number; readonly on: number; readonly text: string }
  | { readonly do: 'send'; readonly by: number; readonly on: number; readonly to: number; readonly all: boolean }
  | { readonly do: 'arrive'; readonly message: number; readonly at: number; readonly cut: number }
  | { readonly do: 'restart'; readonly by: number }
  | { readonly do: 'strike'; readonly by: number; readonly who: number }

const pick = fc.nat(1_000)
const step: fc.Arbitrary<Step> = fc.oneof(
  {
    weight: 4,
    arbitrary: fc.record({
      do: fc.constant('save' as const),
      by: pick,
      on: pick,
      width: fc.integer({ min: 300, max: 500 }),
      over: fc.boolean(),
    }),
  },
  {
    weight: 2,
    arbitrary: fc.record({
      do: fc.constant('note' as const),
      by: pick,
      on: pick,
      text: fc.string({ minLength: 1, maxLength: 30, unit: 'binary' }),
    }),
  },
  {
    weight: 4,
    arbitrary: fc.record({ do: fc.constant('send' as const), by: pick, on: pick, to: pick, all: fc.boolean() }),
  },
  {
    weight: 5,
    arbitrary: fc.record({
      do: fc.constant('arrive' as const),
      message: pick,
      at: pick,
      cut: fc.constantFrom(0, 0, 0, 1, 30),
    }),
  },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('restart' as const), by: pick }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('strike' as const), by: pick, who: pick }) },
)

interface Message {
  readonly key: DocumentKey
  readonly update: Uint8Array
}

const at = <Value>(values: readonly Value[], index: number): Value => {
  const value = values[index % values.length]
  if (value === undefined) throw new Error('nothing to pick from')
  return value
}

/** Updates both ways, then whatever is still missing as entries, the team document first: the end of every exchange. */
const meetFully = async (a: TestDevice, b: TestDevice): Promise<void> => {
  for (const [from, to] of [
    [a, b],
    [b, a],
  ] as const) {
    await carry(from.casebook, to.casebook)
    for (const key of ['team', ...from.casebook.hashes().keys()] as DocumentKey[]) {
      const here = new Set(await to.casebook.entryIds(key))
      const missing = (await from.casebook.entryIds(key)).filter(id => !here.has(id))
      if (missing.length > 0) await to.casebook.admitEntries(key, await from.casebook.entries(key, missing))
    }
  }
}

const play = async (deviceCount: number, steps: readonly Step[]) => {
  const ana = await foundCasebook('Ana')
  const devices = [ana]
  for (let index = 1; index < deviceCount; index += 1) devices.push(await invite(ana, `Device ${index}`))
  const cases: CaseId[] = []
  const written: { readonly caseId: CaseId; readonly id: EntryId; readonly by: TestDevice['key']['device'] }[] = []
  for (const device of devices.slice(0, 2)) {
    const { caseId, id } = expectOk(await device.casebook.addCase({ kind: 'save', set: { personName: device.name } }))
    cases.push(caseId)
    written.push({ caseId, id, by: device.key.device })
  }
  for (const device of devices) for (const other of devices) if (other !== device) await meetFully(device, other)

  const messages: Message[] = []
  for (const one of steps) {
    if (one.do === 'save' || one.do === 'note') {
      const { casebook, key } = at(devices, one.by)
      const caseId = at(cases, one.on)
      const seen = (await casebook.view(caseId))?.heads.hipWidthMm?.map(({ id }) => id) ?? []
      const statement =
        one.do === 'save'
          ? { set: { hipWidthMm: { typed: one.width, unit: 'mm' } }, over: one.over ? seen : [] }
          : { set: { goals: `${one.text}.` } }
      const saved = await casebook.save(caseId, { kind: 'save', ...statement })
      if (saved.ok) written.push({ caseId, id: saved.value.id, by: key.device })
    } else if (one.do === 'send') {
      const { casebook } = at(devices, one.by)
      const key = at(['team', ...cases] as DocumentKey[], one.on)
      const vector = one.all ? new Uint8Array([0]) : await at(devices, one.to).casebook.stateVector(key)
      messages.push({ key, update: await casebook.updateSince(key, vector) })
    } else if (one.do === 'arrive' && messages.length > 0) {
      const { key, update } = at(messages, one.message)
      await at(devices, one.at).casebook.admitUpdate(key, update.slice(0, update.length - one.cut))
    } else if (one.do === 'restart') {
      const index = one.by % devices.length
      devices[index] = await at(devices, index).restart()
    } else if (one.do === 'strike') {
      await at(devices, one.by).casebook.strike(at(devices, one.who).key.device)
    }
  }
  // All meet all, twice: whoever heard of a strike last has vouched, and that has gone round.
  for (let round = 0; round < 2; round += 1)
    for (const device of devices) for (const other of devices) if (other !== device) await meetFully(device, other)
  return { devices, cases, written }
}

test('any order, delay, repetition and cut of updates over 3 to 5 devices ends with the same entries, views and outcomes, and nothing written is lost', async () => {
  let saves = 0
  await fc.assert(
    fc.asyncProperty(
      fc.integer({ min: 3, max: 5 }),
      fc.array(step, { minLength: 12, maxLength: 40, size: 'max' }),
      async (count, steps) => {
        const { devices, cases, written } = await play(count, steps)
        saves += written.length
        const [first, ...others] = devices
        if (!first) throw new Error('no device')
        const held = await heldBy(first.casebook)
        for (const { caseId, id } of written) expect(held[caseId]).toContain(id)
        const told = async ({ casebook }: TestDevice) => ({
          views: await Promise.all(cases.map(caseId => casebook.view(caseId))),
          outcomes: JSON.stringify(await Promise.all(cases.map(caseId => casebook.outcome(caseId, TODAY)))),
          crew: casebook.crew(),
          context: casebook.context(),
        })
        const expected = await told(first)
        for (const other of others) {
          expect(await heldBy(other.casebook)).toEqual(held)
          expect(await told(other)).toEqual(expected)
        }
        const restarted = await first.restart()
        expect(await heldBy(restarted.casebook)).toEqual(held)
        expect(await told(restarted)).toEqual(expected)
        // What was written by a device that nobody struck counts.
        for (const { caseId, id, by } of written) {
          const recorded = (await first.casebook.record(caseId)).find(({ counted }) => counted.id === id)
          if (first.casebook.crew().members.get(by)?.struckBy === null) expect(recorded?.notCounting).toBeNull()
        }
      },
    ),
    runs(25),
  )
  expect(saves).toBeGreaterThan(100)
}, 600_000)
