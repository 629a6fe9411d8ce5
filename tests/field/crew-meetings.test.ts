import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest'
import { fortyForms } from '../bench/realistic-cases.ts'
import { runs } from '../support/seed.ts'
import { seededRandom } from '../support/seeded-random.ts'
import { buildApp } from './built-app.ts'
import { onPhone, PAIRING_PAGE, pairUp } from './pairing-phones.ts'
import { Phone } from './phone.ts'
import { Site } from './site.ts'

let folder: string
let site: Site
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'outspoke-crew-'))
  await buildApp({ root: PAIRING_PAGE, outDir: folder })
  site = await Site.open(folder)
})
afterAll(async () => {
  await site.stop()
  await rm(folder, { recursive: true })
})

interface Device {
  readonly phone: Phone
  page: Page
}
let devices: Device[]
beforeEach(() => {
  devices = []
})
afterEach(async () => {
  for (const { phone } of devices) await phone.close()
})

const openPage = async (phone: Phone): Promise<Page> => {
  // What scanning a code asks for; it also lets the browser know its own addresses where no route leads out.
  await phone.context.grantPermissions(['camera'])
  const page = await phone.openTab(site.address)
  await page.getByRole('heading', { name: 'Open', exact: true }).waitFor()
  return page
}
/** A browser of its own, with a profile of its own: devices share neither store nor channel from tab to tab. */
const newDevice = async (): Promise<Device> => {
  const phone = await Phone.open()
  const device = { phone, page: await openPage(phone) }
  devices.push(device)
  return device
}
const founder = async (cases: number): Promise<Device> => {
  const device = await newDevice()
  await onPhone(device.page, 'found', cases)
  return device
}

/** Two meet for one round, and part. */
const meet = async (one: Device, other: Device, cut: { readonly cutAfterFrames?: number } = {}) => {
  await pairUp(one.page, other.page)
  const rounds = await Promise.all([onPhone(one.page, 'meet', cut), onPhone(other.page, 'meet')])
  for (const { page } of [one, other]) {
    // By WebRTC: the library counts nobody from tab to tab.
    expect((await onPhone(page, 'connections')).bc).toBe(0)
    await onPhone(page, 'leave')
  }
  return rounds
}
const hashesOf = ({ page }: Device) => onPhone(page, 'hashes')
const areEqual = async (): Promise<boolean> => {
  const all = await Promise.all(devices.map(hashesOf))
  return all.every(hashes => JSON.stringify(hashes) === JSON.stringify(all[0]))
}

const { seed } = runs(1)

