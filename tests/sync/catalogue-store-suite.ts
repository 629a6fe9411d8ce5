import { describe, expect, test } from 'vitest'
import * as Y from 'yjs'
import catalogue from '../../demo/practice-catalogue.json'
import { chairModelSchema } from '../../src/chair/chair-model.ts'
import { DEFAULT_POLICY, type Policy } from '../../src/fitting/policy.ts'
import { toBase64Url } from '../../sync/bytes.ts'
import { expectOk } from '../support/casebooks.ts'
import { closeTab, firstTab, openTab, type Tab, untilEntries } from '../support/devices.ts'
import { failIndexedDb, rawDatabase } from '../support/sealed-stores.ts'

const [model] = catalogue.models.map(one => chairModelSchema.parse(one))
if (!model) throw new Error('the practice catalogue has no model')
const place = (name: string) => ({ kind: 'save' as const, set: { place: name } })
const dataOf = (name: string): string => `${name}-catalogue`

/** Rows of y-indexeddb as they lie there. */
export const catalogueRows = (name: string): Promise<readonly Uint8Array[]> =>
  rawDatabase(dataOf(name), ['updates'], transaction => {
    const rows = transaction.objectStore('updates').getAll()
    return () => rows.result
  })

export const addCatalogueRow = (name: string, row: Uint8Array): Promise<unknown> =>
  rawDatabase(dataOf(name), ['updates'], transaction => {
    const added = transaction.objectStore('updates').add(row)
    return () => added.result
  })

/** The texts of a catalogue as Yjs alone reads them from the disk, without any of our own code. */
const textsOnDisk = async (name: string): Promise<readonly string[]> => {
  const doc = new Y.Doc()
  for (const row of await catalogueRows(name)) Y.applyUpdate(doc, row)
  return [...doc.getMap<Uint8Array>('entries').values()].map(signed => new TextDecoder().decode(signed.subarray(64)))
}

const marginOf = ({ casebook }: Tab): number => casebook.context().policy.angles.forwardMarginDeg
const withMargin = (forwardMarginDeg: number): Policy => ({
  ...DEFAULT_POLICY,
  angles: { ...DEFAULT_POLICY.angles, forwardMarginDeg },
})

/** An entry that says it is the founder's, with the right hash and a signature of nothing. */
const forgedUpdate = async ({ device, casebook }: Tab, policy: Policy): Promise<Uint8Array> => {
  const entry = {
    v: 1,
    case: casebook.casebookId,
    by: device.deviceKey.device,
    at: 1_790_000_000_001,
    kind: 'save',
    set: { policy: JSON.stringify(policy) },
    over: await casebook.entryIds('catalogue'),
  }
  const text = new TextEncoder().encode(JSON.stringify(entry))
  const hash = new Uint8Array(await crypto.subtle.digest('SHA-256', text))
  const doc = new Y.Doc()
  const signed = new Uint8Array(64 + text.length)
  signed.set(text, 64)
  doc.getMap('entries').set(toBase64Url(hash.subarray(0, 16)), signed)
  return Y.encodeStateAsUpdate(doc)
}

/** Nothing opens while a connection stays that does not make way for a later version (Indexed Database API 3.0, 2.1.4). */
const blockDatabase = async (name: string): Promise<() => void> => {
  const held = await new Promise<IDBDatabase>((resolve, reject) => {
    const opening = indexedDB.open(name)
    opening.onsuccess = () => resolve(opening.result)
    opening.onerror = () => reject(opening.error)
  })
  const later = indexedDB.open(name, 1_000)
  await new Promise(resolve => {
    later.onblocked = resolve
  })
  later.onsuccess = () => later.result.close()
  return () => held.close()
}

