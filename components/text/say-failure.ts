import { isFieldName } from '../../src/case/fields.ts'
import type { CasebookProblem, OpenFailure } from '../../sync/casebook.ts'
import type { EntryFault } from '../../sync/signed-entry.ts'
import type { SaveFailure } from '../../sync/statement.ts'
import type { DeviceFailure, OpenDevice } from '../../sync/storage/open-device.ts'
import type { StorageUnreadable } from '../../sync/storage/storage.ts'
import type { BundleFailure } from '../../sync/transport/bundle.ts'
import { en } from './en/index.ts'
import { fieldLabel } from './say-value.ts'
import { currentSpeech, t } from './text.ts'

type StoreNotice = ReturnType<OpenDevice['notices']>[number]
/** What only a foreign or damaged entry has; one of our own has it by a fault of ours. */
type EntryType = Exclude<EntryFault['type'], 'too-long'>
/** A file that was chosen and that the platform does not give. */
export interface FileUnreadable {
  readonly type: 'file-unreadable'
}
type AnyType = (
  | SaveFailure
  | DeviceFailure
  | OpenFailure
  | StoreNotice
  | CasebookProblem
  | Pick<StorageUnreadable, 'type'>
  | BundleFailure
  | FileUnreadable
)['type']

/** Every refusal and notice that can reach a screen; a list says of rows itself how many do not open. */
export type ShownType = Exclude<AnyType, EntryType | 'unreadable-rows'> | 'entry-refused'

/** As `sync` refuses: its own message is for the command line. */
export interface Refusal {
  readonly type: Exclude<AnyType, 'unreadable-rows'>
  readonly message: string
  /** Path to the value that was refused. */
  readonly where?: string
}

const ENTRY_TYPES: readonly string[] = [
  'too-deep',
  'not-json',
  'not-an-entry',
  'wrong-hash',
  'other-case',
  'unknown-signer',
  'key-mismatch',
  'bad-signature',
] satisfies readonly EntryType[]
const LEAST_LETTERS = 8

const fieldAt = (where: string | undefined): string => {
  const [name = ''] = (where ?? '').split('.')
  return isFieldName(name) ? fieldLabel(name) : t('failure.someAnswer')
}

const sayType = (type: ShownType, where?: string): string =>
  t(`failure.${type}`, { field: fieldAt(where), count: LEAST_LETTERS })

const isEntryType = (type: string): type is EntryType => ENTRY_TYPES.includes(type)

/** A refusal in the language of the screen, by its type. */
export const sayFailure = ({ type, where }: Pick<Refusal, 'type' | 'where'>): string =>
  sayType(isEntryType(type) ? 'entry-refused' : type, where)

/** A refusal that had to be thrown. */
export class Refused extends Error {
  readonly type: Refusal['type']

  constructor({ type, message }: Pick<Refusal, 'type' | 'message'>) {
    super(message)
    this.type = type
  }
}

const isShown = (type: unknown): type is ShownType => typeof type === 'string' && Object.hasOwn(en.failure, type)

/** What stopped something on its way, by whatever type it names. */
export const sayStopped = ({ type }: { readonly type: string }): string =>
  isShown(type) ? sayType(type) : t('failure.fault')

/**
 * What was thrown, in words. A fault of ours has its own text for who mends it: English, so shown to who reads English.
 */
export const sayError = (error: unknown): string => {
  if (error instanceof Error && 'type' in error && isShown(error.type)) return sayType(error.type)
  if (currentSpeech().language !== 'en') return t('failure.fault')
  return error instanceof Error ? error.message : String(error)
}