describe('a crew that was apart', () => {
  it.each([
    { count: 2, edits: 10 },
    { count: 5, edits: 10 },
  ])(
    'of $count phones meets pairwise with links cut, and ends with equal hashes and outcomes',
    async ({ count, edits }) => {
      const random = seededRandom(seed + count)
      const upTo = (most: number): number => Math.floor(random() * most)
      const ana = await founder(0)
      await onPhone(ana.page, 'setCatalogue')
      /** The first forms of a case: from the referral to the measures. */
      const forms = Array.from({ length: 4 }, () => fortyForms(random).slice(0, 13))
      const cases = await Promise.all(forms.map(([first]) => onPhone(ana.page, 'begin', first ?? {})))
      while (devices.length < count) {
        await newDevice()
        for (const { status } of await meet(ana, devices.at(-1) ?? ana)) expect(status).toBe('equal')
      }
      // Who came early hears of those who came later: nobody is let in who is not known.
      for (const device of devices.slice(1, -1)) await meet(ana, device)

      // Apart: the same cases on every phone, and new ones on each.
      for (const { page } of devices) {
        const own = [...cases, await onPhone(page, 'begin', { personName: `Invented ${upTo(1e6)}` })]
        for (let edit = 0; edit < edits; edit += 1) {
          const caseId = own[upTo(own.length)]
          const form = forms[upTo(forms.length)]?.[upTo(13)]
          if (caseId && form) await onPhone(page, 'record', caseId, form, random() < 0.3)
        }
      }
      expect(await areEqual()).toBe(false)

      let [meetings, cuts] = [0, 0]
      for (; !(await areEqual()); meetings += 1) {
        expect(meetings).toBeLessThan(12 * count)
        const place = upTo(count)
        const one = devices[place]
        const other = devices[(place + 1 + upTo(count - 1)) % count]
        if (!one || !other) throw new Error('no such phone')
        // Two lines of three break, in the middle of what goes over them.
        const rounds = await meet(one, other, meetings % 3 === 2 ? {} : { cutAfterFrames: 1 + upTo(5) })
        if (rounds.some(({ status }) => status === 'broken-off')) cuts += 1
        for (const { status, refused } of rounds) {
          expect(['equal', 'broken-off']).toContain(status)
          expect(refused).toEqual([])
        }
      }
      console.log(`${count} phones, seed ${seed}: equal after ${meetings} meetings, ${cuts} lines cut halfway`)
      expect(cuts).toBeGreaterThan(0)

      const outcomes = await Promise.all(devices.map(({ page }) => onPhone(page, 'outcomes')))
      expect(Object.keys(outcomes[0] ?? {})).toHaveLength(4 + count)
      for (const each of outcomes) expect(each).toEqual(outcomes[0])
      // The control: they say something, and not the same of everybody.
      expect(new Set(Object.values(outcomes[0] ?? {})).size).toBeGreaterThanOrEqual(4)
      for (const { phone } of devices) expect(phone.trouble).toEqual([])
    },
  )
})

describe('a large casebook', () => {
  const CASES = 5000
  it(`of ${CASES} cases: a phone killed while it joins goes on from there, and 20 changed cases are 20 documents`, async () => {
    const ana = await founder(CASES)
    const ben = await newDevice()
    await pairUp(ana.page, ben.page)
    const [atAna] = [onPhone(ana.page, 'meet'), onPhone(ben.page, 'meet').catch(() => 'killed')]
    await onPhone(ben.page, 'untilCases', CASES / 4)
    await ben.phone.kill()
    const brokenOff = await atAna
    expect(brokenOff.status).toBe('broken-off')
    await onPhone(ana.page, 'leave')

    await ben.phone.start()
    ben.page = await openPage(ben.phone)
    const kept = (await onPhone(ben.page, 'caseIds')).length
    console.log(
      `killed while joining: ${brokenOff.entriesSent} entries were acknowledged, ${kept} cases are there afterwards`,
    )
    // Every case has one entry; the crew list has two.
    expect(kept + 2).toBeGreaterThanOrEqual(brokenOff.entriesSent)
    expect(kept).toBeGreaterThanOrEqual(CASES / 4)
    expect(kept).toBeLessThan(CASES)

    const [, resumed] = await meet(ana, ben)
    expect(resumed).toMatchObject({ status: 'equal', entriesReceived: CASES - kept })
    expect(await hashesOf(ben)).toEqual(await hashesOf(ana))

    const changed = (await onPhone(ana.page, 'caseIds')).filter((_, index) => index % (CASES / 20) === 0)
    for (const [index, caseId] of changed.entries())
      await onPhone((index % 2 === 0 ? ana : ben).page, 'record', caseId, { personName: `Renamed ${index}` }, false)
    const [first, second] = await meet(ben, ana)
    expect(changed).toHaveLength(20)
    for (const round of [first, second])
      expect(round).toMatchObject({ status: 'equal', entriesReceived: 10, entriesSent: 10, changedDocuments: 10 })
    console.log(`20 of ${CASES} cases changed: ${first.bytesSent + first.bytesReceived} bytes both ways`)
    expect(await hashesOf(ben)).toEqual(await hashesOf(ana))
    for (const { phone } of devices) expect(phone.trouble).toEqual([])
  })
})
