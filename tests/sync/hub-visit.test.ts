import { describe, expect, it } from 'vitest'
import { platformRandom } from '../../sync/secret-keeper.ts'
import { HubVisit } from '../../sync/transport/hub-visit.ts'
import type { Nearby, NearbyOptions } from '../../sync/transport/nearby.ts'
import type { TabLocks } from '../../sync/transport/one-tab.ts'
import { renewedSecret } from '../../sync/trust/casebook-secret.ts'
import { expectOk, foundCasebook, invite } from '../support/casebooks.ts'
import { handTimer } from '../support/channels.ts'
import { phoneOf } from '../support/phones.ts'

const HUB = 'wss://hub.river-crew.example/signal'

/** A hub that is there or not, as the visit sees it: who asks to join, with what, and whether it left again. */
const handHub = () => {
  const visits: { readonly options: NearbyOptions; isLeft: boolean }[] = []
  let isThere = true
  return {
    visits,
    reach: (answers: boolean) => {
      isThere = answers
      for (const { options } of visits) options.onReach?.()
    },
    meetNearby: async (options: NearbyOptions): Promise<Nearby> => {
      const visit = { options, isLeft: false }
      visits.push(visit)
      return {
        rooms: [],
        isReached: () => isThere,
        leave: () => {
          visit.isLeft = true
        },
      }
    },
  }
}

/** Locks of one browser (W3C Web Locks): one holder, the others wait in order. */
const browserLocks = (): TabLocks => {
  let isHeld = false
  const waiting: (() => void)[] = []
  const request = async (_name: string, ...rest: readonly unknown[]): Promise<unknown> => {
    const work = rest.at(-1) as (lock: object | null) => unknown
    const ifAvailable = rest.length > 1 && (rest[0] as { ifAvailable?: boolean }).ifAvailable === true
    if (isHeld && ifAvailable) return work(null)
    if (isHeld) await new Promise<void>(resolve => waiting.push(resolve))
    isHeld = true
    try {
      return await work({})
    } finally {
      isHeld = false
      waiting.shift()?.()
    }
  }
  return { request: request as TabLocks['request'] }
}

const untilState = (visit: HubVisit, state: HubVisit['state']): Promise<void> =>
  new Promise(resolve => {
    const look = (): void => {
      if (visit.state !== state) return
      stop()
      resolve()
    }
    const stop = visit.subscribe(look)
    look()
  })

const visiting = async (locks?: TabLocks) => {
  const phone = phoneOf(await foundCasebook('Ana'))
  const hub = handHub()
  const timer = handTimer()
  const begin = () =>
    new HubVisit({
      hub: HUB,
      deviceKey: phone.device.key,
      casebook: phone.device.casebook,
      meetings: phone.meetings,
      timer,
      randomBytes: platformRandom,
      meetNearby: hub.meetNearby,
      ...(locks ? { locks } : {}),
    })
  return { phone, hub, timer, begin }
}

describe('a visit at a hub', () => {
  it('lets in members in good standing, and nobody else', async () => {
    const { phone, hub, begin } = await visiting()
    const ben = await invite(phone.device, 'Ben')
    const lost = await invite(phone.device, 'Lost')
    expectOk(await phone.device.casebook.strike(lost.key.device))
    const stranger = await foundCasebook('Stranger')
    await untilState(begin(), 'joined')
    const admits = (device: typeof ben): boolean | undefined => hub.visits[0]?.options.admits(device.key.device)
    expect([admits(ben), admits(lost), admits(stranger)]).toEqual([true, false, false])
    expect(hub.visits[0]?.options.hub).toBe(HUB)
  })

  it('begins anew in other rooms when the secret was renewed, and leaves the old ones', async () => {
    const { phone, hub, timer, begin } = await visiting()
    const { casebook, key } = phone.device
    const visit = begin()
    await untilState(visit, 'joined')
    expectOk(await casebook.receiveSecret(renewedSecret(casebook.secrets(), key.device, platformRandom)))
    // Told by whatever comes next.
    expectOk(await casebook.addCase({ kind: 'save', set: { personName: 'Invented' } }))
    await Promise.resolve()
    timer.pass(2_000)
    while (hub.visits.length < 2) await Promise.resolve()
    expect(hub.visits.map(({ isLeft, options }) => [isLeft, options.secrets[0]?.epoch])).toEqual([
      [true, 0],
      [false, 1],
    ])
    // Nothing renewed: nothing begins anew.
    expectOk(await casebook.addCase({ kind: 'save', set: { personName: 'Another' } }))
    await Promise.resolve()
    timer.pass(2_000)
    await untilState(visit, 'joined')
    expect(hub.visits).toHaveLength(2)
  })

  it('says that the hub does not answer, once it fell silent, and that it answers again', async () => {
    const { hub, begin } = await visiting()
    const visit = begin()
    await untilState(visit, 'joined')
    hub.reach(false)
    expect(visit.state).toBe('missing')
    hub.reach(true)
    expect(visit.state).toBe('joined')
  })

  it('tells each kind of failure once', async () => {
    const { hub, begin } = await visiting()
    const visit = begin()
    await untilState(visit, 'joined')
    for (const type of ['not-in-crew', 'no-way', 'not-in-crew'] as const)
      hub.visits[0]?.options.onFailure({ type, message: 'in words' })
    expect(visit.failures.map(({ type }) => type)).toEqual(['not-in-crew', 'no-way'])
  })

  it('is held by one tab; another one takes over when the first has left', async () => {
    const { hub, begin } = await visiting(browserLocks())
    const first = begin()
    await untilState(first, 'joined')
    const second = begin()
    await untilState(second, 'elsewhere')
    expect(hub.visits).toHaveLength(1)
    first.leave()
    await untilState(second, 'joined')
    expect(hub.visits.map(({ isLeft }) => isLeft)).toEqual([true, false])
  })

  it('does not begin in a tab that left while it waited', async () => {
    const { hub, begin } = await visiting(browserLocks())
    const first = begin()
    await untilState(first, 'joined')
    const second = begin()
    await untilState(second, 'elsewhere')
    second.leave()
    first.leave()
    const third = begin()
    await untilState(third, 'joined')
    expect(hub.visits).toHaveLength(2)
    expect(second.state).toBe('left')
  })
})
