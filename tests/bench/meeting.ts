import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { buildApp } from '../field/built-app.ts'
import { onPhone, PAIRING_PAGE, pairUp } from '../field/pairing-phones.ts'
import { Phone } from '../field/phone.ts'
import { Site } from '../field/site.ts'
import { loadWords, median, printTable, ratio, round } from './measure.ts'

const CHANGED = 20
/** A first meeting of 5,000 cases takes half a minute: one run of it, and its size says enough. */
const RUNS: readonly { readonly cases: number; readonly runs: number }[] = [
  { cases: 1000, runs: 3 },
  { cases: 5000, runs: 1 },
]

interface Round {
  readonly beganMs: number
  readonly endedMs: number
  readonly bytes: number
  /** The same bytes, as they are, over the same data channel. */
  readonly rawMs: number
}

/** Both rounds of one meeting on the line that stands, then as many bytes raw on the same line; then they part. */
const meetAndSendRaw = async (one: Page, other: Page): Promise<Round> => {
  const [here, there] = await Promise.all([onPhone(one, 'meet'), onPhone(other, 'meet')])
  for (const { status } of [here, there]) if (status !== 'equal') throw new Error(`ended ${status}`)
  const bytes = here.bytesSent + here.bytesReceived
  await onPhone(other, 'expectRaw', bytes)
  const beganMs = await onPhone(one, 'sendRaw', bytes)
  const arrivedMs = await onPhone(other, 'rawArrived')
  if (arrivedMs === undefined) throw new Error('nothing was expected')
  for (const page of [one, other]) await onPhone(page, 'leave')
  return {
    beganMs: Math.min(here.beganMs, there.beganMs),
    endedMs: Math.max(here.endedMs, there.endedMs),
    bytes,
    rawMs: arrivedMs - beganMs,
  }
}
const msOf = ({ beganMs, endedMs }: Round): number => endedMs - beganMs

const measure = async (site: Site, cases: number) => {
  const phones = [await Phone.open(), await Phone.open()] as const
  try {
    const open = async (phone: Phone): Promise<Page> => {
      await phone.context.grantPermissions(['camera'])
      const page = await phone.openTab(site.address)
      await page.getByRole('heading', { name: 'Open', exact: true }).waitFor()
      return page
    }
    const [ana, ben] = [await open(phones[0]), await open(phones[1])]
    await onPhone(ana, 'found', cases)
    const answer = await onPhone(ben, 'readOffer', await onPhone(ana, 'showOffer'))
    const firstCase = onPhone(ben, 'untilCases', 1)
    const readMs = await onPhone(ana, 'readAnswer', answer)
    const first = await meetAndSendRaw(ana, ben)
    const pairingMs = (await firstCase) - readMs

    const changed = (await onPhone(ana, 'caseIds')).slice(0, CHANGED)
    for (const [index, caseId] of changed.entries())
      await onPhone(index % 2 === 0 ? ana : ben, 'record', caseId, { personName: `Renamed ${index}` }, false)
    await pairUp(ben, ana)
    const second = await meetAndSendRaw(ben, ana)
    return { pairingMs, first, second }
  } finally {
    for (const phone of phones) await phone.close()
  }
}

/** Meetings of two browsers over WebRTC beside the same bytes sent raw over the same data channel. */
export const run = async (): Promise<void> => {
  const folder = await mkdtemp(join(tmpdir(), 'outspoke-bench-meeting-'))
  await buildApp({ root: PAIRING_PAGE, outDir: folder })
  const site = await Site.open(folder)
  try {
    const rows: Record<string, string | number>[] = []
    const pairing: number[] = []
    for (const { cases, runs } of RUNS) {
      const measured: Awaited<ReturnType<typeof measure>>[] = []
      for (let turn = 0; turn < runs; turn += 1) measured.push(await measure(site, cases))
      pairing.push(...measured.map(({ pairingMs }) => pairingMs))
      const row = (what: string, rounds: readonly Round[]) => {
        const [ms, rawMs] = [median(rounds.map(msOf)), median(rounds.map(round => round.rawMs))]
        return {
          cases,
          what,
          runs,
          KiB: round(median(rounds.map(({ bytes }) => bytes)) / 1024),
          'ms median': round(ms),
          'ms worst': round(Math.max(...rounds.map(msOf))),
          'raw ms': round(rawMs),
          'exchange to raw': ratio(ms, rawMs),
          'ms a case': round(ms / (what === 'first' ? cases : CHANGED), 2),
        }
      }
      const [firsts, seconds] = [measured.map(({ first }) => first), measured.map(({ second }) => second)]
      rows.push(row('first', firsts), row(`${CHANGED} changed`, seconds))
      const [first, second] = [median(firsts.map(msOf)), median(seconds.map(msOf))]
      console.log(
        `${cases} cases: the first meeting takes ${ratio(first, second)} the time of one with ${CHANGED} changes`,
      )
    }
    printTable(`Two browsers over WebRTC, one entry a case, sealed stores on disk (${loadWords()})`, rows)
    printTable('Two codes: from the answer read to the first case on the other phone', [
      { runs: pairing.length, 'ms median': round(median(pairing)), 'ms worst': round(Math.max(...pairing)) },
    ])
  } finally {
    await site.stop()
    await rm(folder, { recursive: true })
  }
}
