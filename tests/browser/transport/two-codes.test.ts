import { afterEach, describe, expect, it } from 'vitest'
import { casebookIdSchema } from '../../../src/ids.ts'
import { platformRandom } from '../../../sync/secret-keeper.ts'
import { createMemoryStorage } from '../../../sync/storage/memory.ts'
import { platformTimer, type Timer } from '../../../sync/timer.ts'
import { joinInvited, takeWelcome, welcome } from '../../../sync/transport/invitation.ts'
import { meet } from '../../../sync/transport/meeting.ts'
import { PAIRING_LIMIT_MS, SHOWN_ANSWER_LIMIT_MS, type Standing, TwoCodes } from '../../../sync/transport/two-codes.ts'
import { createDeviceKey, type DeviceKey } from '../../../sync/trust/device-key.ts'
import { expectOk, foundCasebook, heldBy, smallRules, TODAY } from '../../support/casebooks.ts'
import { handTimer } from '../../support/channels.ts'
import { transportContract } from '../../sync/transport-contract.ts'

const CASEBOOK = casebookIdSchema.parse('Casebook-of-this-testA')
const OTHER = casebookIdSchema.parse('Casebook-of-others---A')

const attempts: TwoCodes[] = []
afterEach(() => {
  for (const attempt of attempts.splice(0)) attempt.close()
})

interface Setting {
  readonly key?: DeviceKey
  readonly holds?: typeof CASEBOOK
  readonly standing?: Standing
  readonly timer?: Timer
}
const attemptOf = async ({ key, holds, standing = 'member', timer = platformTimer }: Setting): Promise<TwoCodes> => {
  const attempt = new TwoCodes({
    deviceKey: key ?? (await createDeviceKey()).deviceKey,
    ...(holds ? { casebookId: holds } : {}),
    standing: () => standing,
    timer,
    randomBytes: platformRandom,
  })
  attempts.push(attempt)
  return attempt
}
const typeOf = (result: { readonly ok: boolean; readonly failure?: { readonly type: string } }): string =>
  result.failure?.type ?? 'ok'

/** The codes carried over by hand; how it ended at both. */
const pair = async (offering: TwoCodes, answering: TwoCodes) => {
  const offer = expectOk(await offering.showOffer())
  const answer = expectOk(await answering.readOffer(offer.forPasting))
  expectOk(offering.readAnswer(answer.forQr))
  return Promise.all([offering.met, answering.met])
}

const pairOfCrew = async () => {
  const [a, b] = [await attemptOf({ holds: CASEBOOK }), await attemptOf({ holds: CASEBOOK })]
  const met = await pair(a, b)
  return { attempts: [a, b] as const, ends: [expectOk(met[0]).transport, expectOk(met[1]).transport] as const }
}

transportContract('two codes', async () => {
  const {
    attempts: [a],
    ends,
  } = await pairOfCrew()
  return { ends, breakLine: () => a.close() }
})

