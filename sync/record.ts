import { viewOfCase } from '../src/case/case-view-of.ts'
import type { Counted, Entry } from '../src/case/entry.ts'
import { countingEntries, crewOf, isInGoodStanding, whyNotCounting } from '../src/crew/crew.ts'
import type { CasebookId, CaseId, DeviceId, EntryId } from '../src/ids.ts'
import { failure, success } from '../src/result.ts'
import type { Admission } from './admit.ts'
import type { CaseDocument } from './case-document.ts'
import type { CasebookChange, CasebookOptions, SaveResult, Statement } from './casebook.ts'
import { Deriving } from './deriving.ts'
import { type CheckEntries, checkFor, SignatureVerdicts } from './entry-check.ts'
import type { AdmitReport, DocumentKey } from './exchange/replica.ts'
import { oneAtATime } from './one-at-a-time.ts'
import { Derivation } from './recompute.ts'
import type { AnyOutcome } from './rules.ts'
import { platformRandom, type SecretKeeper } from './secret-keeper.ts'
import type { Shelf } from './shelf.ts'
import { type Draft, signEntry, unsignedEntry } from './signed-entry.ts'
import { type Checked, NOT_SAVED, refusal } from './statement.ts'
import { type StorageFailure, StorageUnreadable, type Stored } from './storage/storage.ts'
import { TeamState } from './team-state.ts'
import { hasNewStrike, struckDevices, vouchFor } from './vouching.ts'

export type OpenOptions<Outcome extends AnyOutcome, Brief> = CasebookOptions<Outcome, Brief> & {
  readonly casebookId: CasebookId
}

const refusedReport = (type: string, message: string): AdmitReport => ({
  added: [],
  refused: [{ type, message }],
  altered: false,
  incomplete: false,
})

/**
 * Where entries come into a casebook, from this device or another, and what follows from each: stored first, then crew,
 * erasures and context read anew, then the cases concerned derived anew. Everything but `enter` runs inside `enter`.
 */
export class CasebookRecord<Outcome extends AnyOutcome, Brief> {
  readonly casebookId: CasebookId
  readonly shelf: Shelf
  readonly keeper: SecretKeeper
  readonly state: TeamState
  readonly derivation: Derivation<Outcome, Brief>
  readonly deriving: Deriving<Outcome, Brief>
  /** Whatever touches documents runs one piece of work at a time. */
  readonly enter = oneAtATime()
  readonly listeners = new Set<(change: CasebookChange) => void>()
  storageProblem: StorageFailure | null = null
  readonly #options: OpenOptions<Outcome, Brief>
  /** Erased cases whose removal the store has committed since this was opened. */
  readonly #removed = new Set<CaseId>()
  readonly #verdicts = new SignatureVerdicts()

  private constructor(shelf: Shelf, keeper: SecretKeeper, state: TeamState, options: OpenOptions<Outcome, Brief>) {
    this.casebookId = options.casebookId
    this.shelf = shelf
    this.keeper = keeper
    this.state = state
    this.#options = options
    this.derivation = new Derivation(options.rules, options.rememberedOutcomes)
    this.deriving = new Deriving({
      shelf,
      state,
      derivation: this.derivation,
      rulesVersion: options.rules.version,
      today: () => options.today(),
      enter: work => this.enter(work),
      derived: caseIds => this.tell({ type: 'derived', caseIds }),
      photos: options.storage,
    })
  }

  /** From what is stored: reads team and catalogue, and finishes what a restart interrupted. */
  static async open<Outcome extends AnyOutcome, Brief>(
    shelf: Shelf,
    keeper: SecretKeeper,
    options: OpenOptions<Outcome, Brief>,
  ): Promise<CasebookRecord<Outcome, Brief>> {
    const record = new CasebookRecord(shelf, keeper, TeamState.empty(options.casebookId), options)
    await record.enter(async () => {
      await record.#readTeam(await shelf.open('team'))
      await record.renewSecret()
    })
    return record
  }

