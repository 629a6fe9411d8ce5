import { type ClosedBecause, FLOODED, INBOX_LIMIT_MESSAGES } from './transport.ts'

/** The receiving half of an end, the same for every adapter: keeps order, hands out the rest after the end, stops floods. */
export interface Inbox {
  /** False when the message did not fit any more: the inbox is then closed as flooded. */
  put(message: Uint8Array): boolean
  take(): Promise<Uint8Array | undefined>
  close(reason: ClosedBecause): void
  isClosed(): boolean
  /** Somebody asked for a message that has not come. */
  isWaitedFor(): boolean
  readonly closed: Promise<ClosedBecause>
}

export const createInbox = (): Inbox => {
  const waiting: Uint8Array[] = []
  let reader: ((message: Uint8Array | undefined) => void) | undefined
  let isClosed = false
  let announce: (reason: ClosedBecause) => void = () => {}
  const closed = new Promise<ClosedBecause>(resolve => {
    announce = resolve
  })

  const close = (reason: ClosedBecause): void => {
    isClosed = true
    announce(reason)
    reader?.(undefined)
    reader = undefined
  }
  return {
    put(message) {
      if (isClosed) return true
      if (reader) {
        reader(message)
        reader = undefined
      } else if (waiting.length < INBOX_LIMIT_MESSAGES) {
        waiting.push(message)
      } else {
        close(FLOODED)
        return false
      }
      return true
    },
    take() {
      if (reader) throw new Error('receive() called while another receive() waits')
      const message = waiting.shift()
      if (message || isClosed) return Promise.resolve(message)
      return new Promise(resolve => {
        reader = resolve
      })
    },
    close,
    isClosed: () => isClosed,
    isWaitedFor: () => reader !== undefined,
    closed,
  }
}
