export type StoreName = 'rows' | 'summaries' | 'values' | 'photos' | 'keys'

/** One step of a write. An `add` without a key is given the next number; one with a key that is taken fails the whole write. */
export type Change =
  | { readonly store: StoreName; readonly put: unknown; readonly key: IDBValidKey }
  | { readonly store: StoreName; readonly add: unknown; readonly key?: IDBValidKey }
  | { readonly store: StoreName; readonly remove: IDBValidKey | IDBKeyRange }
  /** All rows of the document with this name. */
  | { readonly store: 'rows'; readonly removeRowsOf: string }

export const storesOf = (changes: readonly Change[]): readonly StoreName[] => [
  ...new Set(changes.map(({ store }) => store)),
]

/** Asks for one step; gives what will say under which key an `add` was stored. */
const ask = (transaction: IDBTransaction, change: Change): IDBRequest<IDBValidKey> | undefined => {
  const store = transaction.objectStore(change.store)
  if ('put' in change) store.put(change.put, change.key)
  else if ('remove' in change) store.delete(change.remove)
  else if ('add' in change) return store.add(change.add, change.key)
  else {
    const found = store.index('c').getAllKeys(change.removeRowsOf)
    found.onsuccess = () => {
      for (const key of found.result) store.delete(key)
    }
  }
}

/** Asks for all steps. What it returns is called once they are committed: the same steps with the keys that were given. */
export const askFor = (transaction: IDBTransaction, changes: readonly Change[]): (() => readonly Change[]) => {
  const asked = changes.map(change => ({ change, stored: ask(transaction, change) }))
  return () =>
    asked.map(({ change, stored }) =>
      'add' in change && stored ? { store: change.store, put: change.add, key: stored.result } : change,
    )
}
