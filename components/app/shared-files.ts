/** As the part of the service worker that keeps them names it (components/app/static/shared-files.js). */
const KEPT = 'outspoke-shared'

/** What the share sheet handed to the app and nobody has taken in yet. */
export interface SharedFiles {
  readonly files: readonly File[]
  /** Called once they were taken in, or refused in words. */
  forget(): Promise<void>
}

/** `name`: what each is called in an account of what came in; its own name was not kept. */
export const sharedFiles = async (name: string): Promise<SharedFiles> => {
  // A page on plain http has no such store, and no share sheet leads to it.
  if (!globalThis.caches) return { files: [], forget: () => Promise.resolve() }
  const cache = await caches.open(KEPT)
  const kept = await cache.keys()
  const files: File[] = []
  for (const request of kept) {
    const response = await cache.match(request)
    if (response) files.push(new File([await response.blob()], name))
  }
  return {
    files,
    forget: async () => {
      for (const request of kept) await cache.delete(request)
    },
  }
}

/** Whether the worker could not keep what was shared, as the address says where it leads to. */
export const wasNotKept = (hash: string): boolean => hash.endsWith('/not-kept')
