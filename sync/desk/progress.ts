const EVERY_MS = 1000

/** Tells on stderr how far long work is, at most once a second; short work says nothing. */
export const showProgress = (what: string): ((progress: { readonly done: number; readonly of: number }) => void) => {
  let last = performance.now()
  return ({ done, of }) => {
    const now = performance.now()
    if (now - last < EVERY_MS) return
    last = now
    process.stderr.write(`${done} of ${of} ${what}\n`)
  }
}
