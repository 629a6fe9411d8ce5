import type { AppContext } from '../../../components/app/context.ts'
import type { Session } from '../../../components/app/session.ts'
import { addDays } from '../../../src/calendar-date.ts'
import type { CaseId } from '../../../src/ids.ts'
import { createMemoryStorage } from '../../../sync/storage/memory.ts'
import type { CasebookStorage } from '../../../sync/storage/storage.ts'
import { makeBundle } from '../../../sync/transport/bundle.ts'
import { type CasebookSecret, currentSecret } from '../../../sync/trust/casebook-secret.ts'
import { expectOk } from '../../support/casebooks.ts'
import { bramsPhone, meet, newCase, noorsPhone, type Phone, TODAY } from '../case/practice-case.ts'

const mm = (typed: number) => ({ typed, unit: 'mm', how: 'tape' })
export const hip = (typed: number) => ({ hipWidthMm: mm(typed) })
/** An invented adult: enough to fit a chair. */
const ADULT = {
  personName: 'Tove Marn',
  massKg: { typed: 68, unit: 'kg', how: 'scale' },
  thighDepthLeftMm: mm(480),
  thighDepthRightMm: mm(480),
  calfLengthLeftMm: mm(420),
  calfLengthRightMm: mm(420),
  ribHeightMm: mm(270),
  scapulaHeightMm: mm(440),
  elbowHeightMm: mm(230),
  statureMm: mm(1700),
  trunkNeed: 'some',
  propulsion: ['hands'],
  ground: 'mixed',
  ...hip(360),
}
export const WAIT_UNTIL = addDays(TODAY, 39)

export interface TwoPhones {
  readonly noor: Phone
  readonly bram: Phone
  readonly tove: CaseId
}

const real = ({ casebook, app }: Phone): Phone => ({ casebook, app: { ...app, practice: false } satisfies AppContext })

/** Noor and Bram of one crew: both hold Tove's case, and Bram has the secret. */
export const twoPhones = async (): Promise<TwoPhones> => {
  const noor = real(await noorsPhone())
  const bram = real(await bramsPhone(noor))
  for (const secret of noor.casebook.secrets()) expectOk(await bram.casebook.receiveSecret(secret))
  const tove = await newCase(noor, ADULT)
  await meet(noor, bram)
  return { noor, bram, tove }
}

export const secretOf = ({ casebook }: Phone): CasebookSecret => {
  const secret = currentSecret(casebook.secrets())
  if (!secret) throw new Error('no secret')
  return secret
}

export const bundleOf = async (phone: Phone, secret = secretOf(phone)): Promise<Uint8Array> =>
  makeBundle(phone.casebook, secret)

export const fileOf = (bytes: Uint8Array, name = 'outspoke-2026-05-12.outspoke-bundle'): File =>
  new File([new Uint8Array(bytes)], name)

/** Says of a case what a person on that phone would, seeing what stands there. */
export const say = async (
  { casebook }: Phone,
  caseId: CaseId,
  set: Readonly<Record<string, unknown>>,
): Promise<void> => {
  const view = await casebook.view(caseId)
  const heads = (view?.heads ?? {}) as Readonly<Record<string, readonly { readonly id: never }[]>>
  const over = Object.keys(set).flatMap(field => (heads[field] ?? []).map(head => head.id))
  expectOk(await casebook.save(caseId, { kind: 'save', set, over }))
}

/** What the page asks of a session: the store in which days are noted. */
export const sessionOn = (storage: CasebookStorage = createMemoryStorage().open()): Session =>
  ({ device: { storage } }) as unknown as Session
