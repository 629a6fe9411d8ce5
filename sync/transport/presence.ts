import * as z from 'zod'
import { type CaseId, caseIdSchema, type DeviceId } from '../../src/ids.ts'
import { type FramedTransport, LOBBY } from './frames.ts'

/** A place takes some hundred bytes; what is longer is none (project value). */
const PLACE_BYTES = 512

const placeSchema = z.object({
  caseId: caseIdSchema.nullable(),
  /** The open part of the case, and the field that is being filled in, by their keys. */
  section: z
    .string()
    .regex(/^[a-z-]{1,40}$/)
    .nullable(),
  field: z
    .string()
    .regex(/^[A-Za-z0-9]{1,60}$/)
    .nullable(),
})
/** What somebody has open. */
export type Place = Readonly<z.infer<typeof placeSchema>>

export interface PlaceOfOther extends Place {
  /** Proven by the gate of its connection: a message never says who sends it. */
  readonly device: DeviceId
}

export const NOWHERE: Place = { caseId: null, section: null, field: null }

const writePlace = (place: Place): Uint8Array => {
  const words = new TextEncoder().encode(JSON.stringify(place))
  const message = new Uint8Array(words.length + 1)
  message[0] = LOBBY.presence
  message.set(words, 1)
  return message
}

/** Undefined for what is no place: it is passed over. */
const readPlace = (message: Uint8Array): Place | undefined => {
  if (message.length > PLACE_BYTES) return undefined
  try {
    const words = new TextDecoder('utf-8', { fatal: true }).decode(message.subarray(1))
    return placeSchema.safeParse(JSON.parse(words)).data
  } catch {
    return undefined
  }
}

const isSame = (a: Place, b: Place): boolean => a.caseId === b.caseId && a.section === b.section && a.field === b.field

interface Other {
  readonly transport: FramedTransport
  readonly place: Place
}

/**
 * Who has which case and which field open: told beside the exchange to every device that is connected, kept nowhere, gone
 * with the connection.
 */
export class Presence {
  readonly #isShared: (caseId: CaseId) => boolean
  readonly #others = new Map<DeviceId, Other>()
  readonly #listeners = new Set<() => void>()
  #mine: Place = NOWHERE

  /** `isShared`: whether a case may be spoken of to others; of one that may not nothing is told. */
  constructor(isShared: (caseId: CaseId) => boolean) {
    this.#isShared = isShared
  }

  /** Those who have something open. */
  get others(): readonly PlaceOfOther[] {
    return [...this.#others]
      .filter(([, { place }]) => place.caseId !== null)
      .map(([device, { place }]) => ({ device, ...place }))
  }

  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }

  /** What this device has open from now on. */
  here(place: Place): void {
    const mine = place.caseId !== null && this.#isShared(place.caseId) ? place : NOWHERE
    if (isSame(mine, this.#mine)) return
    this.#mine = mine
    for (const { transport } of this.#others.values()) transport.lobby.send(writePlace(mine))
  }

  /** This field is being filled in, in the case that is open. */
  at(caseId: CaseId, field: string): void {
    if (this.#mine.caseId === caseId) this.here({ ...this.#mine, field })
  }

  /** That field is left; where another one was entered meanwhile, that one stays. */
  leave(caseId: CaseId, field: string): void {
    if (this.#mine.caseId === caseId && this.#mine.field === field) this.here({ ...this.#mine, field: null })
  }

  add(device: DeviceId, transport: FramedTransport): void {
    this.#others.set(device, { transport, place: NOWHERE })
    transport.lobby.listen(LOBBY.presence, message => {
      const place = readPlace(message)
      const known = this.#others.get(device)
      if (!place || known?.transport !== transport || isSame(known.place, place)) return
      this.#others.set(device, { transport, place })
      this.#tell()
    })
    if (this.#mine !== NOWHERE) transport.lobby.send(writePlace(this.#mine))
    this.#tell()
  }

  remove(device: DeviceId, transport: FramedTransport): void {
    if (this.#others.get(device)?.transport !== transport) return
    this.#others.delete(device)
    this.#tell()
  }

  #tell(): void {
    for (const listener of [...this.#listeners]) listener()
  }
}
