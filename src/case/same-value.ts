/**
 * A text that two values share exactly when they say the same: keys in one order, and lists as the sets that they are
 * in the registry (ways of moving, supports, loads), so that two people who ticked in another order do not differ.
 */
export const stableText = (value: unknown): string => {
  if (Array.isArray(value)) return `[${value.map(stableText).sort().join()}]`
  if (typeof value === 'object' && value !== null) {
    const parts = Object.entries(value).map(([key, inner]) => `${JSON.stringify(key)}:${stableText(inner)}`)
    return `{${parts.sort().join()}}`
  }
  return typeof value === 'string' ? JSON.stringify(value.trim()) : JSON.stringify(value)
}
