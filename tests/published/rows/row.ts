/** One figure from outside the project and what our own code gives for it. The test and the error table read the same rows. */
export interface PublishedRow {
  readonly rule: string
  /** Author, title, year, table. */
  readonly source: string
  readonly standing: 'read' | 'computed' | 'derived' | 'from memory' | 'common practice'
  readonly what: string
  readonly expected: number
  readonly actual: () => number
  readonly tolerance: number
  readonly unit: string
}
