/** What a hub grants to those who call on it. All are project values; each has a margin of several times over a crew's need. */
export interface HubLimits {
  /** Signalling clients at once: tabs of the app that look for others. */
  readonly clients: number
  /** Of these, from one network address: one device alone never takes all the places. */
  readonly clientsPerAddress: number
  /** Connections of any sort from one network address; more are closed before a byte is read. */
  readonly connectionsPerAddress: number
  readonly connections: number
  /** How often one address may connect anew in the long run, and how often at once: a handshake of TLS costs time. */
  readonly arrivalsPerSecond: number
  readonly arrivalsAtOnce: number
  /** Rooms that one client is in at once. The app uses one per casebook. */
  readonly topicsPerClient: number
  readonly topicCharacters: number
  /** Longest message. An introduction takes 1 to 3 KiB. */
  readonly messageBytes: number
  /** How many messages a client may send in the long run, and how many at once when it meets a full room. */
  readonly messagesPerSecond: number
  readonly messagesAtOnce: number
  readonly bytesPerSecond: number
  readonly bytesAtOnce: number
  /** What may wait for a client that reads slowly. */
  readonly waitingBytes: number
  /** How often each client is asked whether it is still there; it has until the next time to answer. */
  readonly pingEveryMs: number
  /** How long a client has to agree that a connection is closed, and a caller to say what it wants. */
  readonly patienceMs: number
}

export const HUB_LIMITS: HubLimits = {
  clients: 64,
  clientsPerAddress: 8,
  connectionsPerAddress: 64,
  connections: 1024,
  arrivalsPerSecond: 20,
  arrivalsAtOnce: 200,
  topicsPerClient: 16,
  topicCharacters: 128,
  messageBytes: 64 * 1024,
  messagesPerSecond: 50,
  messagesAtOnce: 1000,
  bytesPerSecond: 64 * 1024,
  bytesAtOnce: 512 * 1024,
  waitingBytes: 1024 * 1024,
  pingEveryMs: 30_000,
  patienceMs: 10_000,
}

/** What one client may still spend: full at first, refilled steadily, never above full. */
export class Allowance {
  readonly #perSecond: number
  readonly #full: number
  #left: number
  #sinceMs: number

  constructor(perSecond: number, full: number, nowMs: number) {
    this.#perSecond = perSecond
    this.#full = full
    this.#left = full
    this.#sinceMs = nowMs
  }

  /** Takes `amount` and is true, or takes nothing and is false when that much is not there. */
  take(amount: number, nowMs: number): boolean {
    this.#refill(nowMs)
    if (amount > this.#left) return false
    this.#left -= amount
    return true
  }

  isFull(nowMs: number): boolean {
    this.#refill(nowMs)
    return this.#left === this.#full
  }

  #refill(nowMs: number): void {
    this.#left = Math.min(this.#full, this.#left + ((nowMs - this.#sinceMs) / 1000) * this.#perSecond)
    this.#sinceMs = nowMs
  }
}

/** How many of something each address holds; addresses that hold nothing are forgotten. */
export class Shares {
  readonly #held = new Map<string, number>()
  readonly #most: number

  constructor(most: number) {
    this.#most = most
  }

  /** One more for `address`, or false when it has its share already. */
  take(address: string): boolean {
    const held = this.#held.get(address) ?? 0
    if (held >= this.#most) return false
    this.#held.set(address, held + 1)
    return true
  }

  giveBack(address: string): void {
    const held = (this.#held.get(address) ?? 0) - 1
    if (held > 0) this.#held.set(address, held)
    else this.#held.delete(address)
  }
}

/** Addresses remembered before those at rest are forgotten. */
const ADDRESSES = 1024

/** How fast each address comes again. */
export class Arrivals {
  readonly #allowances = new Map<string, Allowance>()
  readonly #perSecond: number
  readonly #atOnce: number

  constructor(perSecond: number, atOnce: number) {
    this.#perSecond = perSecond
    this.#atOnce = atOnce
  }

  /** Whether `address` may come in now. */
  take(address: string, nowMs: number): boolean {
    if (this.#allowances.size >= ADDRESSES) this.#forget(nowMs)
    const allowance = this.#allowances.get(address) ?? new Allowance(this.#perSecond, this.#atOnce, nowMs)
    this.#allowances.set(address, allowance)
    return allowance.take(1, nowMs)
  }

  #forget(nowMs: number): void {
    for (const [address, allowance] of this.#allowances) if (allowance.isFull(nowMs)) this.#allowances.delete(address)
  }
}
