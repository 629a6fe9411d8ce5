import type { Crew } from '../../src/crew/crew.ts'
import type { DeviceId } from '../../src/ids.ts'

export type Standing = 'member' | 'struck' | 'unknown'

/** How a device stands in the crew. Before the crew list has come, the device that invited this one is taken for a member. */
export const standingIn =
  (crew: () => Crew) =>
  (device: DeviceId): Standing => {
    const { members } = crew()
    const member = members.get(device)
    if (!member) return members.size === 0 ? 'member' : 'unknown'
    return member.struckBy === null ? 'member' : 'struck'
  }
