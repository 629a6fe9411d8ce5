import { fileURLToPath } from 'node:url'
import { type CalendarDate, calendarDateSchema } from '../../src/calendar-date.ts'
import { type Catalogue, catalogueSchema } from '../../src/chair/chair-model.ts'
import { DEFAULT_POLICY, type Policy, policySchema } from '../../src/fitting/policy.ts'
import { InputError } from './command.ts'
import { readJsonFile } from './files.ts'

const PRACTICE_CATALOGUE = fileURLToPath(new URL('../../demo/practice-catalogue.json', import.meta.url))

/** The options that commands about fitting share, for parseArgs. */
export const RULES_OPTIONS = {
  catalogue: { type: 'string' },
  policy: { type: 'string' },
  today: { type: 'string' },
} as const

export const RULES_USAGE = `  --catalogue F   chair models, JSON (without it: the practice catalogue of invented models)
  --policy F      team policy, JSON (without it: the default rule set)
  --today DATE    the day to work for, such as 2026-11-25 (without it: today)`

export interface Rules {
  readonly catalogue: Catalogue
  readonly policy: Policy
  readonly today: CalendarDate
}

/** Today in the machine's own zone. */
const machineDate = (): string => {
  const now = new Date()
  return [now.getFullYear(), String(now.getMonth() + 1).padStart(2, '0'), String(now.getDate()).padStart(2, '0')].join(
    '-',
  )
}

export const readDate = (text: string | undefined): CalendarDate => {
  const read = calendarDateSchema.safeParse(text ?? machineDate())
  if (!read.success) throw new InputError(`--today ${text}: not a date of the form 2026-11-25`)
  return read.data
}

export const readRules = async (options: {
  catalogue?: string | undefined
  policy?: string | undefined
  today?: string | undefined
}): Promise<Rules> => ({
  catalogue: await readJsonFile(options.catalogue ?? PRACTICE_CATALOGUE, catalogueSchema),
  policy: options.policy === undefined ? DEFAULT_POLICY : await readJsonFile(options.policy, policySchema),
  today: readDate(options.today),
})
