import type { CalendarDate } from '../src/calendar-date.ts'
import type { CaseView } from '../src/case/case-view.ts'
import type { Counted } from '../src/case/entry.ts'
import { headsOf } from '../src/case/heads.ts'
import type { ChairModel } from '../src/chair/chair-model.ts'
import { modelField, POLICY_FIELD, readModel, readPolicy } from '../src/crew/catalogue-fields.ts'
import { type Crew, countingEntries } from '../src/crew/crew.ts'
import type { Erasure } from '../src/crew/erasures.ts'
import type { SharedContext } from '../src/crew/shared-context.ts'
import type { EraseReason, TeamStatement, TeamValue } from '../src/crew/team-fields.ts'
import type { Policy } from '../src/fitting/policy.ts'
import {
  type CasebookId,
  type CaseId,
  caseIdSchema,
  compareText,
  type DeviceId,
  type EntryId,
  type PhotoHash,
} from '../src/ids.ts'
import { type Result, success } from '../src/result.ts'
import { admitEntries, admitUpdate } from './admit.ts'
import { toBase64Url } from './bytes.ts'
import { CaseDocument } from './case-document.ts'
import { type AddedPhoto, CasePhotos, mayNamePhoto, type NewPhoto } from './case-photos.ts'
import type {
  Casebook,
  CasebookChange,
  CasebookProblem,
  CaseSummary,
  NotCountingIn,
  NotHandedOn,
  RecordedEntry,
  Saved,
  SaveResult,
  Statement,
  StrikeSaid,
} from './casebook.ts'
import type { AdmitReport, DocumentKey } from './exchange/replica.ts'
import { mayLackCount, notCountingOf, recordedIn } from './not-counting.ts'
import type { CasebookRecord } from './record.ts'
import type { AnyOutcome } from './rules.ts'
import { type Checked, checkCaseSet, checkTeamSet, refusal, type SaveFailure } from './statement.ts'
import type { PhotoStore, Stored } from './storage/storage.ts'
import { isCase } from './team-state.ts'
import type { CasebookSecret } from './trust/casebook-secret.ts'
import { isKeyOf } from './trust/device-key.ts'
import { vouchesFor } from './vouching.ts'

const CASE_ID_BYTES = 16
const SECRET_UNREADABLE: CasebookProblem = {
  type: 'secret-unreadable',
  message: 'The casebook secret cannot be read. All cases are safe; meet one of the crew to receive it again.',
}

/** See `Casebook`: what a person states and asks, and the face that the exchange sees. */
export class LiveCasebook<Outcome extends AnyOutcome, Brief> implements Casebook<Outcome, Brief> {
  readonly #record: CasebookRecord<Outcome, Brief>
  readonly #photos: CasePhotos
  readonly #rereads = new Map<DocumentKey, Promise<void>>()

  constructor(record: CasebookRecord<Outcome, Brief>, photos: PhotoStore) {
    this.#record = record
    this.#photos = new CasePhotos(photos, (caseId, statement) => this.#saveCase(caseId, statement))
  }

  get casebookId(): CasebookId {
    return this.#record.casebookId
  }

  get device(): DeviceId {
    return this.#record.device
  }

  crew(): Crew {
    return this.#record.state.crew
  }

  context(): SharedContext {
    return this.#record.state.hashed.context
  }

  erasures(): ReadonlyMap<CaseId, Erasure> {
    return this.#record.state.erasures
  }

