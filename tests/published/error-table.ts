import { readdirSync } from 'node:fs'
import { join } from 'node:path'
import { pathToFileURL } from 'node:url'
import type { PublishedRow } from './rows/row.ts'

/** Prints, for each rule, how far our functions lie from the figures of others: count, mean and greatest error. */

const FOLDER = join(import.meta.dirname, 'rows')

const isRow = (value: unknown): value is PublishedRow =>
  typeof value === 'object' && value !== null && 'rule' in value && 'expected' in value && 'actual' in value

const rows: PublishedRow[] = []
for (const file of readdirSync(FOLDER).sort()) {
  const exports: Record<string, unknown> = await import(pathToFileURL(join(FOLDER, file)).href)
  for (const value of Object.values(exports)) if (Array.isArray(value)) rows.push(...value.filter(isRow))
}

const groups = new Map<string, PublishedRow[]>()
for (const row of rows) {
  const key = `${row.rule}\t${row.unit}`
  groups.set(key, [...(groups.get(key) ?? []), row])
}

const digits = (value: number): string => (value === 0 ? '0' : value.toPrecision(2))
const table = [...groups].map(([key, group]) => {
  const [rule = '', unit = ''] = key.split('\t')
  const errors = group.map(row => Math.abs(row.actual() - row.expected))
  const mean = errors.reduce((sum, error) => sum + error, 0) / errors.length
  const outside = group.filter((row, index) => (errors[index] ?? 0) > row.tolerance).length
  const standings = [...new Set(group.map(row => row.standing))].join(', ')
  return [rule, String(group.length), digits(mean), digits(Math.max(...errors)), unit, String(outside), standings]
})
const header = ['rule', 'n', 'mean error', 'max error', 'unit', 'outside', 'figures are']
const widths = header.map((title, column) => Math.max(title.length, ...table.map(row => row[column]?.length ?? 0)))
for (const row of [header, ...table])
  process.stdout.write(
    `${row
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join('  ')
      .trimEnd()}\n`,
  )
process.stdout.write(
  `\n${rows.length} figures from outside the project; ${table.reduce((sum, row) => sum + Number(row[5]), 0)} outside their tolerance.\n`,
)
