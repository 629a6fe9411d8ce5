import { afterEach, beforeEach, expect, it } from 'vitest'
import { type Signalling, WebrtcConn, WebrtcProvider } from 'y-webrtc'
import { Doc } from 'yjs'
import { type PeerChannel, takeOverPeer } from '../../../sync/transport/peer-channel.ts'

/** One end that offers. */
interface End {
  readonly connection: WebrtcConn
  readonly channel: PeerChannel
  /** It has made its offer. */
  readonly offered: Promise<void>
  hear(signal: Signal): void
}
type Signal = Parameters<Signalling['send']>[0]['data']['signal']

let provider: WebrtcProvider
beforeEach(async () => {
  const options = { signaling: [], peerOpts: { trickle: true, config: { iceServers: [] } } }
  provider = new WebrtcProvider(crypto.randomUUID(), new Doc(), options)
  await provider.key
})
afterEach(() => provider.destroy())

const offeringEnd = (tell: (signal: Signal) => void): End => {
  const { room } = provider
  if (!room) throw new Error('no room')
  let tellOffered: () => void = () => undefined
  const offered = new Promise<void>(resolve => {
    tellOffered = resolve
  })
  const signalling: Signalling = {
    send({ data: { signal } }) {
      tell(signal)
      if (signal.type === 'offer') tellOffered()
    },
  }
  const connection = new WebrtcConn(signalling, true, crypto.randomUUID(), room)
  return {
    connection,
    channel: takeOverPeer(connection.peer),
    offered,
    hear: signal => connection.peer.signal(signal as { readonly type: string; readonly sdp: string }),
  }
}

it('two that offer to each other at once meet all the same: one offer gives way, and both hear each other', async () => {
  // As the library at a hub does it: the newer offer is answered, the other one is passed over.
  const waiting: (() => void)[] = []
  let areBothOffered = false
  const carry = (work: () => void): void => {
    if (areBothOffered) work()
    else waiting.push(work)
  }
  const older: End = offeringEnd(signal =>
    carry(() => {
      if (signal.type !== 'offer') newer.hear(signal)
    }),
  )
  const newer: End = offeringEnd(signal => carry(() => older.hear(signal)))
  await Promise.all([older.offered, newer.offered])
  areBothOffered = true
  for (const work of waiting.splice(0)) work()

  expect(await Promise.all([older.channel.connected, newer.channel.connected])).toEqual([true, true])
  const heardBy = ({ channel }: End) =>
    new Promise<Uint8Array>(resolve => channel.channel.listen({ frame: resolve, closed: () => undefined }))
  const heard = Promise.all([heardBy(older), heardBy(newer)])
  older.channel.channel.send(Uint8Array.of(1, 2))
  newer.channel.channel.send(Uint8Array.of(3, 4))
  expect(await heard).toEqual([Uint8Array.of(3, 4), Uint8Array.of(1, 2)])
  const [here, there] = [await older.channel.fingerprints(), await newer.channel.fingerprints()]
  expect(here).toEqual({ here: there.there, there: there.here })
  for (const { connection } of [older, newer]) connection.destroy()
})
