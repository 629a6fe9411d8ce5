import { describe, expect, it } from 'vitest'
import { type CalendarDate, toCalendarDate } from '../../src/calendar-date.ts'
import { deviceIdSchema } from '../../src/ids.ts'
import { writeLastMet } from '../../sync/storage/last-met.ts'
import { createMemoryStorage } from '../../sync/storage/memory.ts'
import { askToPersist, noteBundle, type Platform, readiness } from '../../sync/storage/readiness.ts'
import { STORAGE_FULL } from '../../sync/storage/storage.ts'
import { expectOk } from '../support/casebooks.ts'

const TODAY = toCalendarDate('2026-03-02')
const worker = {} as ServiceWorker
const registered = (active: ServiceWorker | null) => async () => ({ active }) as ServiceWorkerRegistration
const full: Platform = {
  serviceWorker: { controller: worker, getRegistration: registered(worker) },
  storage: {
    persisted: async () => true,
    persist: async () => true,
    estimate: async () => ({ usage: 41_000_000, quota: 1_000_000_000 }),
  },
}

describe('ready for the field', () => {
  it('tells what is so: offline copy, promise of the browser, room', async () => {
    expect(await readiness(full, createMemoryStorage().open(), TODAY)).toEqual({
      offlineCopy: true,
      persisted: true,
      usedBytes: 41_000_000,
      quotaBytes: 1_000_000_000,
      daysSinceBundle: null,
      daysSinceMeeting: null,
    })
  })

  it('counts whole days since the last bundle and the last meeting, also over the end of a month', async () => {
    const memory = createMemoryStorage()
    expectOk(await noteBundle(memory.open(), toCalendarDate('2026-02-26')))
    const met = (device: string, on: CalendarDate) => ({
      device: deviceIdSchema.parse(device),
      on,
      atMs: 0,
      caseCount: 3,
    })
    const longAgo = met('A'.repeat(22), toCalendarDate('2026-02-01'))
    expectOk(await writeLastMet(memory.open(), [longAgo, met(`B${'A'.repeat(21)}`, TODAY)]))
    // 26 February to 2 March 2026, not a leap year: 4 days by any calendar.
    expect(await readiness(full, memory.open(), TODAY)).toMatchObject({ daysSinceBundle: 4, daysSinceMeeting: 0 })
    memory.failWrites(STORAGE_FULL)
    expect((await noteBundle(memory.open(), TODAY)).ok).toBe(false)
    expect(await readiness(full, memory.open(), TODAY)).toMatchObject({ daysSinceBundle: 4 })
  })

  it('says no where the browser says no, and nothing where it cannot be asked', async () => {
    const storage = createMemoryStorage().open()
    const refusing: Platform = {
      serviceWorker: { controller: null, getRegistration: registered(null) },
      storage: { persisted: async () => false, persist: async () => false },
    }
    expect(await readiness(refusing, storage, TODAY)).toMatchObject({ offlineCopy: false, persisted: false })
    expect(await askToPersist(refusing)).toBe(false)
    // A page on plain http on a LAN address has neither (Secure Contexts, W3C).
    expect(await readiness({}, storage, TODAY)).toMatchObject({ offlineCopy: null, persisted: null, quotaBytes: null })
    expect(await askToPersist({})).toBeNull()
  })

  it('does not take a copy that is still being made for one that is there', async () => {
    const installing: Platform = { serviceWorker: { controller: null, getRegistration: async () => undefined } }
    expect((await readiness(installing, createMemoryStorage().open(), TODAY)).offlineCopy).toBe(false)
    const waiting: Platform = { serviceWorker: { controller: null, getRegistration: registered(worker) } }
    expect((await readiness(waiting, createMemoryStorage().open(), TODAY)).offlineCopy).toBe(true)
  })

  it('leaves out a date that cannot be read', async () => {
    const storage = createMemoryStorage().open()
    await storage.writeValue('last-bundle', new TextEncoder().encode('last week'))
    expect((await readiness(full, storage, TODAY)).daysSinceBundle).toBeNull()
  })
})
