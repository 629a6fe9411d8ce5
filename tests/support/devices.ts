import type { EntryId } from '../../src/ids.ts'
import type { CasebookChange, CasebookOptions } from '../../sync/casebook.ts'
import type { DocumentKey } from '../../sync/exchange/replica.ts'
import { createCasebook, openCasebook } from '../../sync/open-casebook.ts'
import { type OpenDevice, openPractice } from '../../sync/storage/open-device.ts'
import { expectOk, type SmallCasebook, type SmallOutcome, smallRules, TODAY } from './casebooks.ts'
import { freshName } from './sealed-stores.ts'

/** One tab: a device's store and the casebook in it, kept current with the other tabs as the app does. */
export interface Tab {
  readonly device: OpenDevice
  readonly casebook: SmallCasebook
}

type SmallOptions = CasebookOptions<SmallOutcome, { readonly hip: number | null }>

export const optionsOn = ({ storage, deviceKey }: Pick<OpenDevice, 'storage' | 'deviceKey'>): SmallOptions => ({
  storage,
  deviceKey,
  rules: smallRules,
  clock: () => 1_790_000_000_000,
  today: () => TODAY,
})

const hearing = (device: OpenDevice, casebook: SmallCasebook): Tab => {
  device.tabs.subscribe(news => {
    if (news.news === 'document-changed') void casebook.reread(news.document)
    if (news.news === 'locked') device.close()
  })
  return { device, casebook }
}

export const practiceDevice = async (name: string, catalogueLimitMs?: number): Promise<OpenDevice> =>
  expectOk(await openPractice({ indexedDB, name, ...(catalogueLimitMs ? { catalogueLimitMs } : {}) }))

/** The first tab of a new device: it founds a casebook. */
export const firstTab = async (name = freshName()): Promise<Tab & { readonly name: string }> => {
  const device = await practiceDevice(name)
  const casebook = expectOk(await createCasebook({ ...optionsOn(device), founderName: 'Ana' }))
  return { name, ...hearing(device, casebook) }
}

/** Another tab on the same device, or the same one after a restart. */
export const openTab = async (name: string, catalogueLimitMs?: number): Promise<Tab> => {
  const device = await practiceDevice(name, catalogueLimitMs)
  return hearing(device, expectOk(await openCasebook(optionsOn(device))))
}

export const closeTab = ({ device }: Tab): void => device.close()

/** Comes when the casebook holds so many entries of a document, each time looked at when the casebook says it changed. */
export const untilEntries = async (
  casebook: SmallCasebook,
  document: DocumentKey,
  count: number,
): Promise<readonly EntryId[]> => {
  let heard: () => void = () => undefined
  const unsubscribe = casebook.subscribe((_: CasebookChange) => heard())
  try {
    for (;;) {
      const next = new Promise<void>(resolve => {
        heard = resolve
      })
      const ids = await casebook.entryIds(document)
      if (ids.length >= count) return ids
      await next
    }
  } finally {
    unsubscribe()
  }
}
