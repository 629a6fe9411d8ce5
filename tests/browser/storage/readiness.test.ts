import { expect, it } from 'vitest'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { createMemoryStorage } from '../../../sync/storage/memory.ts'
import { readiness } from '../../../sync/storage/readiness.ts'

it('readiness asks the browser itself', async () => {
  const told = await readiness(navigator, createMemoryStorage().open(), toCalendarDate('2026-03-02'))
  // The runner's pages have no worker; Chromium answers the rest (Storage Standard, 6 and 7).
  expect(told.offlineCopy).toBe(false)
  expect(told.persisted).toBe(await navigator.storage.persisted())
  expect(told.quotaBytes).toBe((await navigator.storage.estimate()).quota)
  expect(told.quotaBytes).toBeGreaterThan(0)
})