describe('two codes', () => {
  it('bring two of one crew together by WebRTC alone', async () => {
    const { attempts: both, ends } = await pairOfCrew()
    for (const { lobby } of both) {
      expect(lobby?.connections().webrtcConns.size).toBe(1)
      expect(lobby?.connections().bcConns.size).toBe(0)
    }
    await ends[0].send(Uint8Array.of(7))
    expect(await ends[1].receive()).toEqual(Uint8Array.of(7))
  })

  it('invite a newcomer, who holds everything in the end', async () => {
    const ana = await foundCasebook('Ana')
    for (let count = 0; count < 20; count += 1)
      expectOk(await ana.casebook.addCase({ kind: 'save', set: { personName: `Invented ${count}` } }))
    const ben = (await createDeviceKey()).deviceKey
    const offering = await attemptOf({ key: ana.key, holds: ana.casebook.casebookId, standing: 'unknown' })
    const answering = await attemptOf({ key: ben })
    const [here, there] = (await pair(offering, answering)).map(expectOk)
    if (!here || !there) throw new Error('nobody met')
    expect([here.as, there.as]).toEqual(['inviting', 'invited'])
    expect([here.device, there.device]).toEqual([ben.device, ana.key.device])
    expectOk(await welcome(ana.casebook, here, { name: 'Ben', role: 'technician' }))
    const options = {
      storage: createMemoryStorage().open(),
      deviceKey: ben,
      rules: smallRules,
      clock: () => 1_790_000_000_000,
      today: () => TODAY,
    }
    const casebook = expectOk(await joinInvited(options, expectOk(await takeWelcome(there))))
    const statuses = await Promise.all(
      (
        [
          [ana.casebook, here],
          [casebook, there],
        ] as const
      ).map(
        ([each, { transport }]) =>
          new Promise(resolve => {
            const onAccount = ({ status }: { readonly status: string }) => resolve(status)
            meet(each, transport, { timer: platformTimer, admits: () => true, onAccount })
          }),
      ),
    )
    expect(statuses).toEqual(['equal', 'equal'])
    expect(casebook.summaries()).toHaveLength(20)
    expect(await heldBy(casebook)).toEqual(await heldBy(ana.casebook))
  })

  it('work the other way round: the newcomer shows the first code', async () => {
    const met = await pair(await attemptOf({}), await attemptOf({ holds: CASEBOOK, standing: 'unknown' }))
    expect(met.map(each => expectOk(each).as)).toEqual(['invited', 'inviting'])
    expect(expectOk(met[0]).casebookId).toBe(CASEBOOK)
  })

  it.each([
    ['struck off, whatever it says to hold', 'struck', undefined],
    ['struck off', 'struck', CASEBOOK],
    ['not of the crew although it knows the casebook', 'unknown', CASEBOOK],
  ] as const)('let nobody in who is %s', async (_, standing, holds) => {
    const [here, there] = await pair(
      await attemptOf({ holds: CASEBOOK, standing }),
      await attemptOf(holds ? { holds } : {}),
    )
    expect(typeOf(here)).toBe('not-in-crew')
    expect(typeOf(there)).toMatch(/closed-early|no-way/)
  })

  it('refuse, in words, codes that lead nowhere, and go on waiting for the right one', async () => {
    const key = (await createDeviceKey()).deviceKey
    const offering = await attemptOf({ key, holds: CASEBOOK })
    const offer = expectOk(await offering.showOffer())
    expect(typeOf(await (await attemptOf({ key, holds: CASEBOOK })).readOffer(offer.forQr))).toBe('own-code')
    expect(typeOf(await (await attemptOf({ holds: OTHER })).readOffer(offer.forQr))).toBe('other-casebook')
    const emptyOffer = expectOk(await (await attemptOf({})).showOffer())
    expect(typeOf(await (await attemptOf({})).readOffer(emptyOffer.forQr))).toBe('no-casebook')
    expect(typeOf(offering.readAnswer(emptyOffer.forQr))).toBe('offer-for-answer')
    expect(typeOf(offering.readAnswer('a letter'))).toBe('not-a-code')
    const answering = await attemptOf({ holds: CASEBOOK })
    expect(typeOf(await answering.readOffer(`${offer.forQr.slice(0, -1)}A`))).toBe('damaged-code')
    const answer = expectOk(await answering.readOffer(offer.forQr))
    expect(typeOf(await (await attemptOf({ holds: CASEBOOK })).readOffer(answer.forQr))).toBe('answer-for-offer')
    expectOk(offering.readAnswer(answer.forQr))
    // A camera reads the same code many times.
    expectOk(offering.readAnswer(answer.forQr))
    expect((await Promise.all([offering.met, answering.met])).map(typeOf)).toEqual(['ok', 'ok'])
  })

  it('give up in words when the other one is gone', async () => {
    const timer = handTimer()
    const offering = await attemptOf({ holds: CASEBOOK, timer })
    const answering = await attemptOf({ holds: CASEBOOK })
    const answer = expectOk(await answering.readOffer(expectOk(await offering.showOffer()).forQr))
    answering.close()
    expect(typeOf(await answering.met)).toBe('given-up')
    expectOk(offering.readAnswer(answer.forQr))
    timer.pass(PAIRING_LIMIT_MS)
    const met = await offering.met
    expect(typeOf(met)).toBe('not-in-time')
    expect(!met.ok && met.failure.message).toMatch(/Nothing was exchanged.*again/)
    expect(offering.lobby?.connections().webrtcConns.size).toBe(0)
  })

  it('give up in words when nobody takes the answer', async () => {
    const timer = handTimer()
    const offering = await attemptOf({ holds: CASEBOOK })
    const answering = await attemptOf({ holds: CASEBOOK, timer })
    const { forQr } = expectOk(await offering.showOffer())
    expectOk(await answering.readOffer(forQr))
    // A camera reads it again: the limit does not begin anew.
    timer.pass(SHOWN_ANSWER_LIMIT_MS - 1)
    expectOk(await answering.readOffer(forQr))
    timer.pass(1)
    expect(typeOf(await answering.met)).toBe('not-in-time')
    expect(answering.lobby?.connections().webrtcConns.size).toBe(0)
  })

  it('end with the page that shows them: a code of an attempt that was given up leads nowhere', async () => {
    const offering = await attemptOf({ holds: CASEBOOK })
    const offer = expectOk(await offering.showOffer())
    offering.close()
    expect(typeOf(await offering.met)).toBe('given-up')
    const answering = await attemptOf({ holds: CASEBOOK })
    expectOk(await answering.readOffer(offer.forQr))
    answering.close()
    expect(typeOf(await answering.met)).toBe('given-up')
  })

  it('show no code when they were given up while it was made', async () => {
    const offering = await attemptOf({ holds: CASEBOOK })
    const shown = offering.showOffer()
    offering.close()
    expect(typeOf(await shown)).toBe('given-up')
    expect(offering.lobby).toBeUndefined()
  })

  it('are one each, however often a button is tapped or a camera reads', async () => {
    const [offering, answering] = [await attemptOf({ holds: CASEBOOK }), await attemptOf({ holds: CASEBOOK })]
    const [offer, again] = await Promise.all([offering.showOffer(), offering.showOffer()])
    expect(expectOk(again)).toEqual(expectOk(offer))
    const { forQr } = expectOk(offer)
    const [answer, secondAnswer] = await Promise.all([answering.readOffer(forQr), answering.readOffer(forQr)])
    expect(expectOk(secondAnswer)).toEqual(expectOk(answer))
    expectOk(offering.readAnswer(expectOk(answer).forQr))
    expect((await Promise.all([offering.met, answering.met])).map(typeOf)).toEqual(['ok', 'ok'])
    for (const attempt of [offering, answering]) expect(attempt.lobby?.connections().webrtcConns.size).toBe(1)
  })

  it('are not shown where the browser knows no address of its own; the words say what to do', async () => {
    const Real = globalThis.RTCPeerConnection
    // Relays only, and there is none: what a browser without a route and without the camera's permission finds.
    globalThis.RTCPeerConnection = class extends Real {
      constructor(configuration?: RTCConfiguration) {
        super({ ...configuration, iceTransportPolicy: 'relay' })
      }
    }
    try {
      const offering = await attemptOf({ holds: CASEBOOK })
      const shown = await offering.showOffer()
      expect(typeOf(shown)).toBe('no-address')
      expect(!shown.ok && shown.failure.message).toMatch(/allow the camera.*try again/)
      expect(typeOf(await offering.met)).toBe('no-address')
    } finally {
      globalThis.RTCPeerConnection = Real
    }
    // With the permission given, the next attempt shows one.
    expectOk(await (await attemptOf({ holds: CASEBOOK })).showOffer())
  })
})
