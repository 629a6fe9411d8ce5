import type { z } from 'zod'
import { chairModelSchema } from '../chair/chair-model.ts'
import { policySchema } from '../fitting/policy.ts'

/**
 * Fields of the catalogue document: `model/<key>` and `policy`. Values are JSON text, since a chair model is deeper than
 * an entry may nest; a model of null is retired.
 */
export const POLICY_FIELD = 'policy'
const MODEL_PREFIX = 'model/'

export const modelField = (key: string): string => `${MODEL_PREFIX}${key}`
export const modelKeyIn = (field: string): string | undefined =>
  field.startsWith(MODEL_PREFIX) ? field.slice(MODEL_PREFIX.length) : undefined

const readJson = <Schema extends z.ZodType>(schema: Schema, value: unknown): z.infer<Schema> | undefined => {
  if (typeof value !== 'string') return undefined
  try {
    const read = schema.safeParse(JSON.parse(value))
    return read.success ? read.data : undefined
  } catch {
    // Not JSON: a value like any other that this version cannot read (B7).
    return undefined
  }
}

/** The policy in a `policy` value; undefined when it is none. */
export const readPolicy = (value: unknown) => readJson(policySchema, value)

/** The model in a `model/<key>` value, null when it was retired; undefined when it is none, or of another key. */
export const readModel = (key: string, value: unknown) => {
  if (value === null) return null
  const model = readJson(chairModelSchema, value)
  return model?.key === key ? model : undefined
}
