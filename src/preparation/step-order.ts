interface Orderable {
  readonly key: string
  readonly after: readonly string[]
}

/** Walks from a step that waits to one it waits for, until a step comes round again: the ring. */
const ringFrom = (start: string, waitsFor: (key: string) => string | undefined): readonly string[] => {
  const path: string[] = []
  let at: string | undefined = start
  while (at !== undefined && !path.includes(at)) {
    path.push(at)
    at = waitsFor(at)
  }
  return at === undefined ? [] : path.slice(path.indexOf(at))
}

/**
 * Steps with each one's prerequisites before it; where these leave a choice, in the order given. Steps that wait for each
 * other in a ring are not lost and nothing hangs: the first of them is taken as if it waited for nothing, and the ring is
 * named. `after` keys that no step has are ignored.
 */
export const orderSteps = <Step extends Orderable>(
  steps: readonly Step[],
): { readonly ordered: readonly Step[]; readonly ring: readonly string[] } => {
  const keys = new Set(steps.map(step => step.key))
  const waiting = new Map(steps.map(step => [step.key, new Set(step.after.filter(key => keys.has(key)))]))
  const left = new Set(steps)
  const ordered: Step[] = []
  let ring: readonly string[] = []
  while (left.size > 0) {
    const open = [...left]
    let next = open.find(step => waiting.get(step.key)?.size === 0)
    if (next === undefined) {
      const first = open[0]
      if (first === undefined) break
      const found = ringFrom(first.key, key => [...(waiting.get(key) ?? [])][0])
      if (ring.length === 0) ring = found
      next = open.find(step => found.includes(step.key)) ?? first
    }
    left.delete(next)
    ordered.push(next)
    for (const others of waiting.values()) others.delete(next.key)
  }
  return { ordered, ring }
}
