import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { WebrtcConn, WebrtcProvider } from 'y-webrtc'
import { Doc } from 'yjs'

/**
 * The internals of y-webrtc 10.3.0 and of the simple-peer in it that the channel takes over: another version in which one
 * of them is otherwise fails here, and not in the field.
 */
const options = { signaling: [], peerOpts: { trickle: false, config: { iceServers: [] } } }
let provider: WebrtcProvider
beforeEach(async () => {
  provider = new WebrtcProvider(crypto.randomUUID(), new Doc(), options)
  await provider.key
})
afterEach(() => provider.destroy())

const roomOf = () => {
  const { room } = provider
  if (!room) throw new Error('no room once the key is there')
  return room
}

describe('y-webrtc', () => {
  it('has a room with its connections by name once its key is there', () => {
    expect(roomOf().peerId).toMatch(/^[0-9a-f-]{36}$/)
    expect(roomOf().webrtcConns).toBeInstanceOf(Map)
    expect(roomOf().bcConns).toBeInstanceOf(Set)
  })

  it('takes signalling, initiator, name and room, in this order, and publishes the whole offer once', async () => {
    const messages: unknown[] = []
    const sent = await new Promise(resolve => {
      const signalling = {
        send: (message: unknown) => {
          messages.push(message)
          resolve(message)
        },
      }
      const connection = new WebrtcConn(signalling, true, 'other', roomOf())
      expect(connection).toMatchObject({ remotePeerId: 'other', room: roomOf(), connected: false, closed: false })
    })
    expect(sent).toMatchObject({ type: 'publish', data: { to: 'other', type: 'signal', signal: { type: 'offer' } } })
    expect(sent).toHaveProperty('data.signal.sdp', expect.stringMatching(/^a=candidate:/m))
    expect(messages).toHaveLength(1)
  })

  it('makes its peer in the constructor: a connection, and a channel where it is the one that offers', () => {
    const silent = { send: () => undefined }
    for (const initiator of [true, false]) {
      const { peer } = new WebrtcConn(silent, initiator, 'other', roomOf())
      expect(peer.initiator).toBe(initiator)
      expect(peer._pc).toBeInstanceOf(RTCPeerConnection)
      expect(peer._pc?.getConfiguration().iceServers).toEqual([])
      if (initiator)
        expect(peer._channel).toMatchObject({ ordered: true, maxRetransmits: null, readyState: 'connecting' })
      else expect(peer._channel).toBeNull()
      expect(peer.destroyed).toBe(false)
      peer.destroy()
    }
  })

  it('hears and sends through functions of its peer that can be taken over', () => {
    const { peer } = new WebrtcConn({ send: () => undefined }, true, 'other', roomOf())
    const sent: (number | undefined)[] = []
    peer.send = message => void sent.push(message[0])
    // What it says when it believes to be connected: its document's state (0), then presence (1).
    peer.emit('connect')
    // A question for presence (3) is answered by presence (1).
    peer.emit('data', Uint8Array.of(3))
    expect(sent).toEqual([0, 1, 1])
    peer.destroy()
  })

  it('forgets a connection whose peer is closed', async () => {
    const connection = new WebrtcConn({ send: () => undefined }, true, 'other', roomOf())
    roomOf().webrtcConns.set('other', connection)
    const told = new Promise(resolve => provider.on('peers', resolve))
    connection.destroy()
    expect(await told).toMatchObject({ removed: ['other'] })
    expect(roomOf().webrtcConns.size).toBe(0)
    expect(connection.closed).toBe(true)
    expect(connection.peer.destroyed).toBe(true)
  })

  it('tells in the same turn in which another one joins: the provider’s event "peers" carries who was added', async () => {
    expect(typeof provider.on).toBe('function')
    const heard = new Promise(resolve => provider.on('peers', resolve))
    const connection = new WebrtcConn({ send: () => undefined }, false, 'gone', roomOf())
    roomOf().webrtcConns.set('gone', connection)
    connection.peer.destroy()
    expect(await heard).toMatchObject({ added: [], removed: ['gone'] })
  })
})
