import { createMemoryStorage } from '../../../sync/storage/memory.ts'
import { platformTimer } from '../../../sync/timer.ts'
import type { Channel } from '../../../sync/transport/channel.ts'
import { transportOver } from '../../../sync/transport/frames.ts'
import { Meetings } from '../../../sync/transport/meetings.ts'
import { type MemoryChannel, memoryChannels } from '../../support/channels.ts'
import { type Phone, TODAY } from '../case/practice-case.ts'

export interface PhoneHere extends Phone {
  readonly meetings: Meetings
}

/** 12 May 2026, 9:42 by the clock of this device. */
export const NOW_MS = new Date(2026, 4, 12, 9, 42).getTime()

/** The phone outside practice, with its connections. */
export const here = (phone: Phone): PhoneHere => {
  const meetings = new Meetings({
    casebook: phone.casebook,
    storage: createMemoryStorage().open(),
    timer: platformTimer,
    clock: () => NOW_MS,
    today: () => TODAY,
  })
  return { ...phone, app: { ...phone.app, practice: false, meetings }, meetings }
}

/** Connects two phones as if they had passed the gate, and gives the line between them, seen from the first. */
export const lineBetween = (one: PhoneHere, other: PhoneHere): MemoryChannel => {
  const [a, b] = memoryChannels()
  const take = ({ meetings }: PhoneHere, { casebook }: Phone, channel: Channel): void => {
    const { device, casebookId } = casebook
    const publicKey = casebook.crew().members.get(device)?.key ?? ''
    const transport = transportOver({ channel, timer: platformTimer, takeOver: hears => channel.listen(hears) })
    meetings.take({ device, publicKey, casebookId, transport })
  }
  take(one, other, a)
  take(other, one, b)
  return a
}
