import * as z from 'zod'
import { isTeamFieldName } from '../src/crew/team-fields.ts'
import { type CasebookId, casebookIdSchema, caseIdSchema } from '../src/ids.ts'
import { failure, type Result, success } from '../src/result.ts'
import { toBase64Url } from './bytes.ts'
import { CaseDocument } from './case-document.ts'
import type { Casebook, CasebookOptions, Founding, OpenFailure } from './casebook.ts'
import type { DocumentKey } from './exchange/replica.ts'
import { LiveCasebook } from './live-casebook.ts'
import { CasebookRecord, type OpenOptions } from './record.ts'
import type { AnyOutcome } from './rules.ts'
import { platformRandom, SecretKeeper } from './secret-keeper.ts'
import { LOADED_LIMIT, Shelf } from './shelf.ts'
import { signEntry } from './signed-entry.ts'
import { checkTeamSet } from './statement.ts'
import { casebookIdOf } from './trust/device-key.ts'

const STORE_VERSION = 1
const CASEBOOK_VALUE = 'casebook'
const RANDOM_BYTES = 16

const storedCasebook = z.object({ store: z.number().int(), casebookId: casebookIdSchema })

type Opened<Outcome extends AnyOutcome, Brief> = Promise<Result<Casebook<Outcome, Brief>, OpenFailure>>

const shelfFor = <Outcome extends AnyOutcome, Brief>(options: CasebookOptions<Outcome, Brief>): Shelf =>
  new Shelf(options.storage, options.deviceKey.device, options.loadedLimit ?? LOADED_LIMIT)

const keeperFor = <Outcome extends AnyOutcome, Brief>(options: CasebookOptions<Outcome, Brief>): SecretKeeper =>
  new SecretKeeper(options.storage, options.deviceKey.device, options.randomBytes)

const liveCasebook = async <Outcome extends AnyOutcome, Brief>(
  shelf: Shelf,
  keeper: SecretKeeper,
  options: OpenOptions<Outcome, Brief>,
): Opened<Outcome, Brief> =>
  success(new LiveCasebook(await CasebookRecord.open(shelf, keeper, options), options.storage))

const exists: OpenFailure = {
  type: 'casebook-exists',
  message: 'This store holds a casebook already. It was left as it is; open it, or choose another store.',
}

const writeCasebookValue = (casebookId: CasebookId): Uint8Array =>
  new TextEncoder().encode(JSON.stringify({ store: STORE_VERSION, casebookId }))

const readCasebookValue = (bytes: Uint8Array): z.infer<typeof storedCasebook> | undefined => {
  try {
    return storedCasebook.parse(JSON.parse(new TextDecoder().decode(bytes)))
  } catch {
    // Not what any version up to this one writes: told to the caller as a store of a later version.
    return undefined
  }
}

/** Founds a casebook on this device: its founder is known by `name`. */
export const createCasebook = async <Outcome extends AnyOutcome, Brief>(
  options: CasebookOptions<Outcome, Brief> & Founding,
): Opened<Outcome, Brief> => {
  const { storage, deviceKey } = options
  if (await storage.readValue(CASEBOOK_VALUE)) return failure(exists)
  const random = toBase64Url((options.randomBytes ?? platformRandom)(RANDOM_BYTES))
  const casebookId = casebookIdOf(deviceKey.device, random)

  const { founderName: name, founderRole: role, title } = options
  const found = { key: deviceKey.publicKey, name, random, ...(role ? { role } : {}) }
  const set = { found, ...(title ? { title } : {}) }
  const checked = checkTeamSet(set)
  if (!checked.ok) return checked
  const draft = { case: caseIdSchema.parse(casebookId), at: options.clock(), kind: 'save' as const, set, over: [] }
  const signed = await signEntry(deviceKey, draft)
  if (!signed.ok) return signed
  const team = new CaseDocument()
  const change = team.put([signed.value])
  const shelf = shelfFor(options)
  // What an interrupted founding left: without the value written last, a store holds no casebook.
  const cleared = await storage.remove('team')
  if (!cleared.ok) return cleared
  const stored = await shelf.store('team', team, change ? [change] : [], [signed.value.counted], [signed.value.id])
  if (!stored.ok) return stored

  const keeper = keeperFor(options)
  const kept = await keeper.renew()
  if (!kept.ok) return kept
  const named = await storage.writeValue(CASEBOOK_VALUE, writeCasebookValue(casebookId))
  if (!named.ok) return named
  return liveCasebook(shelf, keeper, { ...options, casebookId })
}

/** An empty copy on a device that was invited. It records nothing until the team document has come from one of the crew. */
export const joinCasebook = async <Outcome extends AnyOutcome, Brief>(
  options: CasebookOptions<Outcome, Brief> & { readonly casebookId: CasebookId },
): Opened<Outcome, Brief> => {
  const { storage, casebookId } = options
  if (await storage.readValue(CASEBOOK_VALUE)) return failure(exists)
  const named = await storage.writeValue(CASEBOOK_VALUE, writeCasebookValue(casebookId))
  if (!named.ok) return named
  return liveCasebook(shelfFor(options), keeperFor(options), options)
}

/** Opens what this store holds. A store written by a later version is named and left untouched. */
export const openCasebook = async <Outcome extends AnyOutcome, Brief>(
  options: CasebookOptions<Outcome, Brief>,
): Opened<Outcome, Brief> => {
  const { storage } = options
  const bytes = await storage.readValue(CASEBOOK_VALUE)
  if (!bytes)
    return failure({ type: 'no-casebook', message: 'There is no casebook in this store. Found one, or join one.' })
  const read = readCasebookValue(bytes)
  if (!read || read.store > STORE_VERSION)
    return failure({
      type: 'newer-store',
      message:
        'This casebook was stored by a later version of the app. Nothing was changed; update the app to open it.',
    })
  const { casebookId } = read
  const keeper = keeperFor(options)
  await keeper.read()
  const shelf = shelfFor(options)
  await shelf.readAll((caseOfEntry, fields) => documentOf(casebookId, caseOfEntry, fields))
  return liveCasebook(shelf, keeper, { ...options, casebookId })
}

/** Which document entries belong to, when nothing but the entries is left. */
const documentOf = (
  casebookId: CasebookId,
  caseOfEntry: string,
  fields: readonly string[],
): DocumentKey | undefined => {
  if (caseOfEntry === casebookId) return fields.some(isTeamFieldName) ? 'team' : 'catalogue'
  const caseId = caseIdSchema.safeParse(caseOfEntry)
  return caseId.success ? caseId.data : undefined
}
