import type * as z from 'zod'
import { fieldOf, isFieldName } from '../src/case/fields.ts'
import { isTeamFieldName, TEAM_FIELDS } from '../src/crew/team-fields.ts'
import { failure, type Result, success } from '../src/result.ts'
import type { EntryFault } from './signed-entry.ts'
import type { StorageFailure } from './storage/storage.ts'

/** Why something said was not written. In every case nothing changed, and what was typed is still where it was typed. */
export interface SaveFailure {
  readonly type:
    | EntryFault['type']
    | StorageFailure['type']
    | 'nothing-said'
    | 'unknown-field'
    | 'invalid-value'
    | 'unknown-case'
    | 'held'
    | 'photo-not-agreed'
    | 'photo-removed'
    | 'unknown-photo'
    | 'visitor'
    | 'not-in-crew'
    | 'hidden-case'
    | 'erased-case'
    | 'unknown-device'
    | 'own-device'
    | 'let-this-in'
  readonly message: string
  readonly where?: string
}

export type Checked = Result<undefined, SaveFailure>
type SchemaOf = (name: string) => z.ZodType | undefined

/** What every refusal says of what was typed. */
export const NOT_SAVED = 'Nothing was saved; what you typed is still there.'

export const refusal = (type: SaveFailure['type'], message: string): Result<never, SaveFailure> =>
  failure({ type, message: `${message} ${NOT_SAVED}` })

const checkSet = (set: Readonly<Record<string, unknown>>, schemaOf: SchemaOf): Checked => {
  const names = Object.keys(set)
  if (names.length === 0) return failure({ type: 'nothing-said', message: `There is nothing to save. ${NOT_SAVED}` })
  for (const name of names) {
    const schema = schemaOf(name)
    if (!schema)
      return failure({ type: 'unknown-field', message: `There is no field "${name}". ${NOT_SAVED}`, where: name })
    const read = schema.safeParse(set[name])
    if (!read.success) {
      const [issue] = read.error.issues
      const place = [name, ...(issue?.path ?? [])].join('.')
      return failure({
        type: 'invalid-value',
        message: `${place}: ${issue?.message ?? 'not a value of this field'}. ${NOT_SAVED}`,
        where: place,
      })
    }
  }
  return success(undefined)
}

/** Fields and values that the field registry knows. */
export const checkCaseSet = (set: Readonly<Record<string, unknown>>): Checked =>
  checkSet(set, name => (isFieldName(name) ? fieldOf(name).schema : undefined))

/** Fields and values of the team document. */
export const checkTeamSet = (set: Readonly<Record<string, unknown>>): Checked =>
  checkSet(set, name => (isTeamFieldName(name) ? TEAM_FIELDS[name] : undefined))
