import type { CalendarDate } from '../src/calendar-date.ts'
import type { CaseView } from '../src/case/case-view.ts'
import { viewOfCase } from '../src/case/case-view-of.ts'
import type { Counted, Entry } from '../src/case/entry.ts'
import { headsOf } from '../src/case/heads.ts'
import type { ChairModel } from '../src/chair/chair-model.ts'
import { modelField, POLICY_FIELD } from '../src/crew/catalogue-fields.ts'
import { type Crew, countingEntries, crewOf, isInGoodStanding, whyNotCounting } from '../src/crew/crew.ts'
import { type Erasure, erasuresOf } from '../src/crew/erasures.ts'
import { type SharedContext, sharedContextOf } from '../src/crew/shared-context.ts'
import type { TeamStatement, TeamValue } from '../src/crew/team-fields.ts'
import type { Policy } from '../src/fitting/policy.ts'
import { type CasebookId, type CaseId, caseIdSchema, compareText, type DeviceId, type EntryId } from '../src/ids.ts'
import { failure, type Result, success } from '../src/result.ts'
import { type Admission, admitEntries, admitUpdate } from './admit.ts'
import { toBase64Url } from './bytes.ts'
import { CaseDocument } from './case-document.ts'
import type {
  Casebook,
  CasebookChange,
  CasebookOptions,
  CasebookProblem,
  CaseSummary,
  RecordedEntry,
  Saved,
  SaveResult,
  Statement,
} from './casebook.ts'
import { type CheckEntries, checkFor, SignatureVerdicts } from './entry-check.ts'
import type { AdmitReport, DocumentKey } from './exchange/replica.ts'
import { KeyBook } from './key-book.ts'
import { oneAtATime } from './one-at-a-time.ts'
import { Derivation, type HashedContext, RecomputeQueue } from './recompute.ts'
import type { AnyOutcome } from './rules.ts'
import type { Shelf } from './shelf.ts'
import { type Draft, type SignedEntry, signEntry } from './signed-entry.ts'
import { checkCaseSet, checkTeamSet, type SaveFailure } from './statement.ts'
import type { StorageFailure, Stored } from './storage/storage.ts'
import { type Derived, hashParts, isCurrent, standingOf } from './summaries.ts'
import { type CasebookSecret, renewedSecret, withSecret, writeSecrets } from './trust/casebook-secret.ts'
import { isKeyOf } from './trust/device-key.ts'
import { hasNewStrike, inNeedOfVouching, struckDevices, vouchesFor } from './vouching.ts'

export const SECRETS_VALUE = 'casebook-secrets'
const CASE_ID_BYTES = 16

const isCase = (key: DocumentKey): key is CaseId => key !== 'team' && key !== 'catalogue'

const refusal = (type: SaveFailure['type'], message: string): Result<never, SaveFailure> =>
  failure({ type, message: `${message} Nothing was saved; what you typed is still there.` })

const refusedReport = (type: string, message: string): AdmitReport => ({
  added: [],
  refused: [{ type, message }],
  altered: false,
  incomplete: false,
})

/** See `Casebook`. Whatever touches documents runs one piece of work at a time. */
export class LiveCasebook<Outcome extends AnyOutcome, Brief> implements Casebook<Outcome, Brief> {
  readonly casebookId: CasebookId
  readonly #options: CasebookOptions<Outcome, Brief>
  readonly #shelf: Shelf
  readonly #keys: KeyBook
  readonly #verdicts = new SignatureVerdicts()
  readonly #derivation: Derivation<Outcome, Brief>
  readonly #queue = new RecomputeQueue(next => this.#enter(() => this.#deriveSlice(next)))
  readonly #listeners = new Set<(change: CasebookChange) => void>()
  readonly #rulesFailures = new Map<CaseId, string>()
  readonly #enter = oneAtATime()
  #storageProblem: StorageFailure | null = null
  #crew: Crew = crewOf([])
  #erasures: ReadonlyMap<CaseId, Erasure> = new Map()
  #hashed: HashedContext
  #secrets: readonly CasebookSecret[]

  private constructor(
    casebookId: CasebookId,
    shelf: Shelf,
    options: CasebookOptions<Outcome, Brief>,
    secrets: readonly CasebookSecret[],
    hashed: HashedContext,
  ) {
    this.casebookId = casebookId
    this.#shelf = shelf
    this.#options = options
    this.#secrets = secrets
    this.#hashed = hashed
    this.#keys = new KeyBook(casebookId)
    this.#derivation = new Derivation(options.rules, options.rememberedOutcomes)
  }

