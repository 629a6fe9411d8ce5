import { createHash } from 'node:crypto'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { toCalendarDate } from '../../src/calendar-date.ts'
import { type CaseId, photoHashSchema } from '../../src/ids.ts'
import { FRAME, framed, LOBBY } from '../../sync/transport/frames.ts'
import type { Place, Presence } from '../../sync/transport/presence.ts'
import { expectOk, foundCasebook, invite } from '../support/casebooks.ts'
import { allEqual, isOver, join, type Phone, phoneOf } from '../support/phones.ts'
import { runs } from '../support/seed.ts'

const told = ({ meetings }: Phone, isSo: (others: Presence['others']) => boolean): Promise<void> =>
  new Promise(resolve => {
    const look = (): void => {
      if (!isSo(meetings.presence.others)) return
      stop()
      resolve()
    }
    const stop = meetings.presence.subscribe(look)
    look()
  })

/** Ana and Ben, both with one case, connected; and the line between them, seen from Ana. */
const connected = async () => {
  const founder = await foundCasebook('Ana')
  const [ana, ben] = [phoneOf(founder), phoneOf(await invite(founder, 'Ben'))]
  const set = { personName: 'Invented One', photoAgreed: true }
  const { caseId } = expectOk(await founder.casebook.addCase({ kind: 'save', set }))
  const [line] = await join(ana, ben)
  await ben.until(() => ben.device.casebook.hashes().has(caseId))
  await Promise.all([ana.until(allEqual), ben.until(allEqual)])
  return { ana, ben, caseId, line }
}
const open = (caseId: CaseId, section = 'measuring', field: string | null = null): Place => ({ caseId, section, field })

describe('presence', () => {
  it('tells the others what is open and which field is filled in, by the device that the gate proved', async () => {
    const { ana, ben, caseId } = await connected()
    ana.meetings.presence.here(open(caseId))
    await told(ben, others => others.length === 1)
    expect(ben.meetings.presence.others).toEqual([
      { device: ana.device.key.device, caseId, section: 'measuring', field: null },
    ])
    ana.meetings.presence.at(caseId, 'hipWidthMm')
    await told(ben, ([other]) => other?.field === 'hipWidthMm')
    ana.meetings.presence.here({ caseId: null, section: null, field: null })
    await told(ben, others => others.length === 0)
  })

  it('is told to whoever comes later, and is gone with the connection', async () => {
    const { ana, ben, caseId, line } = await connected()
    const cleo = phoneOf(await invite(ana.device, 'Cleo'))
    ana.meetings.presence.here(open(caseId))
    await join(ana, cleo)
    await told(cleo, others => others.length === 1)
    await told(ben, others => others.length === 1)
    line.close()
    await ben.until(isOver)
    expect(ben.meetings.presence.others).toEqual([])
    expect(cleo.meetings.presence.others).toHaveLength(1)
  })

  it('stays right when a device comes a second time', async () => {
    const { ana, ben, caseId } = await connected()
    ana.meetings.presence.here(open(caseId))
    await told(ben, others => others.length === 1)
    await join(ana, ben)
    await told(ben, others => others.length === 1)
    ana.meetings.presence.here(open(caseId, 'choosing'))
    await told(ben, ([other]) => other?.section === 'choosing')
  })

  it('says nothing of a case that is not shared: one that is being erased', async () => {
    const { ana, ben, caseId } = await connected()
    expectOk(await ana.device.casebook.eraseCase(caseId))
    ana.meetings.presence.here(open(caseId))
    const other = expectOk(await ana.device.casebook.addCase({ kind: 'save', set: { personName: 'Another' } })).caseId
    ana.meetings.presence.here(open(other))
    await told(ben, others => others.length === 1)
    expect(ben.meetings.presence.others[0]?.caseId).toBe(other)
  })

  it('passes over whatever is no place, of any length, and goes on', async () => {
    const { ana, ben, caseId, line } = await connected()
    const say = (words: Uint8Array): void => line.send(framed(FRAME.lobby, Uint8Array.from([LOBBY.presence, ...words])))
    const text = (value: unknown): Uint8Array => new TextEncoder().encode(JSON.stringify(value))
    const seen: Presence['others'][] = []
    ben.meetings.presence.subscribe(() => seen.push(ben.meetings.presence.others))
    let count = 0
    fc.assert(
      fc.property(fc.oneof(fc.uint8Array({ maxLength: 600 }), fc.json().map(text)), bytes => {
        say(bytes)
        count += 1
      }),
      { ...runs(2_000) },
    )
    for (const wrong of [
      { ...open(caseId), caseId: 'no id' },
      { ...open(caseId), field: '<b>hip</b>' },
      { ...open(caseId), section: 'x'.repeat(41) },
      { ...open(caseId), section: 'A line\nof words' },
      { ...open(caseId), padding: 'x'.repeat(600) },
      [open(caseId)],
      null,
    ])
      say(text(wrong))
    // A name in it is nobody's: the device stays the one of the connection.
    say(text({ ...open(caseId, 'fitting'), device: ben.device.key.device, name: 'Somebody else' }))
    await told(ben, ([other]) => other?.section === 'fitting')
    expect(count).toBeGreaterThanOrEqual(2_000)
    expect(seen).toEqual([[{ device: ana.device.key.device, ...open(caseId, 'fitting') }]])
    expect(ben.meetings.devices[0]?.phase).toBe('equal')
  })
})

describe('a photo that is not here', () => {
  it('is asked for from those who are connected, and kept', async () => {
    const { ana, ben, caseId } = await connected()
    const cleo = phoneOf(await invite(ana.device, 'Cleo'))
    await join(ben, cleo)
    await cleo.until(() => cleo.device.casebook.hashes().has(caseId))
    const bytes = Uint8Array.from({ length: 50_000 }, (_, index) => (index * 31) & 255)
    const on = toCalendarDate('2026-11-25')
    const { hash } = expectOk(await ana.device.casebook.addPhoto(caseId, { bytes, shows: 'chair', on }))
    expect(hash).toBe(photoHashSchema.parse(createHash('sha256').update(bytes).digest('base64url')))
    const names = async (phone: Phone): Promise<boolean> =>
      (await phone.device.casebook.record(caseId)).some(({ counted }) => 'photo' in counted.entry.set)
    await cleo.until(() => names(cleo))
    // Cleo is connected to Ben alone, who has not asked for it yet.
    expect(await cleo.meetings.askForPhoto(caseId, hash)).toBe(false)
    expect(await ben.meetings.askForPhoto(caseId, hash)).toBe(true)
    expect(await cleo.meetings.askForPhoto(caseId, hash)).toBe(true)
    expect(await cleo.device.casebook.photo(caseId, hash)).toEqual(bytes)
  })
})