  randomBytes(count: number): Uint8Array {
    return (this.#options.randomBytes ?? platformRandom)(count)
  }

  get device(): DeviceId {
    return this.#options.deviceKey.device
  }

  async admit(
    key: DocumentKey,
    take: (document: CaseDocument, check: CheckEntries) => Promise<Admission>,
  ): Promise<AdmitReport> {
    if (!this.state.isShared(key))
      return this.state.erasures.get(key as CaseId)?.state === 'erased'
        ? refusedReport('erased-case', 'This case was erased by two of the crew; nothing of it is taken back.')
        : refusedReport('hidden-case', 'One of the crew asked to erase this case; nothing is taken in for it.')
    const check = checkFor(this.casebookId, key, this.state.keys, this.#verdicts)
    return this.#changing(key, async document => {
      const held = key === 'team' ? document.counted() : []
      const { report, added, changes } = await take(document, check)
      if (changes.length === 0) return report
      const stored = await this.#commit(
        key,
        document,
        changes,
        held,
        added.map(({ counted }) => counted),
        [],
      )
      if (stored.ok) return report
      const { type, message } = stored.failure
      return { ...report, added: [], refused: [...report.refused, { type, message }] }
    })
  }

  /** Should anything throw halfway, the document in memory is dropped and comes back as it was stored. */
  async #changing<Value>(key: DocumentKey, work: (document: CaseDocument) => Promise<Value>): Promise<Value> {
    try {
      return await work(await this.shelf.open(key))
    } catch (error) {
      this.shelf.drop(key)
      throw error
    }
  }

  /** Stores what changed, in the same write with the vouches that news of a strike asks for; then draws the consequences. */
  async #commit(
    key: DocumentKey,
    document: CaseDocument,
    changes: readonly Uint8Array[],
    heldOfTeam: readonly Counted[],
    added: readonly Counted[],
    written: readonly EntryId[],
  ): Promise<Stored> {
    const vouching = key === 'team' ? await this.#vouchIn(document, heldOfTeam) : []
    const known = new Set([...heldOfTeam, ...added].map(({ id }) => id))
    const vouches = vouching.length > 0 ? document.entryIds().filter(id => !known.has(id)) : []
    const stored = await this.shelf.store(key, document, [...changes, ...vouching], added, [...written, ...vouches])
    if (!stored.ok) return stored
    if (key === 'team') await this.#readTeam(document)
    else if (key === 'catalogue') await this.#readContext()
    else if (added.length > 0) this.deriving.add([key])
    this.tell({ type: 'entries', document: key })
    // The rows of a case are merged once it has been derived.
    if (key === 'team' || key === 'catalogue') await this.shelf.compactIfDue(key)
    return stored
  }

  async #vouchIn(team: CaseDocument, heldOfTeam: readonly Counted[]): Promise<readonly Uint8Array[]> {
    const before = this.state.crew
    const after = crewOf(team.counted())
    if (!hasNewStrike(before, after) || !isInGoodStanding(after, this.device)) return []
    const struck = struckDevices(after)
    const held = [...heldOfTeam]
    for (const { document, authors } of [...this.shelf.summaries.values()])
      if (document !== 'team' && authors.some(device => struck.has(device)))
        held.push(...(await this.shelf.open(document)).counted())
    return vouchFor(team, before, after, held, async set => {
      const signed = await signEntry(this.#options.deviceKey, this.#draft(this.casebookId, { kind: 'save', set }))
      if (!signed.ok) throw new Error(`a vouch that cannot be written: ${signed.failure.message}`)
      return signed.value
    })
  }

  async #readTeam(team: CaseDocument): Promise<void> {
    await this.state.readTeam(team)
    for (const caseId of this.state.erasedCases()) if (!this.#removed.has(caseId)) await this.#remove(caseId)
    await this.#readContext()
  }

  /** Once each time the casebook is opened, whatever is there: rows that an old copy of the disk brought back go too (B8). */
  async #remove(caseId: CaseId): Promise<void> {
    const wasHere = this.shelf.summaries.has(caseId)
    const removed = await this.shelf.remove(caseId)
    if (removed.ok) this.#removed.add(caseId)
    else this.storageProblem = removed.failure
    this.deriving.forget(caseId)
    if (wasHere) this.tell({ type: 'removed', caseId })
  }

  async #readContext(): Promise<void> {
    this.state.readContext(await this.shelf.open('team'), await this.shelf.open('catalogue'))
    this.deriving.addStale()
  }

  /** Writes one statement of this device: signed, stored, and only then told. */
  async write(key: DocumentKey, caseId: string, statement: Statement): Promise<SaveResult> {
    const may = this.state.mayWrite(this.device)
    if (!may.ok) return may
    const signed = await signEntry(this.#options.deviceKey, this.#draft(caseId, statement))
    if (!signed.ok) return failure({ ...signed.failure, message: `${signed.failure.message}. ${NOT_SAVED}` })
    return this.#changing(key, async document => {
      const { id } = signed.value
      if (!document.has(id)) {
        const held = key === 'team' ? document.counted() : []
        const change = document.put([signed.value])
        const stored = await this.#commit(key, document, change ? [change] : [], held, [signed.value.counted], [id])
        if (!stored.ok) return stored
      }
      return success({ id, counts: whyNotCounting(this.state.crew, id, this.device) === undefined })
    })
  }

  /** Nobody strikes themselves off, nor the device through which they stand in the crew. */
  async mayStrike(device: DeviceId): Promise<Checked> {
    const { crew } = this.state
    if (device === this.device)
      return refusal('own-device', 'A device cannot strike itself off; another one of the crew must.')
    if (!crew.members.has(device)) return refusal('unknown-device', 'That device is not in the crew.')
    const said = unsignedEntry(this.device, this.#draft(this.casebookId, { kind: 'save', set: { strike: { device } } }))
    if (!said.ok || !isInGoodStanding(crew, this.device)) return success(undefined)
    const after = crewOf([...(await this.shelf.open('team')).counted(), said.value.counted])
    return isInGoodStanding(after, this.device)
      ? success(undefined)
      : refusal(
          'let-this-in',
          'That device let this one into the crew: struck off from here, this one would be out of the crew as well. Another one of the crew must strike it off, whom it did not let in.',
        )
  }

  /**
   * What the rules have against this statement, judged by the case as it stands with what the statement says besides.
   * Undefined when it may be written.
   */
  async whyRefused(caseId: CaseId, statement: Statement): Promise<string | undefined> {
    const { rules } = this.#options
    if (!rules.whyRefused || !this.state.mayWrite(this.device).ok) return undefined
    // What cannot be written at all is refused by the writing, in its own words.
    if (!unsignedEntry(this.device, this.#draft(caseId, statement)).ok) return undefined
    const entries = (await this.shelf.open(caseId)).counted()
    const outcomeWith = (set: Statement['set']): Outcome => {
      const said = unsignedEntry(this.device, this.#draft(caseId, { ...statement, set }))
      if (!said.ok)
        throw new Error(`fields of a statement that cannot be said without the others: ${said.failure.type}`)
      const counting = countingEntries(this.state.crew, [...entries, said.value.counted])
      return rules.outcomeOf(viewOfCase(caseId, counting), this.state.hashed.context, this.#options.today())
    }
    return rules.whyRefused(statement.set, outcomeWith)
  }

  /** Another tab on the same store has written: what it wrote takes effect here, as if it had come from a peer. */
  async reread(key: DocumentKey): Promise<void> {
    try {
      await this.#takeStored(key)
    } catch (error) {
      if (!(error instanceof StorageUnreadable)) throw error
      this.storageProblem = { type: 'storage-failed', message: error.message }
    }
  }

  async #takeStored(key: DocumentKey): Promise<void> {
    if (key === 'team') await this.keeper.read()
    const document = await this.shelf.reread(key)
    if (key === 'team') {
      if (document) await this.#readTeam(document)
    } else if (key === 'catalogue') await this.#readContext()
    else if (document) this.deriving.add([key])
    else {
      this.deriving.forget(key)
      this.tell({ type: 'removed', caseId: key })
      return
    }
    this.tell({ type: 'entries', document: key })
  }

  async renewSecret(): Promise<void> {
    const strikes = this.state.strikesBy(this.device, await this.shelf.open('team'))
    const stored = await this.keeper.renewFor(strikes)
    if (!stored.ok) this.storageProblem = stored.failure
  }

  #draft(caseId: string, { kind, set, over = [], why }: Statement): Draft {
    const words = why === undefined ? {} : { why }
    return { case: caseId as Entry['case'], at: this.#options.clock(), kind, set, over: [...over], ...words }
  }

  tell(change: CasebookChange): void {
    // In a turn of its own: what a listener does or throws is no part of the write.
    for (const listener of this.listeners) queueMicrotask(() => listener(change))
  }
}
