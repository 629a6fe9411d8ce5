/** What keeps a store apart from all others: scheme, name and port. Spelt from left to right in every language. */
export const hereSpelt = (): string => `\u2066${location.origin}\u2069`
