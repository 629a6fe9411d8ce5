import { createInbox } from './inbox.ts'
import { CONNECTION_CUT, MESSAGE_LIMIT_BYTES, OTHER_END_CLOSED, SILENT, type Transport } from './transport.ts'

/** Two ends in one process, and a hand on the line between them: for tests, demos and the command line. */
export interface MemoryLink {
  readonly ends: readonly [Transport, Transport]
  /** Lets up to `most` held messages arrive, oldest first, whichever way they go. Gives how many did. */
  deliver(most?: number): number
  /** Holds every message from now on until `deliver` or `release`. */
  hold(): void
  /** Lets what is held arrive, and everything after it at once. */
  release(): void
  /** The line breaks: what is still on its way is lost, both ends close as `cut`. */
  cut(): void
  /** What has arrived so far, both ways together. */
  carried(): { readonly messages: number; readonly bytes: number }
}

export interface MemoryLinkOptions {
  /** The line breaks after this many messages have arrived: the next one is lost. */
  readonly cutAfterMessages?: number
  readonly held?: boolean
  /**
   * Closes both ends as `silent` once each waits for the other and nothing is on its way: the limit of a real adapter,
   * without its clock. For two ends that only speak when it is their turn.
   */
  readonly endsWhenSilent?: boolean
}

/** A connected pair. Nothing waits on a clock: messages arrive at once, or when a test lets them. */
export const memoryLink = (options: MemoryLinkOptions = {}): MemoryLink => {
  const inboxes = [createInbox(), createInbox()] as const
  const onTheWay: (() => void)[] = []
  let held = options.held ?? false
  let messages = 0
  let bytes = 0

  const cut = (): void => {
    onTheWay.length = 0
    for (const inbox of inboxes) inbox.close(CONNECTION_CUT)
  }
  const travel = (arrive: () => void): void => {
    if (held) onTheWay.push(arrive)
    else arrive()
  }
  const deliver = (most = Number.POSITIVE_INFINITY): number => {
    let count = 0
    while (count < most) {
      const arrive = onTheWay.shift()
      if (!arrive) break
      arrive()
      count += 1
    }
    return count
  }
  const endOf = (here: 0 | 1): Transport => {
    const mine = inboxes[here]
    const theirs = inboxes[here === 0 ? 1 : 0]
    return {
      send(message) {
        if (message.length > MESSAGE_LIMIT_BYTES)
          throw new RangeError(`a message of ${message.length} bytes; at most ${MESSAGE_LIMIT_BYTES} may be sent`)
        if (mine.isClosed()) return Promise.resolve()
        const copy = message.slice()
        travel(() => {
          if (theirs.isClosed()) return
          if (messages === options.cutAfterMessages) return cut()
          messages += 1
          bytes += copy.length
          if (!theirs.put(copy)) mine.close(OTHER_END_CLOSED)
        })
        return Promise.resolve()
      },
      receive() {
        const message = mine.take()
        const isSilent = onTheWay.length === 0 && inboxes.every(inbox => inbox.isWaitedFor())
        if (options.endsWhenSilent && isSilent) for (const inbox of inboxes) inbox.close(SILENT)
        return message
      },
      close(reason) {
        if (mine.isClosed()) return
        mine.close(reason)
        travel(() => theirs.close(OTHER_END_CLOSED))
      },
      closed: mine.closed,
    }
  }
  return {
    ends: [endOf(0), endOf(1)],
    deliver,
    hold() {
      held = true
    },
    release() {
      held = false
      deliver()
    },
    cut,
    carried: () => ({ messages, bytes }),
  }
}
