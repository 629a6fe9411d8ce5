/** Lets one piece of work at a time run to its end, in the order of asking. A failing one does not stop the next. */
export const oneAtATime = (): (<Value>(work: () => Promise<Value>) => Promise<Value>) => {
  let last: Promise<unknown> = Promise.resolve()
  return work => {
    const mine = last.then(work, work)
    last = mine.catch(() => undefined)
    return mine
  }
}
