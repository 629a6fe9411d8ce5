/** What is used of the Storage Buckets API (WICG), which the types of the DOM do not know yet. */
interface StorageBuckets {
  open(
    name: string,
    options: { readonly durability: 'strict'; readonly persisted: boolean },
  ): Promise<{ readonly indexedDB: IDBFactory }>
  keys(): Promise<readonly string[]>
}

const BUCKET = 'second-copy'

const storageBuckets = (): StorageBuckets | undefined =>
  (globalThis.navigator as { readonly storageBuckets?: StorageBuckets } | undefined)?.storageBuckets

/** True when there is one already: then this device was set up once. */
export const hasSecondPlace = async (): Promise<boolean> => (await storageBuckets()?.keys())?.includes(BUCKET) ?? false

/**
 * A place of its own for a second copy, where the browser has storage buckets: the browsers that have them are those that
 * need one (see kept-twice.ts). Undefined in others, and where the browser refuses.
 */
export const secondPlace = async (): Promise<IDBFactory | undefined> => {
  try {
    return (await storageBuckets()?.open(BUCKET, { durability: 'strict', persisted: true }))?.indexedDB
  } catch {
    // Storage is switched off, or there is no room: the first copy says so itself.
    return undefined
  }
}
