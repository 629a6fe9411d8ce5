import { type LobbyConnection, type LobbyRoom, openLobbyRoom } from '../../../sync/transport/lobby-room.ts'

/** Two connections of two rooms, their descriptions carried over as two codes would. */
export const connectRooms = async (
  a: LobbyRoom,
  b: LobbyRoom,
): Promise<readonly [LobbyConnection, LobbyConnection]> => {
  const [offering, answering] = [a.connect(true), b.connect(false)]
  const offer = await offering.description
  if (!offer) throw new Error('no offer')
  answering.take(offer)
  const answer = await answering.description
  if (!answer) throw new Error('no answer')
  offering.take(answer)
  const connected = await Promise.all([offering.channel.connected, answering.channel.connected])
  if (!connected.every(Boolean)) throw new Error('not connected')
  return [offering, answering]
}

export const twoRooms = async (): Promise<readonly [LobbyRoom, LobbyRoom]> => [
  await openLobbyRoom(),
  await openLobbyRoom(),
]
