import { type CalendarDate, calendarDateSchema, daysBetween } from '../../src/calendar-date.ts'
import type { CasebookStorage, Stored } from './storage.ts'

/** Ways in which what is here came to be elsewhere too. */
export type HandedOn = 'bundle' | 'meeting'

export interface Readiness {
  /** The app is on this device and opens without a network. Null where the browser has no such thing. */
  readonly offlineCopy: boolean | null
  /** The browser has promised not to clear the store by itself. Null where it cannot be asked. */
  readonly persisted: boolean | null
  readonly usedBytes: number | null
  readonly quotaBytes: number | null
  /** Since anything was last handed on; null when it never was. */
  readonly daysSinceBundle: number | null
  readonly daysSinceMeeting: number | null
}

/** The part of `navigator` that is asked. Parts are missing in old browsers and on pages that are not secure. */
export interface Platform {
  readonly serviceWorker?: Pick<ServiceWorkerContainer, 'controller' | 'getRegistration'>
  readonly storage?: Partial<Pick<StorageManager, 'persisted' | 'persist' | 'estimate'>>
}

const valueNameOf = (how: HandedOn): string => `last-${how}`

/** To be called after a bundle was written, or a meeting ended with everything acknowledged. */
export const noteHandedOn = (storage: CasebookStorage, how: HandedOn, on: CalendarDate): Promise<Stored> =>
  storage.writeValue(valueNameOf(how), new TextEncoder().encode(on))

const daysSince = async (storage: CasebookStorage, how: HandedOn, today: CalendarDate): Promise<number | null> => {
  const bytes = await storage.readValue(valueNameOf(how))
  const on = calendarDateSchema.safeParse(new TextDecoder().decode(bytes))
  return on.success ? daysBetween(on.data, today) : null
}

/** Asks the browser to keep the store when room runs short. Null where it cannot be asked. */
export const askToPersist = async ({ storage }: Platform): Promise<boolean | null> =>
  (await storage?.persist?.()) ?? null

/** For the "ready for the field" page: facts of this moment, nothing assumed. */
export const readiness = async (
  platform: Platform,
  storage: CasebookStorage,
  today: CalendarDate,
): Promise<Readiness> => {
  const { serviceWorker } = platform
  const worker = serviceWorker && (serviceWorker.controller ?? (await serviceWorker.getRegistration())?.active)
  const room = await platform.storage?.estimate?.()
  return {
    offlineCopy: serviceWorker ? Boolean(worker) : null,
    persisted: (await platform.storage?.persisted?.()) ?? null,
    usedBytes: room?.usage ?? null,
    quotaBytes: room?.quota ?? null,
    daysSinceBundle: await daysSince(storage, 'bundle', today),
    daysSinceMeeting: await daysSince(storage, 'meeting', today),
  }
}
