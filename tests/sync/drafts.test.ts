import 'fake-indexeddb/auto'
import { describe, expect, it } from 'vitest'
import { draftStore } from '../../sync/storage/drafts.ts'
import { createMemoryStorage } from '../../sync/storage/memory.ts'
import { openDevice } from '../../sync/storage/open-device.ts'
import { openTabs, type TabNews } from '../../sync/storage/tabs.ts'
import { expectOk } from '../support/casebooks.ts'
import { freshName, rawDatabase } from '../support/sealed-stores.ts'

const PASSPHRASE = 'mill weir ford bridge reed otter'
const silent = { tell: () => undefined }
const onMemory = () => {
  const memory = createMemoryStorage()
  return { memory, drafts: draftStore(memory.open(), silent, freshName()) }
}

describe('what is typed and not saved', () => {
  it('is nothing at first, and is there again after a restart', async () => {
    const { memory, drafts } = onMemory()
    expect(await drafts.read()).toEqual(new Map())
    expectOk(await drafts.change(new Map([['one form', [{ field: 'place', value: 'Low Fo' }]]])))
    const again = draftStore(memory.open(), silent, freshName())
    expect(await again.read()).toEqual(new Map([['one form', [{ field: 'place', value: 'Low Fo' }]]]))
  })

  it('is changed key by key: what another tab keeps stays', async () => {
    const { memory, drafts } = onMemory()
    const other = draftStore(memory.open(), silent, freshName())
    await drafts.change(new Map([['here', 'a']]))
    await other.change(new Map([['there', 'b']]))
    await drafts.change(
      new Map<string, unknown>([
        ['here', undefined],
        ['more', 'c'],
      ]),
    )
    expect(await drafts.read()).toEqual(
      new Map([
        ['there', 'b'],
        ['more', 'c'],
      ]),
    )
  })

  it('stays as it was when the store is full, and says so', async () => {
    const { memory, drafts } = onMemory()
    await drafts.change(new Map([['here', 'a']]))
    memory.failWrites({ type: 'storage-full', message: 'no room' })
    expect(await drafts.change(new Map([['here', 'b']]))).toMatchObject({ failure: { type: 'storage-full' } })
    expect(await drafts.read()).toEqual(new Map([['here', 'a']]))
  })

  it.each([
    ['damaged', new Uint8Array()],
    ['no text', Uint8Array.of(0xff, 0xfe)],
    ['of a later version', new TextEncoder().encode('{"store":2,"drafts":[]}')],
  ])('is told apart from nothing when it is %s', async (_, bytes) => {
    const memory = createMemoryStorage()
    const storage = memory.open()
    await storage.writeValue('drafts', bytes)
    expect(await draftStore(storage, silent, freshName()).read()).toBe(undefined)
  })

  it('lies sealed on the disk, and other tabs hear that it changed but not what', async () => {
    const name = freshName()
    const device = expectOk(await expectOk(await openDevice({ indexedDB, name })).create(PASSPHRASE))
    const tabs = openTabs(name)
    const heard = new Promise<TabNews>(resolve => tabs.subscribe(resolve))
    expectOk(await device.drafts.change(new Map([['words', 'Somebody of Low Ford']])))
    expect(await heard).toEqual({ news: 'drafts-changed' })
    const stored = await rawDatabase(name, ['values'], transaction => {
      const values: IDBRequest<unknown[]> = transaction.objectStore('values').getAll()
      return () => values.result
    })
    // The device key and the drafts.
    expect(stored).toHaveLength(2)
    const texts = stored.map(value => Buffer.from(value as Uint8Array).toString('latin1'))
    expect(texts.filter(text => text.includes('Low Ford'))).toEqual([])
    expect(await device.drafts.read()).toEqual(new Map([['words', 'Somebody of Low Ford']]))
    tabs.close()
    device.close()
  })
})
