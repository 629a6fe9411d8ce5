import type { ClockTimer } from '../../sync/timer.ts'
import { HUNG_UP, type OnTheLine } from './port-channel.ts'

/** As over a radio at the edge of its reach (project value): slow enough to be watched. */
export const SLOW_BYTES_PER_SECOND = 2000
const MS_PER_SECOND = 1000

export type LineState = 'cut' | 'slow' | 'joined'

/** What has arrived at the other end, both ways together, since the page began. */
export interface Carried {
  readonly frames: number
  readonly bytes: number
}

interface Connection {
  readonly ports: readonly [MessagePort, MessagePort]
  /** Calls off what is still on its way. */
  readonly onTheWay: Set<() => void>
}

/** The line between two phones, with a hand on it: everything they say to each other goes through here, and is counted. */
export class Line {
  readonly #timer: ClockTimer
  readonly #tell: () => void
  #state: LineState = 'cut'
  #connection: Connection | undefined
  #carried: Carried = { frames: 0, bytes: 0 }

  /** `tell` is called when something has arrived, and when the line has broken. */
  constructor(timer: ClockTimer, tell: () => void) {
    this.#timer = timer
    this.#tell = tell
  }

  get state(): LineState {
    return this.#state
  }

  get carried(): Carried {
    return this.#carried
  }

  /** Connects anew, or changes the speed of the connection that stands. Gives the two ends of a new one. */
  join(state: Exclude<LineState, 'cut'>): readonly [MessagePort, MessagePort] | undefined {
    this.#state = state
    if (this.#connection) return undefined
    const [first, second] = [new MessageChannel(), new MessageChannel()]
    const connection: Connection = { ports: [first.port1, second.port1], onTheWay: new Set() }
    this.#connection = connection
    this.#carry(connection, first.port1, second.port1)
    this.#carry(connection, second.port1, first.port1)
    return [first.port2, second.port2]
  }

  /** What is on its way is lost, and both ends find the line dead. */
  cut(): void {
    this.#state = 'cut'
    const connection = this.#connection
    this.#connection = undefined
    if (!connection) return
    for (const callOff of connection.onTheWay) callOff()
    for (const port of connection.ports) {
      port.postMessage(HUNG_UP)
      port.close()
    }
    this.#tell()
  }

  /** One way; each way has the whole speed for itself. */
  #carry(connection: Connection, from: MessagePort, to: MessagePort): void {
    let freeAtMs = 0
    from.onmessage = ({ data }: MessageEvent<OnTheLine>) => {
      if (this.#connection !== connection) return
      const now = this.#timer.now()
      const bytes = data?.length ?? 0
      const neededMs = this.#state === 'slow' ? (bytes / SLOW_BYTES_PER_SECOND) * MS_PER_SECOND : 0
      // Never before what was sent earlier, whatever the speed is now.
      freeAtMs = Math.max(now, freeAtMs) + neededMs
      const callOff = this.#timer.later(() => {
        connection.onTheWay.delete(callOff)
        this.#arrive(connection, to, data)
      }, freeAtMs - now)
      connection.onTheWay.add(callOff)
    }
  }

  #arrive(connection: Connection, to: MessagePort, data: OnTheLine): void {
    if (this.#connection !== connection) return
    to.postMessage(data)
    if (data === HUNG_UP) {
      this.cut()
      return
    }
    this.#carried = { frames: this.#carried.frames + 1, bytes: this.#carried.bytes + data.length }
    this.#tell()
  }
}
