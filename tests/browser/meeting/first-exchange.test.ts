import { expect as axe } from '@open-wc/testing'
import { html } from 'lit'
import { describe, expect, it } from 'vitest'
import '../../../components/meeting/spoke-first-exchange.ts'
import type { LastMet } from '../../../sync/storage/last-met.ts'
import type { Meetings, MetDevice } from '../../../sync/transport/meetings.ts'
import { bramsPhone, noorsPhone, type Phone, show, TODAY, until, wordsOf } from '../case/practice-case.ts'

/** What is known of meetings, told step by step. */
class Told implements Pick<Meetings, 'devices' | 'lastMet' | 'lastMetRead' | 'subscribe'> {
  devices: readonly MetDevice[] = []
  lastMet: ReadonlyMap<MetDevice['device'], LastMet> = new Map()
  readonly lastMetRead: Promise<void>
  #listener: () => void = () => undefined

  constructor(lastMetRead: Promise<void>) {
    this.lastMetRead = lastMetRead
  }

  subscribe(listener: () => void): () => void {
    this.#listener = listener
    return () => undefined
  }

  tell(part: Partial<Pick<Told, 'devices' | 'lastMet'>>): void {
    Object.assign(this, part)
    this.#listener()
  }
}

const on = (phone: Phone, told: Told): Promise<HTMLElement> =>
  show(
    { ...phone, app: { ...phone.app, practice: false, meetings: told as unknown as Meetings } },
    html`<spoke-first-exchange></spoke-first-exchange>`,
  )

describe('the first exchange of a device that was let in', () => {
  it('says how far it has come, that it broke off, and nothing once it came to its end', async () => {
    const noor = await noorsPhone()
    const bram = await bramsPhone(noor)
    const { device } = noor.casebook
    let read: () => void = () => undefined
    const told = new Told(
      new Promise(resolve => {
        read = resolve
      }),
    )
    const strip = await on(bram, told)
    // Whether it is over is not known yet: nothing is said, rather than something wrong.
    expect(wordsOf(strip)).toBe('')
    read()
    await until(strip, () => wordsOf(strip) !== '')
    expect(wordsOf(strip)).toBe(
      'The first exchange did not come to its end: cases may be missing here. What has come is kept and can be used. Meet one of the crew for the rest. Meet by two codes',
    )
    await axe(strip).to.be.accessible()
    const met = { device, sinceMs: 0, reason: null, account: null, phase: 'exchanging' } as const
    told.tell({ devices: [{ ...met, progress: { done: 212, of: 1000, onlyHere: 0, onlyThere: 788 } }] })
    await until(strip, () => wordsOf(strip) === 'Exchanging: 212 of 1000 cases')
    told.tell({
      devices: [{ ...met, phase: 'equal', progress: null }],
      lastMet: new Map([[device, { device, on: TODAY, atMs: 0, caseCount: 1000 }]]),
    })
    await until(strip, () => wordsOf(strip) === '')
  })

  it('is nothing to whoever founded the casebook', async () => {
    const noor = await noorsPhone()
    const told = new Told(Promise.resolve())
    const strip = await on(noor, told)
    await told.lastMetRead
    told.tell({})
    await (strip as HTMLElement & { updateComplete: Promise<boolean> }).updateComplete
    expect(wordsOf(strip)).toBe('')
  })
})
