import * as z from 'zod'
import type { CasebookStorage, Stored } from './storage.ts'
import type { Tabs } from './tabs.ts'

const DRAFTS_VALUE = 'drafts'
const STORE_VERSION = 1
const storedDrafts = z.object({
  store: z.literal(STORE_VERSION),
  drafts: z.array(z.tuple([z.string(), z.unknown()])),
})

/** Drafts by key, as JSON values. What a key and a value say is known to whoever typed them. */
export type KeptDrafts = ReadonlyMap<string, unknown>

/** What is typed on this device and not saved: never shared, sealed like everything else. */
export interface DraftStore {
  /** Undefined when what is there cannot be read. */
  read(): Promise<KeptDrafts | undefined>
  /** Puts these in the place of what stood under their keys, undefined taking one away; the others stay as they are. */
  change(changed: KeptDrafts): Promise<Stored>
}

const readDrafts = (bytes: Uint8Array | undefined): KeptDrafts | undefined => {
  if (bytes === undefined) return new Map()
  try {
    return new Map(storedDrafts.parse(JSON.parse(new TextDecoder().decode(bytes))).drafts)
  } catch {
    // Damaged, or of a later version: told to the caller as drafts that cannot be read.
    return undefined
  }
}

const writeDrafts = (drafts: KeptDrafts): Uint8Array =>
  new TextEncoder().encode(JSON.stringify({ store: STORE_VERSION, drafts: [...drafts] }))

/** Tabs of one store take turns, so that neither writes over what the other has just kept. */
const inTurn = async (name: string, work: () => Promise<Stored>): Promise<Stored> => {
  const locks = globalThis.navigator?.locks
  return locks ? await locks.request(`${name} drafts`, work) : await work()
}

/** All drafts as one sealed value. `name` is that of the store. */
export const draftStore = (storage: CasebookStorage, tabs: Pick<Tabs, 'tell'>, name: string): DraftStore => {
  const read = async (): Promise<KeptDrafts | undefined> => readDrafts(await storage.readValue(DRAFTS_VALUE))
  return {
    read,
    change: changed =>
      inTurn(name, async () => {
        const drafts = new Map((await read()) ?? [])
        for (const [key, value] of changed)
          if (value === undefined) drafts.delete(key)
          else drafts.set(key, value)
        const stored = await storage.writeValue(DRAFTS_VALUE, writeDrafts(drafts))
        if (stored.ok) tabs.tell({ news: 'drafts-changed' })
        return stored
      }),
  }
}
