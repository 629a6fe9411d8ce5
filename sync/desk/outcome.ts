import { createHash } from 'node:crypto'
import { parseArgs } from 'node:util'
import * as z from 'zod'
import { viewOfCase } from '../../src/case/case-view-of.ts'
import { type Counted, ENTRY_KINDS, readEntry } from '../../src/case/entry.ts'
import { type CaseId, caseIdSchema, deviceIdSchema, type EntryId, entryIdSchema } from '../../src/ids.ts'
import { outcome as outcomeOf } from '../../src/outcome/outcome.ts'
import { type Command, InputError } from './command.ts'
import { readJsonFile } from './files.ts'
import { RULES_OPTIONS, RULES_USAGE, readRules } from './rules-files.ts'

const USAGE = `outspoke outcome CASE.json [--today DATE]

Works out everything that follows from the entries of one case: recommended set-ups, the chosen chair's
settings, build sheet, stale checks, holds, dues, and which differences matter.

CASE.json is a plain file for trying things out: { "case"?: id, "entries": [{ "set": { field: value },
"as"?: label, "over"?: [label or id], "kind"?: save|settle|retest, "why"?: text, "by"?: device, "at"?: ms }] }.
Nothing in it is signed, so nothing is checked about who wrote it.

${RULES_USAGE}`

const plainEntry = z.strictObject({
  as: z.string().min(1).max(60).optional(),
  set: z.record(z.string(), z.unknown()),
  over: z.array(z.string()).default([]),
  kind: z.enum(ENTRY_KINDS).default('save'),
  why: z.string().optional(),
  by: deviceIdSchema.optional(),
  at: z.number().int().min(0).default(0),
})
const caseFile = z.strictObject({ case: caseIdSchema.optional(), entries: z.array(plainEntry) })

const hashId = (text: string): string =>
  createHash('sha256').update(text).digest().subarray(0, 16).toString('base64url')
const NOBODY = deviceIdSchema.parse(hashId('a plain file, written by nobody'))
const PLAIN_CASE = caseIdSchema.parse(hashId('a case in a plain file'))

/** Entries as a device would have written them; `over` may name an earlier entry of the file by its label. */
export const readPlainCase = (file: z.output<typeof caseFile>): { caseId: CaseId; entries: readonly Counted[] } => {
  const caseId = file.case ?? PLAIN_CASE
  const idByLabel = new Map<string, EntryId>()
  const entries = file.entries.map((plain, index): Counted => {
    const over = plain.over.map(name => {
      const id = idByLabel.get(name) ?? entryIdSchema.safeParse(name).data
      if (id === undefined)
        throw new InputError(`entry ${index + 1}: over names "${name}", which is no earlier entry's label and no id`)
      return id
    })
    const { kind, set, why, at } = plain
    const text = JSON.stringify({
      v: 1,
      case: caseId,
      by: plain.by ?? NOBODY,
      at,
      kind,
      set,
      over,
      ...(why ? { why } : {}),
    })
    const read = readEntry(text)
    if (!read.ok) throw new InputError(`entry ${index + 1}: ${read.failure.message}`)
    const id = entryIdSchema.parse(hashId(text))
    if (plain.as !== undefined) idByLabel.set(plain.as, id)
    return { id, ...read.value }
  })
  return { caseId, entries: [...new Map(entries.map(entry => [entry.id, entry])).values()] }
}

export const outcome: Command = {
  summary: 'work out settings, holds, stale checks and dues from the entries of one case',
  usage: USAGE,
  async run(args) {
    const { values, positionals } = parseArgs({ args: [...args], allowPositionals: true, options: RULES_OPTIONS })
    const [path, ...others] = positionals
    if (path === undefined || others.length > 0) throw new InputError('outcome takes one CASE.json')
    const rules = await readRules(values)
    const { caseId, entries } = readPlainCase(await readJsonFile(path, caseFile))
    const view = viewOfCase(caseId, entries)
    for (const field of view.newer)
      process.stderr.write(
        `${field}: a value that this version cannot read; kept, not counted. Compare it with the field's form.\n`,
      )
    process.stdout.write(`${JSON.stringify(outcomeOf(view, rules, rules.today), null, 2)}\n`)
    return 0
  },
}
