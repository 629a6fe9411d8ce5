import { HUB_ANSWER_PATH } from '../../sync/transport/hub-path.ts'

/** `nobody`: no hub at this address waits for an answer. `other-code`: its screen shows another code by now. */
export type GivenToHub = 'given' | 'nobody' | 'other-code' | 'unreachable'

const BY_STATUS: Readonly<Record<number, GivenToHub>> = { 204: 'given', 404: 'nobody', 409: 'other-code' }

/** Gives the answer to the hub that this app came from, with the code that was read off its screen: nothing goes elsewhere. */
export const giveToHub = async (offer: string, answer: string): Promise<GivenToHub> => {
  try {
    const { status } = await fetch(HUB_ANSWER_PATH, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json' },
      body: JSON.stringify({ offer: offer.trim(), answer }),
    })
    return BY_STATUS[status] ?? 'nobody'
  } catch {
    // No network, or no server any more.
    return 'unreachable'
  }
}
