import * as z from 'zod'
import { calendarDateSchema } from '../../src/calendar-date.ts'
import { type DeviceId, deviceIdSchema } from '../../src/ids.ts'
import type { CasebookStorage, Stored } from './storage.ts'

const LAST_MET_VALUE = 'last-met'

const lastMetSchema = z.strictObject({
  device: deviceIdSchema,
  /** The date in the team's zone, and milliseconds since 1970. */
  on: calendarDateSchema,
  atMs: z.number().int(),
  caseCount: z.number().int().min(0),
})

/** When this device and another one last held the same, and how many cases that was. */
export type LastMet = Readonly<z.infer<typeof lastMetSchema>>

/** By device. What cannot be read counts as never met: the next meeting writes it anew. */
export const readLastMet = async (storage: CasebookStorage): Promise<ReadonlyMap<DeviceId, LastMet>> => {
  const bytes = await storage.readValue(LAST_MET_VALUE)
  if (!bytes) return new Map()
  try {
    const read = z.array(lastMetSchema).safeParse(JSON.parse(new TextDecoder().decode(bytes)))
    return new Map((read.data ?? []).map(one => [one.device, one]))
  } catch {
    return new Map()
  }
}

export const writeLastMet = (storage: CasebookStorage, met: Iterable<LastMet>): Promise<Stored> =>
  storage.writeValue(LAST_MET_VALUE, new TextEncoder().encode(JSON.stringify([...met])))
