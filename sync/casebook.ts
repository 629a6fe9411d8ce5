import type { CalendarDate } from '../src/calendar-date.ts'
import type { CaseView } from '../src/case/case-view.ts'
import type { Counted, EntryKind } from '../src/case/entry.ts'
import type { ChairModel } from '../src/chair/chair-model.ts'
import type { Crew, NotCounting } from '../src/crew/crew.ts'
import type { Erasure } from '../src/crew/erasures.ts'
import type { SharedContext } from '../src/crew/shared-context.ts'
import type { EraseReason, Role, TeamStatement, TeamValue } from '../src/crew/team-fields.ts'
import type { Policy } from '../src/fitting/policy.ts'
import type { CaseId, DeviceId, EntryId, PhotoHash } from '../src/ids.ts'
import type { Result } from '../src/result.ts'
import type { AddedPhoto, NewPhoto } from './case-photos.ts'
import type { DocumentKey, Replica } from './exchange/replica.ts'
import type { AnyOutcome, Rules } from './rules.ts'
import type { DocumentProblem } from './shelf.ts'
import type { SaveFailure } from './statement.ts'
import type { CasebookStorage, StorageFailure } from './storage/storage.ts'
import type { CasebookSecret } from './trust/casebook-secret.ts'
import type { DeviceKey } from './trust/device-key.ts'

/** What a person states in one form: only fields that were changed or confirmed (B4). */
export interface Statement {
  readonly kind: EntryKind
  readonly set: Readonly<Record<string, unknown>>
  /** The standing entries of those fields that were on screen. Empty for a repeat measurement. */
  readonly over?: readonly EntryId[]
  readonly why?: string
}

/** `counts` is false on a device that was struck off: kept and shared, and counted once one of the crew vouches. */
export interface Saved {
  readonly id: EntryId
  readonly counts: boolean
}

export type SaveResult = Result<Saved, SaveFailure>

/** An entry as kept, and why it does not count, if so. */
export interface RecordedEntry {
  readonly counted: Counted
  readonly notCounting: NotCounting | null
}

/** Entries of one document that are kept and do not count, by id. Never empty. */
export interface NotCountingIn {
  readonly document: DocumentKey
  readonly entries: readonly (RecordedEntry & { readonly notCounting: NotCounting })[]
}

/** What is said along with a strike: it cannot be undone. */
export interface StrikeSaid {
  readonly why?: string
  /** Who decided it as well. */
  readonly secondName?: string
}

/** A case in a list, without opening it. `brief` is null until it was derived for the first time. */
export interface CaseSummary<Brief> {
  readonly caseId: CaseId
  readonly name: string | null
  readonly open: boolean
  readonly entryCount: number
  readonly on: CalendarDate | null
  readonly changesOn: CalendarDate | null
  readonly brief: Brief | null
}

/** Entries of this device that no other one is known to hold. Files that were carried away do not count: nobody knows. */
export interface NotHandedOn {
  readonly entries: number
  readonly cases: readonly CaseId[]
}

export type CasebookChange =
  | { readonly type: 'entries'; readonly document: DocumentKey }
  | { readonly type: 'derived'; readonly caseIds: readonly CaseId[] }
  | { readonly type: 'removed'; readonly caseId: CaseId }
  /** Bytes of a photo came from one of the crew. */
  | { readonly type: 'photo-came'; readonly caseId: CaseId; readonly hash: PhotoHash }

/** Something to be shown: rows that do not open, a case that the rules could not judge, a store that took no summary. */
export type CasebookProblem =
  | ({ readonly type: 'unreadable-rows' } & DocumentProblem)
  | { readonly type: 'rules-failed'; readonly caseId: CaseId; readonly message: string }
  | { readonly type: 'secret-unreadable'; readonly message: string }
  | StorageFailure

/**
 * One device's copy of the shared record: what components and the command line hold. Every write resolves after the store
 * committed it. A view or outcome is derived from entries each time; nothing derived is ever shared.
 */
export interface Casebook<Outcome extends AnyOutcome, Brief> extends Replica {
  readonly device: DeviceId
  crew(): Crew
  context(): SharedContext
  erasures(): ReadonlyMap<CaseId, Erasure>
  /** Every case that is shown, by id. */
  summaries(): readonly CaseSummary<Brief>[]
  problems(): readonly CasebookProblem[]

