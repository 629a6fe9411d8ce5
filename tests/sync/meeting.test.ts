import { describe, expect, it } from 'vitest'
import type { CaseId } from '../../src/ids.ts'
import type { ExchangeAccount } from '../../sync/exchange/exchange.ts'
import { encodeMessage } from '../../sync/exchange/messages.ts'
import { FRAME, framed } from '../../sync/transport/frames.ts'
import { ANSWER_LIMIT_MS, type MeetingOptions, MOST_IDLE_ROUNDS, meet } from '../../sync/transport/meeting.ts'
import { renewedSecret, writeSecrets } from '../../sync/trust/casebook-secret.ts'
import { expectOk, foundCasebook, heldBy, invite, type TestDevice } from '../support/casebooks.ts'
import { handTimer, keeperOf, meetAtGate, memoryChannels } from '../support/channels.ts'

const addCase = async (device: TestDevice, personName: string): Promise<CaseId> =>
  expectOk(await device.casebook.addCase({ kind: 'save', set: { personName } })).caseId

/** A device at one end of a line: its meeting, and what its rounds said. */
interface Side {
  readonly device: TestDevice
  readonly accounts: ExchangeAccount[]
  readonly meeting: ReturnType<typeof meet>
  /** Comes after so many rounds. */
  rounds(count: number): Promise<void>
}

const sideOf = (
  device: TestDevice,
  transport: Parameters<typeof meet>[1],
  timer: MeetingOptions['timer'],
  admits: () => boolean,
): Side => {
  const accounts: ExchangeAccount[] = []
  let heard: () => void = () => undefined
  const meeting = meet(device.casebook, transport, {
    timer,
    admits,
    onAccount: account => {
      accounts.push(account)
      heard()
    },
  })
  return {
    device,
    accounts,
    meeting,
    rounds: async count => {
      while (accounts.length < count)
        await new Promise<void>(resolve => {
          heard = resolve
        })
    },
  }
}

/** Two of one crew behind the gate. */
const atGate = async () => {
  const ana = await foundCasebook('Ana')
  const ben = await invite(ana, 'Ben')
  const channels = memoryChannels()
  const timer = handTimer()
  const known = () => [ana.key.device, ben.key.device]
  const keepers = [
    await keeperOf(ana.casebook.casebookId, known, ana.key),
    await keeperOf(ana.casebook.casebookId, known, ben.key),
  ] as const
  const [a, b] = await meetAtGate(channels, keepers, timer)
  return { ana, ben, channels, timer, a: expectOk(a).transport, b: expectOk(b).transport }
}

const meetingOfTwo = async () => {
  const { ana, ben, channels, timer, a, b } = await atGate()
  let isAdmitted = true
  const admits = () => isAdmitted
  return {
    channels,
    timer,
    one: sideOf(ana, a, timer, admits),
    two: sideOf(ben, b, timer, admits),
    strike: () => {
      isAdmitted = false
    },
  }
}

const untilEqual = async (one: Side, two: Side): Promise<void> => {
  for (let round = 1; ; round += 1) {
    await Promise.all([one.rounds(round), two.rounds(round)])
    const [held, other] = [await heldBy(one.device.casebook), await heldBy(two.device.casebook)]
    if (JSON.stringify(held) === JSON.stringify(other)) return
  }
}

