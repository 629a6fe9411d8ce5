import { describe, expect, test } from 'vitest'
import { signEntry } from '../../sync/signed-entry.ts'
import { signatureHolds } from '../support/by-hand.ts'
import { carry, expectOk, foundCasebook, heldBy, invite, meet, type TestDevice } from '../support/casebooks.ts'

const place = (name: string) => ({ kind: 'save' as const, set: { place: name } })
const placesOf = async (device: TestDevice, caseId: Parameters<TestDevice['casebook']['view']>[0]) =>
  ((await device.casebook.view(caseId))?.heads.place ?? []).map(({ value }) => value).sort()

/** Ana founded; Ben and Cleo are in; one case that all hold, in which Ben has spoken once. */
const team = async () => {
  const ana = await foundCasebook('Ana')
  const ben = await invite(ana, 'Ben')
  const cleo = await invite(ana, 'Cleo')
  const { caseId } = expectOk(await ben.casebook.addCase(place('Low Ford')))
  await meet(ana.casebook, ben.casebook)
  await meet(ana.casebook, cleo.casebook)
  return { ana, ben, cleo, caseId }
}

describe('a strike', () => {
  test('keeps what is here of the struck device: each one vouches on hearing of it, once, and only for what nobody vouched for', async () => {
    const { ana, ben, cleo, caseId } = await team()
    expectOk(await ben.casebook.save(caseId, place('Mill')))
    await meet(ben.casebook, cleo.casebook)
    expectOk(await ana.casebook.strike(ben.key.device))
    expect(await placesOf(ana, caseId)).toEqual(['Low Ford'])
    // Cleo holds one entry more; on hearing of the strike she vouches for that one only.
    const before = (await heldBy(cleo.casebook)).team?.length ?? 0
    await meet(ana.casebook, cleo.casebook)
    const vouches = (await cleo.casebook.record('team')).filter(({ counted }) => 'vouch' in counted.entry.set)
    expect(vouches.map(({ counted }) => counted.entry.by).sort()).toEqual([ana.key.device, cleo.key.device].sort())
    expect((await heldBy(cleo.casebook)).team).toHaveLength(before + 3)
    expect(await placesOf(cleo, caseId)).toEqual(['Low Ford', 'Mill'])
    expect(await placesOf(ana, caseId)).toEqual(['Low Ford', 'Mill'])
    await meet(ana.casebook, cleo.casebook)
    expect((await heldBy(cleo.casebook)).team).toHaveLength(before + 3)
  })

  test('of the founder’s lost phone leaves everybody else in the crew, and them at work', async () => {
    const { ana, ben, cleo, caseId } = await team()
    await meet(ben.casebook, cleo.casebook)
    expectOk(await ben.casebook.strike(ana.key.device))
    expect(ben.casebook.crew().members.get(cleo.key.device)?.struckBy).toBeNull()
    expect(await placesOf(ben, caseId)).toEqual(['Low Ford'])
    await meet(ben.casebook, cleo.casebook)
    for (const device of [ben, cleo]) {
      expect(device.casebook.crew().members.get(ana.key.device)?.struckBy).not.toBeNull()
      expect(expectOk(await device.casebook.save(caseId, place('Mill'))).counts).toBe(true)
    }
    await invite(cleo, 'Dan')
  })

  test('that would put its own striker out of the crew is refused in words; another one says it', async () => {
    const { ana, ben, cleo } = await team()
    const dan = await invite(ben, 'Dan')
    const before = await heldBy(dan.casebook)
    const refused = await dan.casebook.strike(ben.key.device)
    expect(!refused.ok && refused.failure.type).toBe('let-this-in')
    expect(await heldBy(dan.casebook)).toEqual(before)
    await meet(ben.casebook, ana.casebook)
    await meet(ana.casebook, cleo.casebook)
    expectOk(await cleo.casebook.strike(ben.key.device))
    expect(cleo.casebook.crew().members.get(dan.key.device)?.struckBy).toBeNull()
  })

  test('what comes late from a struck device is kept, shown as come after, and counts once a person vouches', async () => {
    const { ana, ben, cleo, caseId } = await team()
    expectOk(await ana.casebook.strike(ben.key.device))
    // Ben has not heard and goes on.
    const late = expectOk(await ben.casebook.save(caseId, place('Mill')))
    expect(late.counts).toBe(true)
    expect(await meet(ana.casebook, ben.casebook)).toEqual([])
    expect(await placesOf(ana, caseId)).toEqual(['Low Ford'])
    const kept = (await ana.casebook.record(caseId)).find(({ counted }) => counted.id === late.id)
    expect(kept?.notCounting).toBe('came-after-strike')
    // Ben has heard by now: still nothing typed is refused, and it says that it does not count.
    expect(expectOk(await ben.casebook.save(caseId, place('Weir'))).counts).toBe(false)

    await meet(ana.casebook, cleo.casebook)
    expectOk(await cleo.casebook.vouch(ben.key.device, [late.id]))
    await meet(ana.casebook, cleo.casebook)
    expect(await placesOf(ana, caseId)).toEqual(['Low Ford', 'Mill'])
    expect(await placesOf(cleo, caseId)).toEqual(['Low Ford', 'Mill'])
  })

  test('all that does not count is found over the whole casebook, nothing else, with why and who', async () => {
    const { ana, ben, cleo, caseId } = await team()
    const guest = await invite(ana, 'Guest', 'visitor')
    expect(await ana.casebook.notCounting()).toEqual([])
    expectOk(await ana.casebook.strike(ben.key.device, { why: 'left at the ferry', secondName: 'Cleo' }))
    const late = expectOk(await ben.casebook.save(caseId, place('Mill')))
    const founded = expectOk(await ben.casebook.addCase(place('Weir')))
    expectOk(await cleo.casebook.addCase(place('Ford')))
    await meet(ana.casebook, ben.casebook)
    await meet(ana.casebook, cleo.casebook)
    const told = async (device: TestDevice, document?: Parameters<TestDevice['casebook']['notCounting']>[0]) =>
      (await device.casebook.notCounting(document)).map(one => [
        one.document,
        one.entries.map(({ counted, notCounting }) => [counted.id, counted.entry.by, notCounting]),
      ])
    const inFord = [caseId, [[late.id, ben.key.device, 'came-after-strike']]] as const
    const inWeir = [founded.caseId, [[founded.id, ben.key.device, 'came-after-strike']]] as const
    expect(new Map((await told(ana)) as never)).toEqual(new Map([inFord, inWeir] as never))
    expect(await told(ana, caseId)).toEqual([inFord])
    expectOk(await cleo.casebook.vouch(ben.key.device, [late.id]))
    expect(await told(cleo)).toEqual([inWeir])
    // A visitor has written nothing: nobody is reproached with nothing.
    expect((await told(ana)).flat(3)).not.toContain(guest.key.device)
    const said = (await cleo.casebook.record('team')).find(({ counted }) => 'strike' in counted.entry.set)?.counted
    expect(said?.entry.set.strike).toEqual({ device: ben.key.device, secondName: 'Cleo' })
    expect(said?.readable && said.entry.why).toBe('left at the ferry')
  })

  test('re-does the cases in which the struck device spoke, and says so', async () => {
    const { ana, ben, caseId } = await team()
    expectOk(await ben.casebook.save(caseId, { kind: 'save', set: { personName: 'Late Name' } }))
    const derived: string[] = []
    await ana.casebook.settled()
    ana.casebook.subscribe(change => {
      if (change.type === 'derived') derived.push(...change.caseIds)
    })
    expectOk(await ana.casebook.strike(ben.key.device))
    await meet(ana.casebook, ben.casebook)
    await ana.casebook.settled()
    expect(derived).toContain(caseId)
    expect(ana.casebook.summaries()[0]?.name).toBeNull()
    const late = (await ana.casebook.record(caseId)).filter(({ notCounting }) => notCounting !== null)
    expectOk(
      await ana.casebook.vouch(
        ben.key.device,
        late.map(({ counted }) => counted.id),
      ),
    )
    await ana.casebook.settled()
    expect(ana.casebook.summaries()[0]?.name).toBe('Late Name')
  })

  test('and its vouches lie in one write: with the store full nothing of either is there', async () => {
    const { ana, ben, caseId } = await team()
    const before = await heldBy(ana.casebook)
    ana.memory.failWrites({ type: 'storage-full', message: 'no room' })
    const refused = await ana.casebook.strike(ben.key.device)
    expect(!refused.ok && refused.failure.type).toBe('storage-full')
    expect(ana.casebook.crew().members.get(ben.key.device)?.struckBy).toBeNull()
    ana.memory.failWrites(null)
    expect(await heldBy(ana.casebook)).toEqual(before)
    expect(await heldBy((await ana.restart()).casebook)).toEqual(before)
    expect(await placesOf(ana, caseId)).toEqual(['Low Ford'])
  })

  test('renews the secret by one epoch, made by the striker, also when a restart came in between', async () => {
    const { ana, ben } = await team()
    expect(ana.casebook.secrets().map(({ epoch }) => epoch)).toEqual([0])
    expectOk(await ana.casebook.strike(ben.key.device))
    expect(ana.casebook.secrets().map(({ epoch }) => epoch)).toEqual([1, 0])
    const again = await ana.restart()
    expect(again.casebook.secrets()).toEqual(ana.casebook.secrets())
    // The same store as if the device had stopped after the strike was stored and before the secret was.
    const storage = ana.memory.open()
    const first = again.casebook.secrets().find(({ epoch }) => epoch === 0)
    await storage.writeValue(
      'casebook-secrets',
      new TextEncoder().encode(JSON.stringify({ secrets: 1, kept: [first] })),
    )
    expect((await ana.restart()).casebook.secrets().map(({ epoch }) => epoch)).toEqual([1, 0])
  })

  test('of oneself and of a stranger is refused in words', async () => {
    const { ana } = await team()
    const typesOf = [
      await ana.casebook.strike(ana.key.device),
      await ana.casebook.strike((await foundCasebook()).key.device),
    ]
    expect(typesOf.map(result => !result.ok && result.failure.type)).toEqual(['own-device', 'unknown-device'])
  })
})