  addCase(statement: Statement): Promise<Result<Saved & { readonly caseId: CaseId }, SaveFailure>>
  save(caseId: CaseId, statement: Statement): Promise<SaveResult>
  /** Undefined for a case that is not here, hidden or erased. */
  view(caseId: CaseId): Promise<CaseView | undefined>
  outcome(caseId: CaseId, today: CalendarDate): Promise<Outcome | undefined>
  /** Every entry that is kept of a document, those that do not count too, by id. */
  record(document: DocumentKey): Promise<readonly RecordedEntry[]>

  /** What is kept and does not count, of one document or of all; those where everybody counts are not opened for it. */
  notCounting(document?: DocumentKey): Promise<readonly NotCountingIn[]>

  /** A photo drawn anew (`drawAnew`): its bytes are kept before the entry that names them. Needs agreement. */
  addPhoto(caseId: CaseId, photo: NewPhoto): Promise<Result<AddedPhoto, SaveFailure>>
  /** JPEG bytes, to show or to hand on; undefined where it does not stand, may not be shown, or is not on this device. */
  photo(caseId: CaseId, hash: PhotoHash): Promise<Uint8Array | undefined>
  /** Takes in the bytes of a photo that the case names. */
  receivePhoto(caseId: CaseId, hash: PhotoHash, bytes: Uint8Array): Promise<Result<undefined, SaveFailure>>

  /** Names the crew and its place anew. */
  setTitle(title: TeamValue<'title'>): Promise<SaveResult>
  /** Says whom people call about their chair; null takes it back. */
  setContact(contact: TeamValue<'contact'>): Promise<SaveResult>
  addMember(member: TeamValue<'add'>, over?: readonly EntryId[]): Promise<SaveResult>
  /** Strikes a device off from now, vouches for what is here of it, and renews the casebook secret. */
  strike(device: DeviceId, said?: StrikeSaid): Promise<SaveResult>
  /** Stands up for entries of a struck device that came late. */
  vouch(device: DeviceId, ids: readonly EntryId[]): Promise<Result<readonly Saved[], SaveFailure>>
  eraseCase(caseId: CaseId, why?: EraseReason): Promise<SaveResult>
  moveStock(statement: Pick<TeamStatement, 'movement' | 'reservation'>, why?: string): Promise<SaveResult>
  /** Puts a model in the place of what stands under its key here; null retires it. */
  setModel(key: string, model: ChairModel | null): Promise<SaveResult>
  setPolicy(policy: Policy): Promise<SaveResult>

  secrets(): readonly CasebookSecret[]
  /** Takes in a secret that came through a gated connection. */
  receiveSecret(secret: CasebookSecret): Promise<Result<undefined, StorageFailure>>

  notHandedOn(): Promise<NotHandedOn>
  /** Another device was found to hold just this, by content hash. */
  noteHeldElsewhere(hashes: ReadonlyMap<DocumentKey, Uint8Array>): Promise<Result<undefined, StorageFailure>>

  subscribe(listener: (change: CasebookChange) => void): () => void
  /** Derives anew what a new day or new rules make different. */
  refresh(): void
  /** Takes in what another tab on the same store has written to a document. */
  reread(document: DocumentKey): Promise<void>
  /** Comes when nothing waits to be derived. */
  settled(): Promise<void>
}

/** What a composition root hands in. `clock` gives milliseconds since 1970, `today` the date in the team's zone. */
export interface CasebookOptions<Outcome extends AnyOutcome, Brief> {
  readonly storage: CasebookStorage
  readonly deviceKey: DeviceKey
  readonly rules: Rules<Outcome, Brief>
  clock(): number
  today(): CalendarDate
  /** Cryptographically random; the platform's when absent. */
  randomBytes?(count: number): Uint8Array
  /** How many documents stay open, 50 when absent. */
  readonly loadedLimit?: number
  /** How many outcomes are remembered, 100 when absent. */
  readonly rememberedOutcomes?: number
}

/** Who founds a casebook, and what it is called. */
export interface Founding {
  readonly founderName: string
  /** The coordinator when absent. */
  readonly founderRole?: Exclude<Role, 'visitor'>
  readonly title?: TeamValue<'title'>
}

export interface OpenFailure {
  readonly type: 'no-casebook' | 'casebook-exists' | 'newer-store' | SaveFailure['type']
  readonly message: string
}