  summaries(): readonly CaseSummary<Brief>[] {
    return [...this.#record.shelf.summaries.values()]
      .filter(({ document }) => this.#isShown(document))
      .sort((a, b) => compareText(a.document, b.document))
      .map(({ document, entryCount, derived }) => ({
        caseId: document as CaseId,
        name: derived?.name ?? null,
        open: derived?.open ?? true,
        entryCount,
        on: derived?.on ?? null,
        changesOn: derived?.changesOn ?? null,
        brief: (derived?.brief as Brief | undefined) ?? null,
      }))
  }

  problems(): readonly CasebookProblem[] {
    return [
      ...this.#record.shelf.problems().map(problem => ({ type: 'unreadable-rows' as const, ...problem })),
      ...[...this.#record.deriving.failures].map(([caseId, message]) => ({
        type: 'rules-failed' as const,
        caseId,
        message,
      })),
      ...(this.#record.keeper.unreadable ? [SECRET_UNREADABLE] : []),
      ...[this.#record.storageProblem, this.#record.deriving.storageProblem].filter(problem => problem !== null),
    ]
  }

  async addCase(statement: Statement): Promise<Result<Saved & { readonly caseId: CaseId }, SaveFailure>> {
    const caseId = caseIdSchema.parse(toBase64Url(this.#record.randomBytes(CASE_ID_BYTES)))
    const saved = await this.#record.enter(() => this.#saveCase(caseId, statement))
    return saved.ok ? success({ ...saved.value, caseId }) : saved
  }

  save(caseId: CaseId, statement: Statement): Promise<SaveResult> {
    return this.#record.enter(async () => {
      const takes = this.#takes(caseId)
      return takes.ok ? this.#saveCase(caseId, statement) : takes
    })
  }

  addPhoto(caseId: CaseId, photo: NewPhoto): Promise<Result<AddedPhoto, SaveFailure>> {
    return this.#record.enter(async () => {
      const takes = this.#takes(caseId)
      return takes.ok ? this.#photos.add(await this.#viewOf(caseId), photo) : takes
    })
  }

