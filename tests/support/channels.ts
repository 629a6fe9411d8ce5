import type { CasebookId, DeviceId } from '../../src/ids.ts'
import { platformRandom } from '../../sync/secret-keeper.ts'
import type { Timer } from '../../sync/timer.ts'
import type { Channel, ChannelListener } from '../../sync/transport/channel.ts'
import { type Fingerprints, type GateKeeper, type GateSurroundings, passGate } from '../../sync/transport/gate.ts'
import { createDeviceKey, type DeviceKey } from '../../sync/trust/device-key.ts'

/** One end of a line in memory, as a data channel is: frames in order, later, whole; what was sent before a close arrives. */
export class MemoryChannel implements Channel {
  other: MemoryChannel | undefined
  /** Looks at each frame on its way out; what it gives goes on instead, undefined loses it. */
  onTheWay: (frame: Uint8Array) => Uint8Array | undefined = frame => frame
  sent: Uint8Array[] = []
  /** Frames that stay in the channel's own buffer until `release`. */
  isHeld = false
  #hears: ChannelListener | undefined
  #early: Uint8Array[] = []
  #held: Uint8Array[] = []
  #isClosed = false
  #wake: (() => void)[] = []

  send(frame: Uint8Array): void {
    if (this.#isClosed) return
    this.#held.push(frame.slice())
    if (!this.isHeld) this.release()
  }

  release(most = Number.POSITIVE_INFINITY): void {
    for (let count = 0; count < most && this.#held.length > 0; count += 1) {
      const frame = this.#held.shift()
      const passed = frame && this.onTheWay(frame)
      if (frame) this.sent.push(frame)
      if (passed) queueMicrotask(() => this.other?.arrive(passed))
    }
    for (const wake of this.#wake.splice(0)) wake()
  }

  arrive(frame: Uint8Array): void {
    if (this.#isClosed) return
    if (this.#hears) this.#hears.frame(frame)
    else this.#early.push(frame)
  }

  waitingBytes(): number {
    return this.#held.reduce((bytes, frame) => bytes + frame.length, 0)
  }

  async drained(bytes: number): Promise<void> {
    while (!this.#isClosed && this.waitingBytes() > bytes) await new Promise<void>(resolve => this.#wake.push(resolve))
  }

  listen(hears: ChannelListener): void {
    this.#hears = hears
    for (const frame of this.#early.splice(0)) hears.frame(frame)
  }

  close(): void {
    if (this.#isClosed) return
    this.#isClosed = true
    for (const wake of this.#wake.splice(0)) wake()
    queueMicrotask(() => {
      this.#hears?.closed()
      this.other?.close()
    })
  }
}

export const memoryChannels = (): readonly [MemoryChannel, MemoryChannel] => {
  const [a, b] = [new MemoryChannel(), new MemoryChannel()]
  a.other = b
  b.other = a
  return [a, b]
}

/** A timer that a test moves; any number of waits. */
export const handTimer = (): Timer & { pass(ms: number): void } => {
  let now = 0
  const waiting = new Set<{ readonly at: number; readonly work: () => void }>()
  return {
    later(work, delayMs) {
      const mine = { at: now + delayMs, work }
      waiting.add(mine)
      return () => waiting.delete(mine)
    },
    pass(ms) {
      const end = now + ms
      for (;;) {
        const due = [...waiting].filter(({ at }) => at <= end).sort((a, b) => a.at - b.at)[0]
        if (!due) break
        waiting.delete(due)
        now = due.at
        due.work()
      }
      now = end
    },
  }
}

export interface Gatekeeping {
  readonly key: DeviceKey
  readonly keeper: GateKeeper
}

/** A device of the crew that lets in the devices it knows. */
export const keeperOf = async (
  casebookId: CasebookId | undefined,
  known: () => readonly DeviceId[],
  key?: DeviceKey,
): Promise<GateKeeper> => ({
  deviceKey: key ?? (await createDeviceKey()).deviceKey,
  ...(casebookId ? { casebookId } : {}),
  admitsCasebook: () => true,
  admits: device => known().includes(device),
})

export const surroundingsOf = (
  channel: Channel,
  fingerprints: Fingerprints,
  timer: Timer = handTimer(),
): GateSurroundings => ({
  channel,
  fingerprints: async () => fingerprints,
  timer,
  randomBytes: platformRandom,
})

/** Fingerprints of the two certificates of one connection, seen from either end. */
export const ONE_CONNECTION = [
  { here: 'AA:11', there: 'BB:22' },
  { here: 'BB:22', there: 'AA:11' },
] as const satisfies readonly [Fingerprints, Fingerprints]

/** Both ends at the gate over one line. */
export const meetAtGate = (
  [a, b]: readonly [Channel, Channel],
  [keeperA, keeperB]: readonly [GateKeeper, GateKeeper],
  timer: Timer = handTimer(),
) =>
  Promise.all([
    passGate(keeperA, surroundingsOf(a, ONE_CONNECTION[0], timer)),
    passGate(keeperB, surroundingsOf(b, ONE_CONNECTION[1], timer)),
  ])