describe('two devices that stay connected', () => {
  it('exchange at once, and wait then', async () => {
    const { one, two } = await meetingOfTwo()
    await Promise.all([one.rounds(1), two.rounds(1)])
    expect([...one.accounts, ...two.accounts].map(({ status }) => status)).toEqual(['equal', 'equal'])
  })

  it.each([
    ['at one', [true, false]],
    ['at the other', [false, true]],
    ['at both at once', [true, true]],
  ] as const)('hand on what is new %s', async (_, [atOne, atTwo]) => {
    const { one, two } = await meetingOfTwo()
    await Promise.all([one.rounds(1), two.rounds(1)])
    const wanted: CaseId[] = []
    if (atOne) wanted.push(await addCase(one.device, 'Invented'))
    if (atTwo) wanted.push(await addCase(two.device, 'Another'))
    if (atOne) one.meeting.handOn()
    if (atTwo) two.meeting.handOn()
    await untilEqual(one, two)
    for (const { device } of [one, two])
      expect(device.casebook.summaries().map(({ caseId }) => caseId)).toEqual([...wanted].sort())
  })

  it('hand on what is written while a round runs, many times over, and come to rest', async () => {
    const { one, two, channels } = await meetingOfTwo()
    for (let round = 1; round <= 10; round += 1) {
      // Frames are held while both write, so that the news falls into the middle of a round.
      channels[0].isHeld = true
      one.meeting.handOn()
      await addCase(one.device, `Invented ${round}`)
      one.meeting.handOn()
      await addCase(two.device, `Another ${round}`)
      two.meeting.handOn()
      channels[0].isHeld = false
      channels[0].release()
      await untilEqual(one, two)
    }
    expect(one.device.casebook.summaries()).toHaveLength(20)
    expect(await heldBy(two.device.casebook)).toEqual(await heldBy(one.device.casebook))
    // The first round and at most three for each time.
    expect(one.accounts.length).toBeLessThanOrEqual(31)
    expect(two.accounts.length).toBe(one.accounts.length)
  })

  it('keep what was taken over when the line is cut, at every frame, and end in words', async () => {
    const { channels: whole, one: ana, two: ben } = await meetingOfTwo()
    await Promise.all([ana.rounds(1), ben.rounds(1)])
    await addCase(ana.device, 'Invented')
    ana.meeting.handOn()
    await Promise.all([ana.rounds(2), ben.rounds(2)])
    const frames = whole[0].sent.length
    expect(frames).toBeGreaterThan(6)
    for (let cutAt = 3; cutAt <= frames; cutAt += 1) {
      const { one, two, channels } = await meetingOfTwo()
      channels[0].onTheWay = frame => {
        if (channels[0].sent.length < cutAt) return frame
        channels[0].close()
        return undefined
      }
      const kept = await addCase(one.device, 'Invented')
      one.meeting.handOn()
      // How many frames a round takes depends on who leads it: one that was over before is cut then.
      await Promise.race([one.meeting.ended, untilEqual(one, two)])
      channels[0].close()
      const ended = await Promise.all([one.meeting.ended, two.meeting.ended])
      for (const { message } of ended) expect(message).toMatch(/is kept/)
      expect(one.device.casebook.summaries().map(({ caseId }) => caseId)).toEqual([kept])
      if (one.accounts.at(-1)?.peerHasEverything && two.device.casebook.summaries().length > 0)
        expect(await heldBy(two.device.casebook)).toEqual(await heldBy(one.device.casebook))
    }
  })

  it('part from one that does not answer although it lives', async () => {
    const { one, two, channels, timer } = await meetingOfTwo()
    await Promise.all([one.rounds(1), two.rounds(1)])
    // Only signs of life get through.
    channels[1].onTheWay = frame => (frame[0] === FRAME.alive ? frame : undefined)
    await addCase(one.device, 'Invented')
    one.meeting.handOn()
    for (let turn = 0; turn < 200; turn += 1) await Promise.resolve()
    for (let passed = 0; passed <= ANSWER_LIMIT_MS; passed += 10_000) {
      timer.pass(10_000)
      for (let turn = 0; turn < 20; turn += 1) await Promise.resolve()
    }
    expect((await one.meeting.ended).type).toBe('silent')
    expect((await two.meeting.ended).type).toMatch(/ended|cut|silent/)
  })

  it('part at the end of the round in which one was struck off', async () => {
    const { one, two, strike } = await meetingOfTwo()
    await Promise.all([one.rounds(1), two.rounds(1)])
    strike()
    one.meeting.handOn()
    expect(await one.meeting.ended).toMatchObject({ type: 'refused', message: expect.stringMatching(/struck off/) })
    await two.meeting.ended
  })
})

