import { describe, expect, test } from 'vitest'
import { deviceIdSchema } from '../../src/ids.ts'
import { signEntry } from '../../sync/signed-entry.ts'
import { signatureHolds } from '../support/by-hand.ts'
import { hashedId } from '../support/case-entries.ts'
import { expectOk, foundCasebook, invite, meet, TODAY } from '../support/casebooks.ts'

const place = (name: string) => ({ kind: 'save' as const, set: { place: name } })

describe('a save', () => {
  test('is one signed entry that says what was said, by whom, when, over what and why, and Node accepts its signature', async () => {
    const ana = await foundCasebook('Ana')
    const { caseId, id: first } = expectOk(await ana.casebook.addCase(place('Low Ford')))
    const { id } = expectOk(
      await ana.casebook.save(caseId, { kind: 'settle', set: { place: 'Mill' }, over: [first], why: 'asked again' }),
    )
    const [signed] = await ana.casebook.entries(caseId, [id])
    if (!signed) throw new Error('no entry')
    const text = Buffer.from(signed.subarray(64)).toString()
    expect(JSON.parse(text)).toEqual({
      v: 1,
      case: caseId,
      by: ana.key.device,
      at: 1_790_000_000_000,
      kind: 'settle',
      set: { place: 'Mill' },
      over: [first],
      why: 'asked again',
    })
    expect(id).toBe(hashedId(text))
    expect(signatureHolds(ana.key.publicKey, signed)).toBe(true)
  })

  const bad: readonly [string, Record<string, unknown>, string, string | undefined][] = [
    ['an unknown field', { rideQuality: 1 }, 'unknown-field', 'rideQuality'],
    ['a field of the team document', { strike: {} }, 'unknown-field', 'strike'],
    ['a key __proto__', JSON.parse('{"__proto__": 1}'), 'unknown-field', '__proto__'],
    ['a name that every object inherits', { constructor: 1 }, 'unknown-field', 'constructor'],
    ['a unit of another quantity', { hipWidthMm: { typed: 400, unit: 'kg' } }, 'invalid-value', 'hipWidthMm.unit'],
    ['a number that is none', { hipWidthMm: { typed: Number.NaN, unit: 'mm' } }, 'invalid-value', 'hipWidthMm.typed'],
    ['a date that is none', { referredOn: '2026-02-30' }, 'invalid-value', 'referredOn'],
    ['an empty text', { place: '  ' }, 'invalid-value', 'place'],
    ['nothing at all', {}, 'nothing-said', undefined],
  ]
  test.each(bad)('of %s is refused in words that name it; nothing is written', async (_, set, type, where) => {
    const ana = await foundCasebook('Ana')
    const { caseId } = expectOk(await ana.casebook.addCase(place('Low Ford')))
    const before = await ana.casebook.entryIds(caseId)
    const refused = await ana.casebook.save(caseId, { kind: 'save', set })
    expect(!refused.ok && refused.failure).toMatchObject({ type, ...(where === undefined ? {} : { where }) })
    expect(!refused.ok && refused.failure.message).toContain('what you typed is still there')
    expect(await ana.casebook.entryIds(caseId)).toEqual(before)
  })

  test('of 17 KiB is refused with the limit; 8.5 Ki letters of two bytes each are 17 KiB', async () => {
    const ana = await foundCasebook('Ana')
    const long = { goals: 'a'.repeat(900), transport: 'b'.repeat(390) }
    const { caseId } = expectOk(await ana.casebook.addCase({ kind: 'save', set: long }))
    const over = Array.from({ length: 600 }, (_, index) => hashedId(`entry ${index}`)) as never[]
    for (const why of ['a'.repeat(1_990), '\u00e9'.repeat(1_990)]) {
      const refused = await ana.casebook.save(caseId, { kind: 'settle', set: long, over, why })
      expect(!refused.ok && refused.failure.type).toBe('too-long')
      expect(!refused.ok && refused.failure.message).toContain('16384')
    }
    expect(await ana.casebook.entryIds(caseId)).toHaveLength(1)
  })

  test('for a case that is not on this device is refused', async () => {
    const ana = await foundCasebook('Ana')
    const refused = await ana.casebook.save(hashedId('no case') as never, place('Mill'))
    expect(!refused.ok && refused.failure.type).toBe('unknown-case')
  })

  test('hole 6: fields of one form with different statements seen are saved apart, so nothing unseen is overridden', async () => {
    const ana = await foundCasebook('Ana')
    const ben = await invite(ana, 'Ben')
    const { caseId, id: first } = expectOk(
      await ana.casebook.addCase({ kind: 'save', set: { place: 'Low Ford', household: 'four' } }),
    )
    await meet(ana.casebook, ben.casebook)
    // While Ana types, Ben's form comes in; only its place was on her screen.
    const { id: second } = expectOk(
      await ben.casebook.save(caseId, { kind: 'save', set: { place: 'Mill', household: 'nine' }, over: [first] }),
    )
    await meet(ana.casebook, ben.casebook)
    expectOk(await ana.casebook.save(caseId, { kind: 'save', set: { place: 'Weir' }, over: [first, second] }))
    expectOk(await ana.casebook.save(caseId, { kind: 'save', set: { household: 'five' }, over: [first] }))
    const view = await ana.casebook.view(caseId)
    expect(view?.values.place).toBe('Weir')
    const open = view?.differences.find(({ field }) => field === 'household')
    expect(open?.options.map(({ value }) => value).sort()).toEqual(['five', 'nine'])
  })

  test('hole 7: a risk is not lowered by a form saved later without the box, only by settling or testing again with a reason', async () => {
    const ana = await foundCasebook('Ana')
    const { caseId, id: first } = expectOk(await ana.casebook.addCase({ kind: 'save', set: { presentSore: true } }))
    const values = async () => (await ana.casebook.view(caseId))?.heads.presentSore?.map(({ value }) => value).sort()
    const { id: second } = expectOk(
      await ana.casebook.save(caseId, { kind: 'save', set: { presentSore: false }, over: [first] }),
    )
    expect(await values()).toEqual([false, true])
    const over = [first, second]
    expectOk(
      await ana.casebook.save(caseId, {
        kind: 'retest',
        set: { presentSore: false },
        over,
        why: 'skin looked at: closed',
      }),
    )
    expect(await values()).toEqual([false])
  })

  test('hole 8: what a later version wrote over a width is marked, kept and handed on byte for byte', async () => {
    const ana = await foundCasebook('Ana')
    const ben = await invite(ana, 'Ben')
    const { caseId, id: first } = expectOk(
      await ana.casebook.addCase({ kind: 'save', set: { hipWidthMm: { typed: 400, unit: 'mm' } } }),
    )
    // A later version knows a unit that this one does not, and a kind of entry.
    const later = expectOk(
      await signEntry(ben.key, {
        case: caseId,
        at: 5,
        kind: 'save',
        set: { hipWidthMm: { typed: 4.1, unit: 'spans' } },
        over: [first],
      }),
    )
    expect((await ana.casebook.admitEntries(caseId, [later.signed])).added).toEqual([later.id])
    const view = await ana.casebook.view(caseId)
    expect(view?.newer).toEqual(['hipWidthMm'])
    expect(view?.heads.hipWidthMm?.map(({ id }) => id)).toEqual([first])
    await meet(ana.casebook, ben.casebook)
    expect(await ben.casebook.entries(caseId, [later.id])).toEqual([later.signed])
    expect(await ben.casebook.view(caseId)).toEqual(view)
  })

  test('what a visitor signs all the same is kept, and counts in no case', async () => {
    const ana = await foundCasebook('Ana')
    const guest = await invite(ana, 'Guest', 'visitor')
    const { caseId } = expectOk(await ana.casebook.addCase(place('Low Ford')))
    const own = expectOk(
      await signEntry(guest.key, { case: caseId, at: 5, kind: 'save', set: { place: 'Mill' }, over: [] }),
    )
    expect((await ana.casebook.admitEntries(caseId, [own.signed])).added).toEqual([own.id])
    expect((await ana.casebook.view(caseId))?.values.place).toBe('Low Ford')
    const [mine] = (await ana.casebook.record(caseId)).filter(({ counted }) => counted.id === own.id)
    expect(mine?.notCounting).toBe('visitor')
  })
})

