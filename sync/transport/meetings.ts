import type { CalendarDate } from '../../src/calendar-date.ts'
import type { Crew } from '../../src/crew/crew.ts'
import type { CaseId, DeviceId, PhotoHash } from '../../src/ids.ts'
import type { CasebookChange } from '../casebook.ts'
import type { ExchangeAccount, RoundProgress } from '../exchange/exchange.ts'
import { Inventory } from '../exchange/inventory.ts'
import type { DocumentKey } from '../exchange/replica.ts'
import { type LastMet, readLastMet, writeLastMet } from '../storage/last-met.ts'
import { type CasebookStorage, StorageUnreadable, type Stored } from '../storage/storage.ts'
import type { Timer } from '../timer.ts'
import type { Opened } from './gate.ts'
import { type Meeting, type MeetingCasebook, meet } from './meeting.ts'
import { type PhotoCasebook, PhotoLane } from './photo-lane.ts'
import { Presence } from './presence.ts'
import { standingIn } from './standing.ts'
import { type ClosedBecause, DOUBLED } from './transport.ts'

const MINUTE_MS = 60_000

const LEFT: ClosedBecause = {
  type: 'ended',
  message: 'The connection was ended here. What had been taken over by then is kept; meet again for the rest.',
}
const STORE_CLOSED: ClosedBecause = {
  type: 'ended',
  message:
    'The store of this device could not be read any more, so the connection was ended. What had been taken over by then is kept.',
}

/** What meets others: this device's copy of the casebook. */
export interface MeetingsCasebook extends MeetingCasebook, PhotoCasebook {
  crew(): Crew
  subscribe(listener: (change: CasebookChange) => void): () => void
  noteHeldElsewhere(hashes: ReadonlyMap<DocumentKey, Uint8Array>): Promise<Stored>
}

export interface MeetingsOptions {
  readonly casebook: MeetingsCasebook
  /** Keeps when each device was last met. */
  readonly storage: CasebookStorage
  readonly timer: Timer
  /** Milliseconds since 1970. */
  clock(): number
  /** The date in the team's zone. */
  today(): CalendarDate
}

/** Another device of the crew that is connected, or was since the casebook was opened. */
export interface MetDevice {
  readonly device: DeviceId
  /** When the connection was made; milliseconds since 1970. */
  readonly sinceMs: number
  /**
   * `exchanging`: a round runs. `equal`: both hold the same. `unequal`: something could not be handed over. `over`: no
   * connection any more, `reason` says why.
   */
  readonly phase: 'exchanging' | 'equal' | 'unequal' | 'over'
  readonly reason: ClosedBecause | null
  /** How far the round has come that runs, by case; null while it is not known how much differs, and between rounds. */
  readonly progress: RoundProgress | null
  /** What the last round that came to an end did. */
  readonly account: ExchangeAccount | null
}

interface Connection {
  readonly opened: Opened
  readonly meeting: Meeting
  readonly photos: PhotoLane
  /** Settles when the meeting is over, whatever ended it. */
  readonly over: Promise<void>
}

/**
 * Every connection of this device to others of the crew, for as long as a casebook is open: whoever passed the gate, by
 * whatever way, is exchanged with until it goes, and hears at once of what is new here. One connection for each device:
 * when one comes a second time the newer stays, since the older may be dead without knowing it.
 */
export class Meetings {
  readonly #options: MeetingsOptions
  readonly #connections = new Map<DeviceId, Connection>()
  readonly #devices = new Map<DeviceId, MetDevice>()
  readonly #listeners = new Set<() => void>()
  /** One device after the other, each with all that is known. */
  #noting: Promise<void>
  #lastMet: ReadonlyMap<DeviceId, LastMet> = new Map()
  readonly #stopNews: () => void
  /** Comes once `lastMet` is known: before that it is empty. */
  readonly lastMetRead: Promise<void>
  #isClosed = false
  /** Who has what open. */
  readonly presence: Presence

