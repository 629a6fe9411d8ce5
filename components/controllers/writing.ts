const running = new Set<Promise<unknown>>()

/** Marks work that must be finished before the device is locked or the page is loaded anew. */
export const whileWriting = async <Value>(work: () => Promise<Value>): Promise<Value> => {
  const mine = work()
  running.add(mine)
  try {
    return await mine
  } finally {
    running.delete(mine)
  }
}

/** Comes when nothing is being written. */
export const writingDone = async (): Promise<void> => {
  while (running.size > 0) await Promise.allSettled(running)
}