describe('a device of the crew that misbehaves in a meeting', () => {
  it('cannot keep the other one busy without end', async () => {
    const { one, two } = await meetingOfTwo()
    for (let round = 1; round <= MOST_IDLE_ROUNDS + 1; round += 1) {
      await Promise.all([one.rounds(round), two.rounds(round)])
      two.meeting.handOn()
    }
    expect(await one.meeting.ended).toMatchObject({
      type: 'refused',
      message: expect.stringMatching(/again and again/),
    })
    await two.meeting.ended
    expect(one.accounts.length).toBeLessThanOrEqual(MOST_IDLE_ROUNDS + 2)
  })

  it.each([
    ['bytes that say nothing', Uint8Array.of(1, 2, 3)],
    ['nothing', new Uint8Array()],
    [
      'the end of a round that was not begun',
      encodeMessage({ kind: 'done', leadHasEverything: true, otherHasEverything: true }),
    ],
  ])('is parted from in words when it sends %s between rounds', async (_, message) => {
    const { ana, ben, timer, a, b } = await atGate()
    const one = sideOf(ana, a, timer, () => true)
    const two = sideOf(ben, b, timer, () => true)
    await Promise.all([one.rounds(1), two.rounds(1)])
    const before = await heldBy(ana.casebook)
    await b.send(message)
    expect((await one.meeting.ended).type).toBe('refused')
    expect(one.accounts.at(-1)?.status).toBe('refused')
    expect(await heldBy(ana.casebook)).toEqual(before)
    await two.meeting.ended
  })

  it('changes nothing by lobby messages that are none', async () => {
    const { one, two, channels } = await meetingOfTwo()
    await Promise.all([one.rounds(1), two.rounds(1)])
    const held = one.device.casebook.secrets()
    for (const message of [[], [201], [201, 1, 2], [200, 255, 255, 255, 255], [7]])
      channels[1].send(framed(FRAME.lobby, Uint8Array.from(message)))
    await addCase(two.device, 'Invented')
    two.meeting.handOn()
    await untilEqual(one, two)
    expect(one.device.casebook.secrets()).toEqual(held)
  })
})

describe('the casebook secrets', () => {
  it('are handed on after a round that left both equal, the renewed one too', async () => {
    const { one, two } = await meetingOfTwo()
    const lost = await invite(one.device, 'Lost')
    await Promise.all([one.rounds(1), two.rounds(1)])
    expectOk(await one.device.casebook.strike(lost.key.device))
    one.meeting.handOn()
    await Promise.all([one.rounds(2), two.rounds(2)])
    // Comes behind what the lobby carried.
    one.meeting.handOn()
    await Promise.all([one.rounds(3), two.rounds(3)])
    expect(one.device.casebook.secrets().map(({ epoch }) => epoch)).toEqual([1, 0])
    expect((await two.device.restart()).casebook.secrets()).toEqual(one.device.casebook.secrets())
  })

  it('are kept up to a number, however many somebody sends', async () => {
    const { one, two, channels } = await meetingOfTwo()
    await Promise.all([one.rounds(1), two.rounds(1)])
    let made = one.device.casebook.secrets()
    for (let message = 0; message < 4; message += 1) {
      const from = made.length
      for (let count = 0; count < 100; count += 1)
        made = [renewedSecret(made, two.device.key.device, length => new Uint8Array(length).fill(count)), ...made]
      const words = writeSecrets(made.slice(0, made.length - from))
      channels[1].send(framed(FRAME.lobby, Uint8Array.from([201, ...words])))
      two.meeting.handOn()
      await Promise.all([one.rounds(message + 2), two.rounds(message + 2)])
    }
    expect(one.device.casebook.secrets()).toHaveLength(200)
    expect(one.device.casebook.secrets().some(({ epoch }) => epoch === 0)).toBe(true)
  })
})
