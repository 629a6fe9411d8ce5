import { describe, expect, it } from 'vitest'
import { draftsOf, openDrafts, unsavedCount, unsavedPlaces } from '../../../components/controllers/drafts.ts'
import { keepWords, keptWords } from '../../../components/controllers/kept-words.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import type { CaseId } from '../../../src/ids.ts'
import { createCasebook, openCasebook } from '../../../sync/open-casebook.ts'
import { outcomeRules } from '../../../sync/outcome-rules.ts'
import { type DraftStore, draftStore } from '../../../sync/storage/drafts.ts'
import { createMemoryStorage } from '../../../sync/storage/memory.ts'
import { createDeviceKey } from '../../../sync/trust/device-key.ts'
import { expectOk } from '../../support/casebooks.ts'

const TODAY = toCalendarDate('2026-11-25')
const silent = { tell: () => undefined }

/** A device with one case, whose casebook is opened anew as often as it is locked. */
const device = async () => {
  const memory = createMemoryStorage()
  const { deviceKey } = await createDeviceKey()
  const options = () => ({
    storage: memory.open(),
    deviceKey,
    rules: outcomeRules(),
    clock: () => Date.parse(`${TODAY}T09:00:00Z`),
    today: () => TODAY,
  })
  const first = expectOk(await createCasebook({ ...options(), founderName: 'Wenna Dalmor' }))
  const { caseId } = expectOk(await first.addCase({ kind: 'save', set: { personName: 'Ilse Dorn' } }))
  const store = (): DraftStore => draftStore(memory.open(), silent, 'drafts test')
  return { memory, caseId, first, store, unlock: async () => expectOk(await openCasebook(options())) }
}
const viewOf = async (casebook: Awaited<ReturnType<Awaited<ReturnType<typeof device>>['unlock']>>, caseId: CaseId) => {
  const view = await casebook.view(caseId)
  if (!view) throw new Error(`no case ${caseId}`)
  return view
}

describe('what is typed', () => {
  it('is found again when the casebook is opened anew: answers with what they end, and words', async () => {
    const { first, caseId, store, unlock } = await device()
    const typed = await openDrafts(first, store(), undefined)
    const view = await viewOf(first, caseId)
    typed.form(caseId, 'referral').set('personName', 'Ilse Dor', view)
    keepWords(first, caseId, 'reopen', 'Came back from')
    expect(await typed.written()).toBe(true)

    const again = await unlock()
    expect(keptWords(again, caseId, 'reopen')).toBe('')
    await openDrafts(again, store(), undefined)
    expect(keptWords(again, caseId, 'reopen')).toBe('Came back from')
    expect(unsavedCount(again, caseId, 'referral')).toBe(1)
    const draft = draftsOf(again).form(caseId, 'referral')
    expect(draft.edit('personName')).toEqual({
      value: 'Ilse Dor',
      over: view.heads.personName?.map(({ id }) => id),
      stood: view.heads.personName?.map(({ id }) => id),
    })
    expect(await draft.save(again, caseId)).toEqual({ ok: true })
    expect((await viewOf(again, caseId)).values.personName).toBe('Ilse Dor')
    expect((await viewOf(again, caseId)).differences).toEqual([])
    await draftsOf(again).written()
    expect([...((await store().read()) ?? [])].map(([key]) => key)).toEqual([`${caseId} words reopen`])
  })

  it('of one device is not seen by another that holds the same casebook in the same page', async () => {
    const { first, caseId, unlock } = await device()
    const other = await unlock()
    keepWords(first, caseId, 'reopen', 'Only here')
    expect(keptWords(other, caseId, 'reopen')).toBe('')
  })

  it('goes with its case when that is erased, and is no reason to wait once it is hidden', async () => {
    const { first, caseId, store, unlock } = await device()
    const typed = await openDrafts(first, store(), undefined)
    keepWords(first, caseId, 'reopen', 'Came back')
    typed.keep('referral', { name: 'Somebody' })
    expect(unsavedPlaces(first)).toEqual([caseId, 'referral'])
    await typed.written()

    expectOk(await first.eraseCase(caseId))
    expect(unsavedPlaces(first)).toEqual(['referral'])
    expect([...((await store().read()) ?? [])]).toHaveLength(2)

    const erased = await unlock()
    // What a second device's word does (design B8), seen from here: the case is erased when the casebook is opened.
    const both = new Map([[caseId, { state: 'erased' }]])
    const drafts = await openDrafts(
      { ...erased, erasures: () => both, subscribe: () => () => false } as never,
      store(),
      undefined,
    )
    await drafts.written()
    expect([...((await store().read()) ?? [])].map(([key]) => key)).toEqual(['referral'])
  })

  it('is kept in the page while the store refuses it, said, and stored once there is room', async () => {
    const { memory, first, caseId, store } = await device()
    const drafts = await openDrafts(first, store(), undefined)
    memory.failWrites({ type: 'storage-full', message: 'no room' })
    keepWords(first, caseId, 'reopen', 'Came ba')
    expect(await drafts.written()).toBe(false)
    expect(drafts.isRefused).toBe(true)
    memory.failWrites(null)
    keepWords(first, caseId, 'reopen', 'Came back')
    expect(await drafts.written()).toBe(true)
    expect(drafts.isRefused).toBe(false)
  })

  it('comes over the lock when the store could not take it before', async () => {
    const { memory, first, caseId, store, unlock } = await device()
    const drafts = await openDrafts(first, store(), undefined)
    memory.failWrites({ type: 'storage-full', message: 'no room' })
    keepWords(first, caseId, 'reopen', 'Came back')
    await drafts.written()
    memory.failWrites(null)
    const again = await unlock()
    await openDrafts(again, store(), drafts)
    expect(keptWords(again, caseId, 'reopen')).toBe('Came back')
    await drafts.written()
    expect((await store().read())?.get(`${caseId} words reopen`)).toBe('Came back')
  })

  it('in another tab takes the place of what was only read here, never of what was typed here', async () => {
    const { first, caseId, store, unlock } = await device()
    const here = await openDrafts(first, store(), undefined)
    keepWords(first, caseId, 'reopen', 'Typed here')
    await here.written()
    const second = await unlock()
    const there = await openDrafts(second, store(), undefined)
    keepWords(second, caseId, 'lift', 'Typed there')
    await there.written()
    keepWords(first, caseId, 'reopen', '')
    await here.written()

    await there.takeStored()
    expect([keptWords(second, caseId, 'reopen'), keptWords(second, caseId, 'lift')]).toEqual(['', 'Typed there'])
    await here.takeStored()
    expect(keptWords(first, caseId, 'lift')).toBe('Typed there')
  })

  it('that cannot be read is said, and what this version does not know is left out', async () => {
    const { memory, first, caseId, store } = await device()
    await store().change(
      new Map([[`${caseId} referral`, [{ field: 'no such field', value: 1, over: [], stood: [] }, 7]]]),
    )
    const drafts = await openDrafts(first, store(), undefined)
    expect(drafts.form(caseId, 'referral').fields).toEqual([])
    expect(drafts.isUnreadable).toBe(false)
    await memory.open().writeValue('drafts', new Uint8Array())
    await drafts.takeStored()
    expect(drafts.isUnreadable).toBe(true)
  })
})