  photo(caseId: CaseId, hash: PhotoHash): Promise<Uint8Array | undefined> {
    return this.#record.enter(async () =>
      this.#isHere(caseId) ? this.#photos.read(await this.#viewOf(caseId), hash) : undefined,
    )
  }

  receivePhoto(caseId: CaseId, hash: PhotoHash, bytes: Uint8Array): Promise<Result<undefined, SaveFailure>> {
    return this.#record.enter(async () => {
      const takes = this.#takes(caseId)
      if (!takes.ok) return takes
      const received = await this.#photos.receive(await this.#viewOf(caseId), hash, bytes)
      if (received.ok) this.#record.tell({ type: 'photo-came', caseId, hash })
      return received
    })
  }

  view(caseId: CaseId): Promise<CaseView | undefined> {
    return this.#record.enter(async () => (this.#isHere(caseId) ? this.#viewOf(caseId) : undefined))
  }

  outcome(caseId: CaseId, today: CalendarDate): Promise<Outcome | undefined> {
    return this.#record.enter(async () => {
      if (!this.#isHere(caseId)) return undefined
      const { derivation, state } = this.#record
      return derivation.outcomeOf(caseId, await this.#counting(caseId), state.hashed, today).outcome
    })
  }

  record(key: DocumentKey): Promise<readonly RecordedEntry[]> {
    return this.#record.enter(() => this.#recorded(key))
  }

  notCounting(document?: DocumentKey): Promise<readonly NotCountingIn[]> {
    return this.#record.enter(async () => {
      const { shelf, state } = this.#record
      const found: NotCountingIn[] = []
      const one = document === undefined ? undefined : shelf.summaries.get(document)
      const here = document === undefined ? [...shelf.summaries.values()] : one ? [one] : []
      for (const { document: key, authors } of here.sort((a, b) => compareText(a.document, b.document))) {
        const lacking = mayLackCount(authors, state.crew) && notCountingOf(key, await this.#recorded(key))
        if (lacking) found.push(lacking)
      }
      return found
    })
  }

  setContact(contact: TeamValue<'contact'>): Promise<SaveResult> {
    return this.#record.enter(() => this.#writeTeam({ contact }, { over: this.#record.state.crew.contactIds }))
  }

  setTitle(title: TeamValue<'title'>): Promise<SaveResult> {
    return this.#record.enter(() => this.#writeTeam({ title }, { over: this.#record.state.crew.titleIds }))
  }

  async addMember(member: TeamValue<'add'>, over: readonly EntryId[] = []): Promise<SaveResult> {
    if (!isKeyOf(member.device, member.key))
      return refusal('key-mismatch', 'This key is not the key of that device. Scan the code of the new device again.')
    return this.#record.enter(() => this.#writeTeam({ add: member }, { over }))
  }

  strike(device: DeviceId, { why, secondName }: StrikeSaid = {}): Promise<SaveResult> {
    return this.#record.enter(async () => {
      const may = await this.#record.mayStrike(device)
      if (!may.ok) return may
      const saved = await this.#writeTeam(
        { strike: { device, ...(secondName === undefined ? {} : { secondName }) } },
        why === undefined ? {} : { why },
      )
      if (saved.ok) await this.#record.renewSecret()
      return saved
    })
  }

  vouch(device: DeviceId, ids: readonly EntryId[]): Promise<Result<readonly Saved[], SaveFailure>> {
    return this.#record.enter(async () => {
      const saved: Saved[] = []
      for (const statement of vouchesFor(device, ids)) {
        const one = await this.#writeTeam(statement)
        if (!one.ok) return one
        saved.push(one.value)
      }
      return success(saved)
    })
  }

  eraseCase(caseId: CaseId, why?: EraseReason): Promise<SaveResult> {
    const erase = { case: caseId, ...(why === undefined ? {} : { why }) }
    return this.#record.enter(() => this.#writeTeam({ erase }))
  }

  moveStock(statement: Pick<TeamStatement, 'movement' | 'reservation'>, why?: string): Promise<SaveResult> {
    return this.#record.enter(() => this.#writeTeam(statement, why === undefined ? {} : { why }))
  }

  async setModel(key: string, model: ChairModel | null): Promise<SaveResult> {
    const value = model === null ? null : JSON.stringify(model)
    if (readModel(key, value) === undefined)
      return refusal('invalid-value', `This is not a chair model with the key "${key}".`)
    return this.#record.enter(() => this.#writeCatalogue(modelField(key), value))
  }

  async setPolicy(policy: Policy): Promise<SaveResult> {
    const value = JSON.stringify(policy)
    if (readPolicy(value) === undefined) return refusal('invalid-value', 'This is not a policy.')
    return this.#record.enter(() => this.#writeCatalogue(POLICY_FIELD, value))
  }

  secrets(): readonly CasebookSecret[] {
    return this.#record.keeper.secrets
  }

  receiveSecret(secret: CasebookSecret): Promise<Stored> {
    return this.#record.enter(() => this.#record.keeper.keep(secret))
  }

  notHandedOn(): Promise<NotHandedOn> {
    return this.#record.enter(async () => {
      let entries = 0
      const cases: CaseId[] = []
      for (const key of [...this.#record.shelf.summaries.keys()].sort(compareText)) {
        if (!this.#record.state.isShared(key)) continue
        const { length } = await this.#record.shelf.onlyHere(key)
        entries += length
        if (length > 0 && isCase(key)) cases.push(key)
      }
      return { entries, cases }
    })
  }

  noteHeldElsewhere(hashes: ReadonlyMap<DocumentKey, Uint8Array>): Promise<Stored> {
    return this.#record.enter(() => this.#record.shelf.noteHeldElsewhere(hashes))
  }

  subscribe(listener: (change: CasebookChange) => void): () => void {
    this.#record.listeners.add(listener)
    return () => this.#record.listeners.delete(listener)
  }

  refresh(): void {
    this.#record.deriving.addStale()
  }

  reread(document: DocumentKey): Promise<void> {
    // One that still waits its turn will see this news too.
    const waiting = this.#rereads.get(document)
    if (waiting) return waiting
    const reading = this.#record.enter(() => {
      this.#rereads.delete(document)
      return this.#record.reread(document)
    })
    this.#rereads.set(document, reading)
    return reading
  }

  settled(): Promise<void> {
    return this.#record.deriving.settled()
  }

  // Replica

  hashes(): ReadonlyMap<DocumentKey, Uint8Array> {
    if (this.#record.state.erasures.size === 0) return this.#record.shelf.hashes
    return new Map([...this.#record.shelf.hashes].filter(([key]) => this.#record.state.isShared(key)))
  }

  stateVector(key: DocumentKey): Promise<Uint8Array> {
    return this.#record.enter(async () => (await this.#openShared(key)).stateVector())
  }

  updateSince(key: DocumentKey, stateVector: Uint8Array): Promise<Uint8Array> {
    return this.#record.enter(async () => (await this.#openShared(key)).updateSince(stateVector))
  }

  entryIds(key: DocumentKey): Promise<readonly EntryId[]> {
    return this.#record.enter(async () => (await this.#openShared(key)).entryIds())
  }

  entries(key: DocumentKey, ids: readonly EntryId[]): Promise<readonly Uint8Array[]> {
    return this.#record.enter(async () => {
      const document = await this.#openShared(key)
      return ids.flatMap(id => document.signed(id) ?? [])
    })
  }

  admitUpdate(key: DocumentKey, update: Uint8Array): Promise<AdmitReport> {
    return this.#record.enter(() => this.#record.admit(key, (document, check) => admitUpdate(document, update, check)))
  }

  admitEntries(key: DocumentKey, entries: readonly Uint8Array[]): Promise<AdmitReport> {
    return this.#record.enter(() =>
      this.#record.admit(key, (document, check) => admitEntries(document, entries, check)),
    )
  }

  // What follows runs inside #enter.

  #isShown(key: DocumentKey): boolean {
    return isCase(key) && this.#record.state.isShared(key)
  }

  async #recorded(key: DocumentKey): Promise<readonly RecordedEntry[]> {
    return recordedIn(await this.#openShared(key), this.#record.state.crew)
  }

  async #openShared(key: DocumentKey): Promise<CaseDocument> {
    return this.#record.state.isShared(key) ? this.#record.shelf.open(key) : new CaseDocument()
  }

  #isHere(caseId: CaseId): boolean {
    return this.#isShown(caseId) && this.#record.shelf.summaries.has(caseId)
  }

  /** Whether anything can be recorded for a case. */
  #takes(caseId: CaseId): Checked {
    const erasure = this.#record.state.erasures.get(caseId)
    if (erasure?.state === 'erased')
      return refusal('erased-case', 'This case was erased by two of the crew and takes nothing any more.')
    if (erasure)
      return refusal('hidden-case', 'One of the crew asked to erase this case; it is hidden and takes nothing.')
    if (!this.#record.shelf.summaries.has(caseId))
      return refusal('unknown-case', 'There is no such case on this device.')
    return success(undefined)
  }

  async #viewOf(caseId: CaseId): Promise<CaseView> {
    return this.#record.derivation.viewOf(caseId, await this.#counting(caseId))
  }

  async #counting(key: DocumentKey): Promise<readonly Counted[]> {
    return countingEntries(this.#record.state.crew, (await this.#record.shelf.open(key)).counted())
  }

  async #saveCase(caseId: CaseId, statement: Statement): Promise<SaveResult> {
    const checked = checkCaseSet(statement.set)
    if (!checked.ok) return checked
    if (Object.hasOwn(statement.set, 'photo')) {
      const may = mayNamePhoto(statement.set, await this.#viewOf(caseId))
      if (!may.ok) return may
    }
    const why = await this.#record.whyRefused(caseId, statement)
    return why === undefined ? this.#record.write(caseId, caseId, statement) : refusal('held', why)
  }

  async #writeTeam(set: TeamStatement, rest: { over?: readonly EntryId[]; why?: string } = {}): Promise<SaveResult> {
    const checked = checkTeamSet(set)
    return checked.ok ? this.#record.write('team', this.casebookId, { kind: 'save', set, ...rest }) : checked
  }

  /** Over what stands here: a chair model is replaced whole by whoever has it before their eyes. */
  async #writeCatalogue(field: string, value: string | null): Promise<SaveResult> {
    const entries = await this.#counting('catalogue')
    const { heads } = headsOf(entries, field, { isValid: () => true })
    const over = heads.map(head => head.id)
    return this.#record.write('catalogue', this.casebookId, { kind: 'save', set: { [field]: value }, over })
  }
}