  /** From what is stored: reads summaries, team and catalogue, and finishes what a restart interrupted. */
  static async open<Outcome extends AnyOutcome, Brief>(
    casebookId: CasebookId,
    shelf: Shelf,
    options: CasebookOptions<Outcome, Brief>,
    secrets: readonly CasebookSecret[],
  ): Promise<LiveCasebook<Outcome, Brief>> {
    const context = sharedContextOf(crewOf([]), [], [])
    const casebook = new LiveCasebook(casebookId, shelf, options, secrets, { context, parts: await hashParts(context) })
    await casebook.#enter(async () => {
      const team = await shelf.open('team')
      await casebook.#readTeam(team)
      await casebook.#renewForgottenSecret()
    })
    return casebook
  }

  get device(): DeviceId {
    return this.#options.deviceKey.device
  }

  crew(): Crew {
    return this.#crew
  }

  context(): SharedContext {
    return this.#hashed.context
  }

  erasures(): ReadonlyMap<CaseId, Erasure> {
    return this.#erasures
  }

  summaries(): readonly CaseSummary<Brief>[] {
    return [...this.#shelf.summaries.values()]
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
      ...this.#shelf.problems().map(problem => ({ type: 'unreadable-rows' as const, ...problem })),
      ...[...this.#rulesFailures].map(([caseId, message]) => ({ type: 'rules-failed' as const, caseId, message })),
      ...(this.#storageProblem ? [this.#storageProblem] : []),
    ]
  }

  async addCase(statement: Statement): Promise<Result<Saved & { readonly caseId: CaseId }, SaveFailure>> {
    const caseId = caseIdSchema.parse(toBase64Url(this.#randomBytes(CASE_ID_BYTES)))
    const saved = await this.#enter(() => this.#saveCase(caseId, statement))
    return saved.ok ? success({ ...saved.value, caseId }) : saved
  }

  save(caseId: CaseId, statement: Statement): Promise<SaveResult> {
    return this.#enter(async () => {
      const erasure = this.#erasures.get(caseId)
      if (erasure?.state === 'erased')
        return refusal('erased-case', 'This case was erased by two of the crew and takes nothing any more.')
      if (erasure)
        return refusal('hidden-case', 'One of the crew asked to erase this case; it is hidden and takes nothing.')
      if (!this.#shelf.summaries.has(caseId)) return refusal('unknown-case', 'There is no such case on this device.')
      return this.#saveCase(caseId, statement)
    })
  }

  view(caseId: CaseId): Promise<CaseView | undefined> {
    return this.#enter(async () => {
      if (!this.#isShown(caseId) || !this.#shelf.summaries.has(caseId)) return undefined
      return viewOfCase(caseId, countingEntries(this.#crew, (await this.#shelf.open(caseId)).counted()))
    })
  }

  outcome(caseId: CaseId, today: CalendarDate): Promise<Outcome | undefined> {
    return this.#enter(async () => {
      if (!this.#isShown(caseId) || !this.#shelf.summaries.has(caseId)) return undefined
      const counting = countingEntries(this.#crew, (await this.#shelf.open(caseId)).counted())
      return (await this.#derivation.outcomeOf(caseId, counting, this.#hashed, today)).outcome
    })
  }

  record(key: DocumentKey): Promise<readonly RecordedEntry[]> {
    return this.#enter(async () => {
      if (!this.#isShared(key)) return []
      const entries = (await this.#shelf.open(key)).counted()
      return entries
        .toSorted((a, b) => compareText(a.id, b.id))
        .map(counted => ({
          counted,
          notCounting: whyNotCounting(this.#crew, counted.id, counted.entry.by) ?? null,
        }))
    })
  }

  async addMember(member: TeamValue<'add'>, over: readonly EntryId[] = []): Promise<SaveResult> {
    if (!(await isKeyOf(member.device, member.key)))
      return refusal('key-mismatch', 'This key is not the key of that device. Scan the code of the new device again.')
    return this.#enter(() => this.#writeTeam({ add: member }, { over }))
  }

  strike(device: DeviceId): Promise<SaveResult> {
    return this.#enter(async () => {
      if (device === this.device)
        return refusal('own-device', 'A device cannot strike itself off; another one of the crew must.')
      if (!this.#crew.members.has(device)) return refusal('unknown-device', 'That device is not in the crew.')
      const saved = await this.#writeTeam({ strike: { device } })
      if (saved.ok && this.#crew.members.get(device)?.struckBy === saved.value.id) await this.#renewForgottenSecret()
      return saved
    })
  }

  vouch(device: DeviceId, ids: readonly EntryId[]): Promise<Result<readonly Saved[], SaveFailure>> {
    return this.#enter(async () => {
      const saved: Saved[] = []
      for (const statement of vouchesFor(device, ids)) {
        const one = await this.#writeTeam(statement)
        if (!one.ok) return one
        saved.push(one.value)
      }
      return success(saved)
    })
  }

  eraseCase(caseId: CaseId): Promise<SaveResult> {
    return this.#enter(() => this.#writeTeam({ erase: { case: caseId } }))
  }

  moveStock(statement: Pick<TeamStatement, 'movement' | 'reservation'>, why?: string): Promise<SaveResult> {
    return this.#enter(() => this.#writeTeam(statement, why === undefined ? {} : { why }))
  }

  setModel(key: string, model: ChairModel | null): Promise<SaveResult> {
    return this.#enter(() => this.#writeCatalogue(modelField(key), model === null ? null : JSON.stringify(model)))
  }

  setPolicy(policy: Policy): Promise<SaveResult> {
    return this.#enter(() => this.#writeCatalogue(POLICY_FIELD, JSON.stringify(policy)))
  }

  secrets(): readonly CasebookSecret[] {
    return this.#secrets
  }

  receiveSecret(secret: CasebookSecret): Promise<Stored> {
    return this.#enter(() => this.#keepSecret(secret))
  }

  subscribe(listener: (change: CasebookChange) => void): () => void {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }

  refresh(): void {
    const today = this.#options.today()
    const stale: CaseId[] = []
    for (const summary of this.#shelf.summaries.values()) {
      if (!isCase(summary.document) || !this.#isShown(summary.document)) continue
      if (!isCurrent(summary, this.#crew, this.#hashed.parts, this.#options.rules.version, today))
        stale.push(summary.document)
    }
    this.#queue.add(stale.sort(compareText))
  }

  settled(): Promise<void> {
    return this.#queue.settled()
  }

  // Replica

  hashes(): ReadonlyMap<DocumentKey, Uint8Array> {
    if (this.#erasures.size === 0) return this.#shelf.hashes
    return new Map([...this.#shelf.hashes].filter(([key]) => this.#isShared(key)))
  }

  stateVector(key: DocumentKey): Promise<Uint8Array> {
    return this.#enter(async () => (await this.#openShared(key)).stateVector())
  }

  updateSince(key: DocumentKey, stateVector: Uint8Array): Promise<Uint8Array> {
    return this.#enter(async () => (await this.#openShared(key)).updateSince(stateVector))
  }

  entryIds(key: DocumentKey): Promise<readonly EntryId[]> {
    return this.#enter(async () => (await this.#openShared(key)).entryIds())
  }

  entries(key: DocumentKey, ids: readonly EntryId[]): Promise<readonly Uint8Array[]> {
    return this.#enter(async () => {
      const document = await this.#openShared(key)
      return ids.flatMap(id => document.signed(id) ?? [])
    })
  }

  admitUpdate(key: DocumentKey, update: Uint8Array): Promise<AdmitReport> {
    return this.#enter(() => this.#admit(key, (document, check) => admitUpdate(document, update, check)))
  }

  admitEntries(key: DocumentKey, entries: readonly Uint8Array[]): Promise<AdmitReport> {
    return this.#enter(() => this.#admit(key, (document, check) => admitEntries(document, entries, check)))
  }

  // What follows runs inside #enter.

  #isShared(key: DocumentKey): boolean {
    return !isCase(key) || !this.#erasures.has(key)
  }

  #isShown(key: DocumentKey): boolean {
    return isCase(key) && !this.#erasures.has(key)
  }

  async #openShared(key: DocumentKey): Promise<CaseDocument> {
    return this.#isShared(key) ? this.#shelf.open(key) : new CaseDocument()
  }

  async #admit(
    key: DocumentKey,
    take: (document: CaseDocument, check: CheckEntries) => Promise<Admission>,
  ): Promise<AdmitReport> {
    if (!this.#isShared(key))
      return this.#erasures.get(key as CaseId)?.state === 'erased'
        ? refusedReport('erased-case', 'This case was erased by two of the crew; nothing of it is taken back.')
        : refusedReport('hidden-case', 'One of the crew asked to erase this case; nothing is taken in for it.')
    const document = await this.#shelf.open(key)
    const held = key === 'team' ? document.counted() : []
    const { report, added, changes } = await take(document, checkFor(this.casebookId, key, this.#keys, this.#verdicts))
    if (changes.length === 0) return report
    const stored = await this.#commit(key, document, changes, held, added)
    if (stored.ok) return report
    const { type, message } = stored.failure
    return { ...report, added: [], refused: [...report.refused, { type, message }] }
  }

  /** Stores what changed, in the same write with the vouches that news of a strike asks for; then draws the consequences. */
  async #commit(
    key: DocumentKey,
    document: CaseDocument,
    changes: readonly Uint8Array[],
    heldOfTeam: readonly Counted[],
    added: readonly SignedEntry[],
  ): Promise<Stored> {
    const vouching = key === 'team' ? await this.#vouchIn(document, heldOfTeam) : []
    const stored = await this.#shelf.store(key, document, [...changes, ...vouching])
    if (!stored.ok) return stored
    if (key === 'team') await this.#readTeam(document)
    else if (key === 'catalogue') await this.#readContext()
    else if (added.length > 0) this.#queue.add([key])
    this.#tell({ type: 'entries', document: key })
    return stored
  }

  async #vouchIn(team: CaseDocument, heldOfTeam: readonly Counted[]): Promise<readonly Uint8Array[]> {
    const after = crewOf(team.counted())
    if (!hasNewStrike(this.#crew, after) || !isInGoodStanding(after, this.device)) return []
    const struck = struckDevices(after)
    const held = [...heldOfTeam]
    for (const { document, authors } of [...this.#shelf.summaries.values()])
      if (document !== 'team' && authors.some(device => struck.has(device)))
        held.push(...(await this.#shelf.open(document)).counted())
    const changes: Uint8Array[] = []
    for (const [device, ids] of inNeedOfVouching(this.#crew, after, held))
      for (const statement of vouchesFor(device, ids)) {
        const signed = await signEntry(
          this.#options.deviceKey,
          this.#draft(this.casebookId, { kind: 'save', set: statement }),
        )
        if (!signed.ok) throw new Error(`a vouch that cannot be written: ${signed.failure.message}`)
        const change = team.put([signed.value])
        if (change) changes.push(change)
      }
    return changes
  }

  async #readTeam(team: CaseDocument): Promise<void> {
    const entries = team.counted()
    for (const counted of entries) await this.#keys.takeFrom(counted)
    this.#crew = crewOf(entries)
    this.#erasures = erasuresOf(this.#crew, entries)
    for (const [caseId, { state }] of this.#erasures) if (state === 'erased') await this.#remove(caseId)
    await this.#readContext()
  }

  /** Also when no summary is left: rows that an old copy of the disk brought back go with it (B8). */
  async #remove(caseId: CaseId): Promise<void> {
    const wasHere = this.#shelf.summaries.has(caseId)
    const removed = await this.#shelf.remove(caseId)
    if (!removed.ok) this.#storageProblem = removed.failure
    this.#queue.remove(caseId)
    this.#derivation.forget(caseId)
    this.#rulesFailures.delete(caseId)
    if (wasHere) this.#tell({ type: 'removed', caseId })
  }

  async #readContext(): Promise<void> {
    const team = (await this.#shelf.open('team')).counted()
    const catalogue = (await this.#shelf.open('catalogue')).counted()
    const context = sharedContextOf(this.#crew, team, catalogue)
    this.#hashed = { context, parts: await hashParts(context) }
    this.refresh()
  }

  async #deriveSlice(next: () => CaseId | undefined): Promise<void> {
    const derived = new Map<CaseId, Derived>()
    for (let caseId = next(); caseId !== undefined; caseId = next()) {
      const summary = this.#shelf.summaries.get(caseId)
      if (!summary || !this.#isShown(caseId)) continue
      const counting = countingEntries(this.#crew, (await this.#shelf.open(caseId)).counted())
      try {
        const { facts } = await this.#derivation.outcomeOf(caseId, counting, this.#hashed, this.#options.today())
        derived.set(caseId, { ...facts, ofHash: summary.hash, standing: standingOf(this.#crew, summary.authors) })
        this.#rulesFailures.delete(caseId)
      } catch (error) {
        // A fault of the rules must not stop the record: the case is kept, the fault shown beside it.
        this.#rulesFailures.set(caseId, error instanceof Error ? error.message : String(error))
      }
    }
    const stored = await this.#shelf.storeDerived(derived)
    this.#storageProblem = stored.ok ? null : stored.failure
    this.#tell({ type: 'derived', caseIds: [...derived.keys()] })
  }

  #tell(change: CasebookChange): void {
    // In a turn of its own: what a listener does or throws is no part of the write.
    for (const listener of this.#listeners) queueMicrotask(() => listener(change))
  }

  // Writing

  #draft(caseId: string, { kind, set, over = [], why }: Statement): Draft {
    const words = why === undefined ? {} : { why }
    return { case: caseId as Entry['case'], at: this.#options.clock(), kind, set, over: [...over], ...words }
  }

  #mayWrite(): Result<undefined, SaveFailure> {
    const member = this.#crew.members.get(this.device)
    if (!member)
      return refusal('not-in-crew', 'This device is not in the crew (yet): meet the one who invited you first.')
    if (member.role === 'visitor') return refusal('visitor', 'This device looks on as a visitor and cannot record.')
    return success(undefined)
  }

  async #saveCase(caseId: CaseId, statement: Statement): Promise<SaveResult> {
    const checked = checkCaseSet(statement.set)
    return checked.ok ? this.#write(caseId, caseId, statement) : checked
  }

  async #writeTeam(set: TeamStatement, rest: { over?: readonly EntryId[]; why?: string } = {}): Promise<SaveResult> {
    const checked = checkTeamSet(set)
    return checked.ok ? this.#write('team', this.casebookId, { kind: 'save', set, ...rest }) : checked
  }

  /** Over what stands here: a chair model is replaced whole by whoever has it before their eyes. */
  async #writeCatalogue(field: string, value: string | null): Promise<SaveResult> {
    const entries = countingEntries(this.#crew, (await this.#shelf.open('catalogue')).counted())
    const { heads } = headsOf(entries, field, { isValid: () => true })
    const over = heads.map(head => head.id)
    return this.#write('catalogue', this.casebookId, { kind: 'save', set: { [field]: value }, over })
  }

  async #write(key: DocumentKey, caseId: string, statement: Statement): Promise<SaveResult> {
    const may = this.#mayWrite()
    if (!may.ok) return may
    const signed = await signEntry(this.#options.deviceKey, this.#draft(caseId, statement))
    if (!signed.ok) return refusal(signed.failure.type, `${signed.failure.message}.`)
    const document = await this.#shelf.open(key)
    const { id, counted } = signed.value
    if (!document.has(id)) {
      const held = key === 'team' ? document.counted() : []
      const change = document.put([signed.value])
      const stored = await this.#commit(key, document, change ? [change] : [], held, [signed.value])
      if (!stored.ok) return stored
    }
    return success({ id, counts: whyNotCounting(this.#crew, id, counted.entry.by) === undefined })
  }

  // The secret

  #randomBytes(count: number): Uint8Array {
    return this.#options.randomBytes?.(count) ?? globalThis.crypto.getRandomValues(new Uint8Array(count))
  }

  async #keepSecret(secret: CasebookSecret): Promise<Stored> {
    const secrets = withSecret(this.#secrets, secret)
    const stored = await this.#options.storage.writeValue(SECRETS_VALUE, writeSecrets(secrets))
    if (stored.ok) this.#secrets = secrets
    return stored
  }

  /** One new secret for each strike of this device that took effect, also when a restart came in between. */
  async #renewForgottenSecret(): Promise<void> {
    const team = (await this.#shelf.open('team')).counted()
    const mine = new Set(team.filter(({ entry }) => entry.by === this.device).map(({ id }) => id))
    const strikes = [...this.#crew.members.values()].filter(({ struckBy }) => struckBy !== null && mine.has(struckBy))
    const renewals = this.#secrets.filter(({ epoch, by }) => epoch > 0 && by === this.device)
    if (this.#secrets.length === 0) return
    for (let missing = strikes.length - renewals.length; missing > 0; missing -= 1) {
      const stored = await this.#keepSecret(
        renewedSecret(this.#secrets, this.device, count => this.#randomBytes(count)),
      )
      if (!stored.ok) this.#storageProblem = stored.failure
    }
  }
}
