const listeners = new Set<(words: string) => void>()

/** Says something once to whoever listens to the screen, politely: "saved", news that came in, what went wrong. */
export const announce = (words: string): void => {
  for (const listener of listeners) listener(words)
}

/** The one live region of the app listens here. */
export const onAnnounce = (listener: (words: string) => void): (() => void) => {
  listeners.add(listener)
  return () => listeners.delete(listener)
}
