import type { Fingerprints } from '../../sync/transport/gate.ts'

/** Told by a phone to the frame that it stands in: it is switched on. Its detail is the phone. */
export const PHONE_READY = 'phone-ready'
/** Told by a phone: its facts are others than before. */
export const PHONE_CHANGE = 'phone-change'

/** What can be seen of a phone from outside without opening a case on it. */
export interface PhoneFacts {
  /** Entries of the one case; 0 until it is here. */
  readonly entries: number
  /** Fields of the case with answers that were given apart and not settled. */
  readonly differences: number
  /** The same text on two phones that hold the same entries of every document. */
  readonly hash: string
  /** Entries that came over the line, since the page began. */
  readonly entriesReceived: number
}

/** A phone as the page around it handles it: plain values and message ports, since each phone runs in a frame of its own. */
export interface DemoPhone extends EventTarget {
  readonly facts: PhoneFacts
  /** Founds the casebook and plays what has happened to the one person so far. */
  found(): Promise<void>
  /** Meets whoever is at the other end of a line; a phone without a casebook is invited. */
  meet(line: MessagePort, fingerprints: Fingerprints): Promise<void>
  /** Opens a part of the case. */
  show(section: string): void
}
