import * as z from 'zod'
import { type CasebookId, casebookIdSchema, deviceIdSchema } from '../../src/ids.ts'
import { type CasebookSecret, withSecret } from '../trust/casebook-secret.ts'
import { InputError } from './command.ts'
import { readText } from './files.ts'

const secretText = z.string().regex(/^[A-Za-z0-9_-]{43}$/, 'not a secret of 32 bytes in base64url')

/** Two secrets of one epoch: two who struck off apart from each other. */
const keyFileSchema = z.strictObject({
  casebook: casebookIdSchema,
  secrets: z.record(
    z.string().regex(/^(0|[1-9]\d{0,8})$/, 'not an epoch: 0, 1, 2 ...'),
    secretText.or(z.array(secretText)),
  ),
})

export const KEY_FILE_USAGE = `  --keys F        the key file, JSON: { "casebook": id, "secrets": { "0": secret, "1": secret ... } }: the secret of
                  each epoch in base64url. Whoever has it can read every bundle: keep it as you keep the casebook.
                  It is never printed.`

export interface Keys {
  readonly casebookId: CasebookId
  readonly secrets: readonly CasebookSecret[]
}

/** A key file does not say who made a secret; all that rests on it is the order of two of one epoch. */
const MAKER = deviceIdSchema.parse('AAAAAAAAAAAAAAAAAAAAAA')

/** Reads a key file. Nothing that is in it is ever part of an error: not even the place where the JSON breaks. */
export const readKeyFile = async (path: string | undefined): Promise<Keys> => {
  if (path === undefined) throw new InputError('needs --keys KEYFILE: bundles are sealed')
  const text = await readText(path)
  let value: unknown
  try {
    value = JSON.parse(text)
  } catch {
    throw new InputError(`${path}: is not JSON, so no key could be read. Nothing was changed.`)
  }
  const read = keyFileSchema.safeParse(value)
  if (!read.success) {
    const places = read.error.issues.map(({ path: place }) => (place[0] === 'casebook' ? 'casebook' : 'secrets'))
    const where = [...new Set(places)].join(' and ')
    throw new InputError(
      `${path}: is not a key file: ${where || 'it'} cannot be read. It holds { "casebook": id, "secrets": { "0": secret } }. Nothing was changed.`,
    )
  }
  const secrets = Object.entries(read.data.secrets)
    .flatMap(([epoch, texts]) => [texts].flat().map(secret => ({ epoch: Number(epoch), by: MAKER, secret })))
    .reduce<readonly CasebookSecret[]>(withSecret, [])
  if (secrets.length === 0) throw new InputError(`${path}: holds no secret. Nothing was changed.`)
  return { casebookId: read.data.casebook, secrets }
}
