import type { Channel, ChannelListener } from '../../sync/transport/channel.ts'

/** Said in place of a frame: the other end hung up, or the line broke. */
export const HUNG_UP = null
/** What goes over a line from port to port. */
export type OnTheLine = Uint8Array | typeof HUNG_UP

/** One end of a line between two frames of this page, as a data channel is between two phones. */
export const channelOver = (port: MessagePort): Channel => {
  const early: Uint8Array[] = []
  let hears: ChannelListener | undefined
  let isClosed = false

  const end = (): void => {
    if (isClosed) return
    isClosed = true
    port.close()
    hears?.closed()
  }
  port.onmessage = ({ data }: MessageEvent<OnTheLine>) => {
    if (data === HUNG_UP) end()
    else if (hears) hears.frame(data)
    else early.push(data)
  }
  return {
    send(frame) {
      if (!isClosed) port.postMessage(frame.slice())
    },
    // Where the line is slow, the frames wait in the page, which takes any number of them.
    waitingBytes: () => 0,
    drained: () => Promise.resolve(),
    listen(listener) {
      hears = listener
      for (const frame of early.splice(0)) listener.frame(frame)
      if (isClosed) listener.closed()
    },
    close() {
      if (isClosed) return
      port.postMessage(HUNG_UP)
      end()
    },
  }
}
