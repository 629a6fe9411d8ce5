import { describe, expect, test } from 'vitest'
import { openTabs, type TabNews } from '../../sync/storage/tabs.ts'
import { expectOk } from '../support/casebooks.ts'
import { closeTab, firstTab, openTab, untilEntries } from '../support/devices.ts'
import { freshName } from '../support/sealed-stores.ts'

const place = (name: string) => ({ kind: 'save' as const, set: { place: name } })
const SAVES = 40

const texts = (entries: readonly { readonly counted: { readonly entry: { readonly set: object } } }[]) =>
  entries.map(({ counted }) => ('place' in counted.entry.set ? String(counted.entry.set.place) : '')).sort()

/** Two tabs of one device at once. Run on fake-indexeddb and in the browser. */
export const twoTabsSuite = (name: string): void => {
  describe(`two tabs on ${name}`, () => {
    test('writing and merging the rows of one case at the same time lose nothing, and both see everything', async () => {
      const here = await firstTab()
      const { caseId } = expectOk(await here.casebook.addCase(place('Low Ford')))
      const there = await openTab(here.name)
      const saving = async ({ casebook }: typeof there, who: string): Promise<void> => {
        for (let save = 0; save < SAVES; save += 1) expectOk(await casebook.save(caseId, place(`${who} ${save}`)))
      }
      await Promise.all([saving(here, 'here'), saving(there, 'there')])

      const expected = ['Low Ford', ...Array.from({ length: SAVES }, (_, save) => [`here ${save}`, `there ${save}`])]
      const all = expected.flat().sort()
      await untilEntries(here.casebook, caseId, all.length)
      await untilEntries(there.casebook, caseId, all.length)
      for (const tab of [here, there]) closeTab(tab)
      const later = await openTab(here.name)
      expect(texts(await later.casebook.record(caseId))).toEqual(all)
      // Both merged: far fewer rows than the 81 saves.
      expect((await later.device.storage.readRows(caseId)).rows.length).toBeLessThan(64)
      closeTab(later)
    })

    test('a new case, an erasure and a chair model in one tab take effect in the other', async () => {
      const here = await firstTab()
      const there = await openTab(here.name)
      const { caseId } = expectOk(await here.casebook.addCase(place('Low Ford')))
      await untilEntries(there.casebook, caseId, 1)
      expect(there.casebook.summaries().map(one => one.caseId)).toEqual([caseId])
      expect((await there.casebook.view(caseId))?.values.place).toBe('Low Ford')

      expectOk(await there.casebook.eraseCase(caseId))
      await untilEntries(here.casebook, 'team', 2)
      expect(here.casebook.erasures().get(caseId)?.state).toBe('hidden')
      expect(here.casebook.summaries()).toEqual([])

      expectOk(await here.casebook.setModel('trail', null))
      const ids = await untilEntries(there.casebook, 'catalogue', 1)
      expect(ids).toEqual(await here.casebook.entryIds('catalogue'))
      for (const tab of [here, there]) closeTab(tab)
    })

    test('locking one locks the other: nothing more is taken there, in words', async () => {
      const here = await firstTab()
      const there = await openTab(here.name)
      const heard = new Promise<TabNews>(resolve => there.device.tabs.subscribe(resolve))
      here.device.lock()
      expect(await heard).toEqual({ news: 'locked' })
      const refused = await there.casebook.addCase(place('Weir'))
      expect(!refused.ok && refused.failure.message).toMatch(/^Not saved.*locked.*safe/)
    })

    test('locking once more what another tab has locked already is calm, and locks nobody out of anything', async () => {
      const here = await firstTab()
      const there = await openTab(here.name)
      const heard = new Promise<TabNews>(resolve => there.device.tabs.subscribe(resolve))
      here.device.lock()
      await heard
      expect(() => there.device.lock()).not.toThrow()
      expect(() => here.device.lock()).not.toThrow()
      const later = await openTab(here.name)
      expectOk(await later.casebook.addCase(place('Low Ford')))
      closeTab(later)
    })

    test('what another version of the app says, and what is said of another store, is passed over', async () => {
      const [store, otherStore] = [freshName(), freshName()]
      const [mine, other] = [openTabs(store), openTabs(otherStore)]
      const heard: TabNews[] = []
      const last = new Promise<void>(resolve => {
        mine.subscribe(news => {
          heard.push(news)
          if (news.news === 'locked') resolve()
        })
      })
      other.subscribe(news => heard.push(news))
      const stranger = new BroadcastChannel(store)
      for (const said of [null, 'text', { news: 'later-word' }, { news: 'document-changed', document: 'no id' }])
        stranger.postMessage(said)
      stranger.postMessage({ news: 'document-changed', document: 'team', more: 1 })
      stranger.postMessage({ news: 'locked' })
      await last
      expect(heard).toEqual([{ news: 'document-changed', document: 'team' }, { news: 'locked' }])
      stranger.close()
      mine.close()
      other.close()
    })
  })
}