describe('holes 1 and 5 in the casebook', () => {
  test('no sequence of saves over anything leaves a field without a statement', async () => {
    const ana = await foundCasebook('Ana')
    const { caseId, id: first } = expectOk(await ana.casebook.addCase(place('Low Ford')))
    const { id: second } = expectOk(await ana.casebook.save(caseId, { ...place('Mill'), over: [first] }))
    expectOk(await ana.casebook.save(caseId, { ...place('Low Ford'), over: [first, second] }))
    expect((await ana.casebook.view(caseId))?.heads.place).toHaveLength(1)
  })

  test('a record, a view or bytes handed out cannot be used to change what is stored', async () => {
    const ana = await foundCasebook('Ana')
    const { caseId, id } = expectOk(await ana.casebook.addCase(place('Low Ford')))
    const [recorded] = await ana.casebook.record(caseId)
    expect(() => Object.assign(recorded?.counted.entry.set ?? {}, { place: 'Elsewhere' })).toThrow(TypeError)
    const [signed] = await ana.casebook.entries(caseId, [id])
    signed?.fill(0)
    expect((await ana.casebook.view(caseId))?.values.place).toBe('Low Ford')
    expect((await ana.casebook.entries(caseId, [id]))[0]?.some(byte => byte !== 0)).toBe(true)
    expect(await ana.casebook.outcome(caseId, TODAY)).toMatchObject({ hipWidthMm: null })
    expect(deviceIdSchema.safeParse(recorded?.counted.entry.by).success).toBe(true)
  })
})