/** The catalogue in y-indexeddb behind the port. Run on fake-indexeddb and in the browser. */
export const catalogueStoreSuite = (name: string): void => {
  describe(`the catalogue on ${name}`, () => {
    test('lies in clear in a database of its own, on the disk when it is said to be saved; no case is in it', async () => {
      const tab = await firstTab()
      expectOk(await tab.casebook.setModel(model.key, model))
      const [text = ''] = await textsOnDisk(tab.name)
      expect(JSON.parse(JSON.parse(text).set[`model/${model.key}`])).toEqual(model)
      const { caseId } = expectOk(await tab.casebook.addCase(place('Low Ford')))
      expect(await textsOnDisk(tab.name)).toHaveLength(1)
      expect((await catalogueRows(tab.name)).map(row => new TextDecoder('latin1').decode(row)).join()).not.toContain(
        caseId,
      )
      closeTab(tab)

      const again = await openTab(tab.name)
      expect(again.casebook.context().catalogue.models).toEqual([model])
      expect(again.casebook.problems()).toEqual([])
      expect(again.device.notices()).toEqual([])
      closeTab(again)
    })

    test('is not saved when there is no room: the words say so, nothing of it is here, and it can be saved again', async () => {
      const tab = await firstTab()
      expectOk(await tab.casebook.setPolicy(withMargin(5)))
      failIndexedDb({ type: 'storage-full', message: '' })
      const refused = await tab.casebook.setPolicy(withMargin(6))
      failIndexedDb(null)
      expect(!refused.ok && refused.failure).toMatchObject({ type: 'storage-full' })
      expect(!refused.ok && refused.failure.message).toMatch(/^Not saved.*safe/)
      expect(marginOf(tab)).toBe(5)
      expectOk(await tab.casebook.setPolicy(withMargin(7)))
      expect(marginOf(tab)).toBe(7)
      closeTab(tab)
      const again = await openTab(tab.name)
      expect(marginOf(again)).toBe(7)
      closeTab(again)
    })

    test('is merged now and then, by two tabs at once, and loses nothing', async () => {
      const here = await firstTab()
      const there = await openTab(here.name)
      const saving = async ({ casebook }: Tab, from: number): Promise<void> => {
        for (let save = 0; save < 40; save += 1) expectOk(await casebook.setPolicy(withMargin((from + save) / 10)))
      }
      await Promise.all([saving(here, 10), saving(there, 60)])
      await untilEntries(here.casebook, 'catalogue', 80)
      for (const tab of [here, there]) closeTab(tab)
      const saved = (await textsOnDisk(here.name)).map(text => JSON.parse(JSON.parse(text).set.policy).angles)
      expect(new Set(saved.map(angles => angles.forwardMarginDeg)).size).toBe(80)
      const later = await openTab(here.name)
      expect(await later.casebook.entryIds('catalogue')).toHaveLength(80)
      await saving(later, 110)
      expect(later.device.notices()).toEqual([])
      closeTab(later)
      expect(await textsOnDisk(here.name)).toHaveLength(120)
      // 120 changes and three openings, each a row when none is ever merged.
      expect((await catalogueRows(here.name)).length).toBeLessThan(40)
    })

    test('cannot be altered on the disk: an entry this device never took in is put out, and that is said', async () => {
      const tab = await firstTab()
      expectOk(await tab.casebook.setModel(model.key, model))
      expectOk(await tab.casebook.setPolicy(withMargin(7)))
      const forged = await forgedUpdate(tab, withMargin(0))
      closeTab(tab)
      await addCatalogueRow(tab.name, forged)
      expect(await textsOnDisk(tab.name)).toHaveLength(3)

      const again = await openTab(tab.name)
      expect(marginOf(again)).toBe(7)
      expect(again.casebook.context().catalogue.models).toEqual([model])
      expect(again.device.notices()).toMatchObject([{ type: 'catalogue-altered', entries: 1 }])
      expect(await textsOnDisk(tab.name)).toHaveLength(2)
      expectOk(await again.casebook.setPolicy(withMargin(8)))
      closeTab(again)
      const later = await openTab(tab.name)
      expect(marginOf(later)).toBe(8)
      expect(later.device.notices()).toEqual([])

      // The control: taken in by the app, the same entry counts. So it was put out for being strange, not for being bad.
      let summary = new Uint8Array()
      await later.device.storage.readSummaries(one => {
        if (new TextDecoder().decode(one).includes('"catalogue"')) summary = one.slice()
        return true
      })
      const over = await forgedUpdate(later, withMargin(1))
      expectOk(await later.device.storage.append('catalogue', [Y.convertUpdateFormatV1ToV2(over)], summary))
      closeTab(later)
      const last = await openTab(tab.name)
      expect(marginOf(last)).toBe(1)
      closeTab(last)
    })

    test('that the browser deleted comes back whole from the sealed copy', async () => {
      const tab = await firstTab()
      expectOk(await tab.casebook.setModel(model.key, model))
      const before = tab.casebook.hashes().get('catalogue')
      expect(before).toBeDefined()
      closeTab(tab)
      await new Promise((resolve, reject) => {
        const deleting = indexedDB.deleteDatabase(dataOf(tab.name))
        deleting.onsuccess = resolve
        deleting.onerror = reject
      })
      const again = await openTab(tab.name)
      expect(again.casebook.context().catalogue.models).toEqual([model])
      expect(again.casebook.hashes().get('catalogue')).toEqual(before)
      closeTab(again)
    })

    test('that never opens is given up after the limit: cases open all the same, and it is said', async () => {
      const tab = await firstTab()
      const { caseId } = expectOk(await tab.casebook.addCase(place('Low Ford')))
      expectOk(await tab.casebook.setModel(model.key, model))
      closeTab(tab)
      const release = await blockDatabase(dataOf(tab.name))
      const again = await openTab(tab.name, 50)
      expect((await again.casebook.view(caseId))?.values.place).toBe('Low Ford')
      expect(again.casebook.context().catalogue.models).toEqual([])
      expect(again.casebook.problems()).toMatchObject([{ type: 'unreadable-rows', document: 'catalogue' }])
      const refused = await again.casebook.setModel(model.key, model)
      expect(!refused.ok && refused.failure.message).toMatch(/^Not saved/)
      expectOk(await again.casebook.save(caseId, place('Mill')))
      closeTab(again)
      release()
    })
  })
}
