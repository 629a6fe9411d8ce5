import * as z from 'zod'
import { caseIdSchema } from '../../src/ids.ts'
import type { DocumentKey } from '../exchange/replica.ts'
import type { CasebookStorage, Stored } from './storage.ts'

const newsSchema = z.discriminatedUnion('news', [
  z.object({
    news: z.literal('document-changed'),
    document: z.union([z.literal('team'), z.literal('catalogue'), caseIdSchema]),
  }),
  z.object({ news: z.literal('drafts-changed') }),
  z.object({ news: z.literal('locked') }),
])

/** What tabs of one browser tell each other: they share the store, so a word is enough. */
export type TabNews = Readonly<z.infer<typeof newsSchema>>

export interface Tabs {
  /** To all other tabs that hold this store, not to this one. */
  tell(news: TabNews): void
  subscribe(listener: (news: TabNews) => void): () => void
  close(): void
}

/** The channel carries the name of the store, so that practice and real cases do not hear each other. */
export const openTabs = (name: string): Tabs => {
  const channel = new BroadcastChannel(name)
  const listeners = new Set<(news: TabNews) => void>()
  let isClosed = false
  channel.onmessage = event => {
    // Another tab may run another version of the app: what it says that is not known here is passed over.
    const read = newsSchema.safeParse(event.data)
    if (read.success) for (const listener of listeners) listener(read.data)
  }
  return {
    // Once closed there is nobody left to tell: another tab may have locked the store that this one is about to lock.
    tell: news => {
      if (!isClosed) channel.postMessage(news)
    },
    subscribe: listener => {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    close: () => {
      isClosed = true
      channel.close()
    },
  }
}

/** The same store; the other tabs hear of each write of rows once it is committed. Summaries are derived, so nobody asks. */
export const toldToTabs = (storage: CasebookStorage, tabs: Pick<Tabs, 'tell'>): CasebookStorage => {
  const told = async (document: DocumentKey, work: Promise<Stored>): Promise<Stored> => {
    const stored = await work
    if (stored.ok) tabs.tell({ news: 'document-changed', document })
    return stored
  }
  return {
    append: (document, rows, summary) => told(document, storage.append(document, rows, summary)),
    readRows: document => storage.readRows(document),
    // Merged rows say what the single ones said: nothing to hear.
    compact: (document, merged, keysRead, summary) => storage.compact(document, merged, keysRead, summary),
    readSummaries: take => storage.readSummaries(take),
    writeSummaries: summaries => storage.writeSummaries(summaries),
    remove: document => told(document, storage.remove(document)),
    readValue: name => storage.readValue(name),
    writeValue: (name, bytes) => storage.writeValue(name, bytes),
    // A photo that came from one of the crew comes without a new entry.
    keepPhoto: (caseId, hash, bytes) => told(caseId, storage.keepPhoto(caseId, hash, bytes)),
    readPhoto: (caseId, hash) => storage.readPhoto(caseId, hash),
    removePhotos: (caseId, hashes) => storage.removePhotos(caseId, hashes),
  }
}