describe('who may write', () => {
  test('a visitor cannot record, and is told so', async () => {
    const { ana } = await team()
    const guest = await invite(ana, 'Guest', 'visitor')
    const refused = await guest.casebook.addCase(place('Mill'))
    expect(!refused.ok && refused.failure.type).toBe('visitor')
    expect(!refused.ok && refused.failure.message).toMatch(/visitor.*Nothing was saved; what you typed is still there/)
  })

  test('an invited device waits for the team document; then it writes', async () => {
    const ana = await foundCasebook('Ana')
    const ben = await invite(ana, 'Ben')
    const other = await foundCasebook('Other')
    const stranger = await invite(other, 'Stranger')
    expect(ben.casebook.crew().members.size).toBe(2)
    // A team document of another casebook is refused whole.
    const refused = (await carry(stranger.casebook, ben.casebook)).flatMap(report => report.refused)
    expect(new Set(refused.map(({ type }) => type))).toEqual(new Set(['other-case']))
    expect(ben.casebook.crew().members.size).toBe(2)
  })

  test('a founding by a device from which the casebook id was not made is refused', async () => {
    const ana = await foundCasebook('Ana')
    const mallory = await foundCasebook('Mallory')
    const [found] = await mallory.casebook.record('team')
    const value = found?.counted.entry.set.found
    const forged = await invite(ana, 'Ben')
    // Ben, a member, claims to have founded Ana's casebook with his own key.
    const set = { found: { ...(value as object), key: forged.key.publicKey } }
    const draft = { case: ana.casebook.casebookId as never, at: 1, kind: 'save' as const, set, over: [] }
    const signed = expectOk(await signEntry(forged.key, draft))
    expect(signatureHolds(forged.key.publicKey, signed.signed)).toBe(true)
    const report = await ana.casebook.admitEntries('team', [signed.signed])
    expect(report.refused.map(({ type }) => type)).toEqual(['key-mismatch'])
    expect(
      [...ana.casebook.crew().members.values()].filter(({ depth }) => depth === 0).map(({ name }) => name),
    ).toEqual(['Ana'])
  })

  test('inviting with a key that is not that device is refused', async () => {
    const [ana, other] = [await foundCasebook('Ana'), await foundCasebook('Other')]
    const wrong = await ana.casebook.addMember({
      device: other.key.device,
      key: ana.key.publicKey,
      name: 'Other',
      role: 'technician',
    })
    expect(!wrong.ok && wrong.failure.type).toBe('key-mismatch')
  })

  test('who was added and what they wrote may come in one batch, in any order', async () => {
    const { ana, ben } = await team()
    const dan = await invite(ben, 'Dan')
    expectOk(await dan.casebook.moveStock({ movement: { line: 'cushion', place: 'van', amount: 3 } }))
    const ids = await dan.casebook.entryIds('team')
    const entries = await dan.casebook.entries('team', ids.toReversed())
    const report = await ana.casebook.admitEntries('team', entries)
    expect(report.refused).toEqual([])
    expect(ana.casebook.crew().members.get(dan.key.device)?.depth).toBe(2)
    expect(ana.casebook.context().stock.lines.map(({ onHand }) => onHand)).toEqual([3])
  })
})