  constructor(options: MeetingsOptions) {
    this.#options = options
    this.presence = new Presence(caseId => options.casebook.hashes().has(caseId))
    this.#stopNews = options.casebook.subscribe(({ type }) => {
      if (type === 'entries') for (const { meeting } of this.#connections.values()) meeting.handOn()
    })
    this.lastMetRead = readLastMet(options.storage).then(lastMet => {
      this.#lastMet = lastMet
      this.#tell()
    })
    this.#noting = this.lastMetRead
  }

  /** In the order in which they were first met. */
  get devices(): readonly MetDevice[] {
    return [...this.#devices.values()]
  }

  /** When each device of the crew and this one last held the same. Survives a restart. */
  get lastMet(): ReadonlyMap<DeviceId, LastMet> {
    return this.#lastMet
  }

  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }

  /** Exchanges with a device that passed the gate, from now until the connection is over. */
  take(opened: Opened): void {
    const { device, transport } = opened
    if (this.#isClosed) {
      transport.close(LEFT)
      return
    }
    const { casebook, timer, clock } = this.#options
    const standing = standingIn(() => casebook.crew())
    const admits = (): boolean => standing(device) === 'member'
    this.#devices.set(device, {
      device,
      sinceMs: clock(),
      phase: 'exchanging',
      reason: null,
      progress: null,
      account: null,
    })
    const meeting = meet(casebook, transport, {
      timer,
      inventory: new Inventory(),
      admits,
      onProgress: progress => this.#change(connection, { phase: 'exchanging', progress }),
      onAccount: account => this.#takeAccount(connection, account),
    })
    const connection: Connection = {
      opened,
      meeting,
      photos: new PhotoLane(casebook, transport, { timer, admits }),
      over: meeting.ended.then(
        reason => this.#end(connection, reason),
        error => {
          this.#end(connection, STORE_CLOSED)
          transport.close(STORE_CLOSED)
          if (!(error instanceof StorageUnreadable)) throw error
        },
      ),
    }
    this.#connections.get(device)?.opened.transport.close(DOUBLED)
    this.#connections.set(device, connection)
    this.presence.add(device, transport)
    this.#tell()
  }

  /**
   * Asks those who are connected for a photo that is not here, one after the other, until it has come and is kept. False:
   * none of them gave it.
   */
  async askForPhoto(caseId: CaseId, hash: PhotoHash): Promise<boolean> {
    for (const { photos } of [...this.#connections.values()]) if ((await photos.ask(caseId, hash)).ok) return true
    return false
  }

  /** Ends every connection, and waits until nothing is written any more. Nobody is taken after that. */
  async close(): Promise<void> {
    this.#isClosed = true
    this.#stopNews()
    const connections = [...this.#connections.values()]
    for (const { opened } of connections) opened.transport.close(LEFT)
    await Promise.all(connections.map(({ over }) => over))
    await this.#noting
    this.#listeners.clear()
  }

  #takeAccount(connection: Connection, account: ExchangeAccount): void {
    const phase = account.status === 'equal' || account.status === 'unequal' ? account.status : 'exchanging'
    this.#change(connection, { phase, progress: null, account })
    const { heldByBoth } = account
    if (heldByBoth) this.#noting = this.#noting.then(() => this.#note(connection.opened.device, heldByBoth))
  }

  /** Both were found to hold the same. A store that takes no more, or is closed, will hear of it the next time. */
  async #note(device: DeviceId, held: ReadonlyMap<DocumentKey, Uint8Array>): Promise<void> {
    const { casebook, storage, clock, today } = this.#options
    await casebook.noteHeldElsewhere(held)
    const caseCount = [...held.keys()].filter(key => key !== 'team' && key !== 'catalogue').length
    const atMs = Math.floor(clock() / MINUTE_MS) * MINUTE_MS
    const before = this.#lastMet.get(device)
    if (before?.atMs !== atMs || before.caseCount !== caseCount) {
      this.#lastMet = new Map([...this.#lastMet, [device, { device, on: today(), atMs, caseCount }]])
      await writeLastMet(storage, this.#lastMet.values())
    }
    this.#tell()
  }

  #end(connection: Connection, reason: ClosedBecause): void {
    this.#change(connection, { phase: 'over', progress: null, reason })
    const { device, transport } = connection.opened
    if (this.#connections.get(device) === connection) this.#connections.delete(device)
    this.presence.remove(device, transport)
  }

  /** What an older connection to the same device still says is not shown. */
  #change(connection: Connection, changed: Partial<MetDevice>): void {
    const { device } = connection.opened
    const met = this.#devices.get(device)
    if (!met || this.#connections.get(device) !== connection) return
    this.#devices.set(device, { ...met, ...changed })
    this.#tell()
  }

  #tell(): void {
    for (const listener of [...this.#listeners]) listener()
  }
}
