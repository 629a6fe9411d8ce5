import * as z from 'zod'
import { ROLES, type Role } from '../../src/crew/team-fields.ts'
import type { CasebookId } from '../../src/ids.ts'
import { failure, type Result, success } from '../../src/result.ts'
import { fromBase64Url, toBase64Url, UnreadableBytes } from '../bytes.ts'
import type { Casebook, CasebookOptions, OpenFailure } from '../casebook.ts'
import { joinCasebook } from '../open-casebook.ts'
import type { AnyOutcome } from '../rules.ts'
import type { SaveFailure } from '../statement.ts'
import { type CasebookSecret, readSecrets, writeSecrets } from '../trust/casebook-secret.ts'
import type { Opened } from './gate.ts'

/**
 * The one message before the first exchange of a newcomer. It comes only when the inviter has named the newcomer and the
 * crew list holds it: whoever reads it may make a casebook.
 */
const welcomeSchema = z.strictObject({
  welcome: z.literal(1),
  name: z.string(),
  role: z.enum(ROLES),
  secrets: z.string(),
})

export interface Welcome {
  readonly casebookId: CasebookId
  /** As the inviter typed them. */
  readonly name: string
  readonly role: Role
  readonly secrets: readonly CasebookSecret[]
}

export interface InvitationFailure {
  readonly type: 'not-invited' | 'unreadable-welcome'
  readonly message: string
}

const FAILURES: Readonly<Record<InvitationFailure['type'], string>> = {
  'not-invited':
    'The connection ended before the other device had invited this one. Nothing was kept here. Pair the two again with new codes.',
  'unreadable-welcome':
    'The other device sent an invitation that this app cannot read. Nothing was kept here. Update the older app and pair the two again.',
}
const failed = (type: InvitationFailure['type']): Result<never, InvitationFailure> =>
  failure({ type, message: FAILURES[type] })

const STRUCK_OFF: SaveFailure = {
  type: 'not-in-crew',
  message:
    'This device was struck off and cannot be invited again. Nothing was saved and nothing was handed over. Its holder can begin anew on it, with a new key, and pair then.',
}

/**
 * Names the newcomer behind an open gate, adds it to the crew list, and hands it the casebook secrets. Somebody who was
 * added already, when an earlier pairing broke off, keeps the name of that time.
 */
export const welcome = async <Outcome extends AnyOutcome, Brief>(
  casebook: Casebook<Outcome, Brief>,
  { device, publicKey, transport }: Opened,
  named: { readonly name: string; readonly role: Role },
): Promise<Result<undefined, SaveFailure>> => {
  const member = casebook.crew().members.get(device)
  // Heard of since the gate opened, perhaps: a strike stands for ever, and no secret goes to such a device.
  if (member && member.struckBy !== null) return failure(STRUCK_OFF)
  if (!member) {
    const added = await casebook.addMember({ device, key: publicKey, ...named })
    if (!added.ok) return added
  }
  const { name, role } = member ?? named
  const secrets = toBase64Url(writeSecrets(casebook.secrets()))
  await transport.send(new TextEncoder().encode(JSON.stringify({ welcome: 1, name, role, secrets })))
  return success(undefined)
}

const read = (casebookId: CasebookId, message: Uint8Array): Welcome | undefined => {
  try {
    const text = new TextDecoder('utf-8', { fatal: true }).decode(message)
    const { name, role, secrets } = welcomeSchema.parse(JSON.parse(text))
    const kept = readSecrets(fromBase64Url(secrets))
    return kept.ok ? { casebookId, name, role, secrets: kept.value } : undefined
  } catch (error) {
    // TypeError: not UTF-8; SyntaxError: not JSON; the others: JSON of another shape. Told by the caller.
    const isExpected = [TypeError, SyntaxError, z.ZodError, UnreadableBytes].some(kind => error instanceof kind)
    if (!isExpected) throw error
    return undefined
  }
}

/** Waits until a person on the other device has named this one; as long as the connection stands. */
export const takeWelcome = async ({ casebookId, transport }: Opened): Promise<Result<Welcome, InvitationFailure>> => {
  const message = await transport.receive()
  if (!message) return failed('not-invited')
  const taken = read(casebookId, message)
  if (taken) return success(taken)
  transport.close({ type: 'refused', message: FAILURES['unreadable-welcome'] })
  return failed('unreadable-welcome')
}

/** The casebook of a newcomer, with the secrets and nothing else: what it holds comes by the exchange, the crew list first. */
export const joinInvited = async <Outcome extends AnyOutcome, Brief>(
  options: CasebookOptions<Outcome, Brief>,
  { casebookId, secrets }: Welcome,
): Promise<Result<Casebook<Outcome, Brief>, OpenFailure>> => {
  const joined = await joinCasebook({ ...options, casebookId })
  if (!joined.ok) return joined
  for (const secret of secrets) {
    const kept = await joined.value.receiveSecret(secret)
    if (!kept.ok) return kept
  }
  return joined
}
