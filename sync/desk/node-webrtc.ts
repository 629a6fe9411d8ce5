import { WebSocket } from 'ws'
import { InputError } from './command.ts'

const MISSING = `--keep needs the library @roamhq/wrtc, which is not here: it is left out where npm has no build of it for this machine.
Nothing was started. Run npm install again; if it stays missing, leave the app open in a browser on this laptop instead.`

/** As a page of the hub itself calls: the hub takes no other. It is this very program, so its certificate proves nothing here. */
class OwnHubSocket extends WebSocket {
  constructor(address: string) {
    const url = new URL(address)
    super(address, { origin: `${url.protocol === 'wss:' ? 'https' : 'http'}://${url.host}`, rejectUnauthorized: false })
  }

  /** Before it is open, a browser's socket refuses within a promise that nobody waits for; here that would end the program. */
  override send(data: string): void {
    if (this.readyState === WebSocket.OPEN) super.send(data)
  }
}

/**
 * y-webrtc 10.3.0 fails within a promise that nobody waits for when a message comes from a connection that is gone already. A
 * page writes that to its console and goes on; Node would end the program. Any other fault still ends it.
 */
const passOverLateMessages = (fault: unknown): void => {
  const where = fault instanceof Error ? fault.stack?.split('\n')[1] : undefined
  if (!where?.includes('/y-webrtc/')) throw fault
}

/** Gives this program what every browser has and Node has not: connections to others, and sockets as a page of its own hub. */
export const bringWebRtc = async (): Promise<void> => {
  const library = await import('@roamhq/wrtc').catch(() => {
    throw new InputError(MISSING)
  })
  const { RTCPeerConnection, RTCSessionDescription, RTCIceCandidate } = library.default
  process.on('unhandledRejection', passOverLateMessages)
  Object.assign(globalThis, { RTCPeerConnection, RTCSessionDescription, RTCIceCandidate, WebSocket: OwnHubSocket })
}
