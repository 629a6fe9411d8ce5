import { type CalendarDate, calendarDateSchema, daysBetween } from '../../src/calendar-date.ts'
import { readLastMet } from './last-met.ts'
import type { CasebookStorage, Stored } from './storage.ts'

const LAST_BUNDLE_VALUE = 'last-bundle'

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

/** To be called after a bundle was written. */
export const noteBundle = (storage: CasebookStorage, on: CalendarDate): Promise<Stored> =>
  storage.writeValue(LAST_BUNDLE_VALUE, new TextEncoder().encode(on))

const daysSinceBundle = async (storage: CasebookStorage, today: CalendarDate): Promise<number | null> => {
  const bytes = await storage.readValue(LAST_BUNDLE_VALUE)
  const on = calendarDateSchema.safeParse(new TextDecoder().decode(bytes))
  return on.success ? daysBetween(on.data, today) : null
}

const daysSinceMeeting = async (storage: CasebookStorage, today: CalendarDate): Promise<number | null> => {
  const days = [...(await readLastMet(storage)).values()].map(({ on }) => daysBetween(on, today))
  return days.length === 0 ? null : Math.min(...days)
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
    daysSinceBundle: await daysSinceBundle(storage, today),
    daysSinceMeeting: await daysSinceMeeting(storage, today),
  }
}
