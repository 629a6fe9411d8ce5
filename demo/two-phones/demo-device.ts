import type { AppCasebook } from '../../components/app/context.ts'
import { openDrafts } from '../../components/controllers/drafts.ts'
import type { CaseId, DeviceId } from '../../src/ids.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import type { Result } from '../../src/result.ts'
import { toBase64Url } from '../../sync/bytes.ts'
import type { CasebookOptions } from '../../sync/casebook.ts'
import { type OutcomeBrief, outcomeRules } from '../../sync/outcome-rules.ts'
import { platformRandom } from '../../sync/secret-keeper.ts'
import { draftStore } from '../../sync/storage/drafts.ts'
import { createMemoryStorage } from '../../sync/storage/memory.ts'
import type { CasebookStorage } from '../../sync/storage/storage.ts'
import { platformTimer } from '../../sync/timer.ts'
import { type Fingerprints, type GateKeeper, type Opened, passGate } from '../../sync/transport/gate.ts'
import { joinInvited, takeWelcome, welcome } from '../../sync/transport/invitation.ts'
import { Meetings } from '../../sync/transport/meetings.ts'
import { standingIn } from '../../sync/transport/standing.ts'
import { createDeviceKey, type DeviceKey } from '../../sync/trust/device-key.ts'
import { sha256AtOnce } from '../../sync/trust/digest.ts'
import { PRACTICE_DAY } from '../practice-trip.ts'
import type { PhoneFacts } from './demo-phone.ts'
import { oneBuiltChair } from './one-person.ts'
import { SECOND } from './people-here.ts'
import { channelOver } from './port-channel.ts'

const MS_PER_DAY = 86_400_000

const took = <Value, Failure extends { readonly type: string; readonly message: string }>(
  result: Result<Value, Failure>,
): Value => {
  if (!result.ok) throw new Error(result.failure.message)
  return result.value
}

/** One device whole: its own key, its own store in memory, its own casebook, its own end of the line. */
export class DemoDevice {
  readonly #deviceKey: DeviceKey
  readonly #storage: CasebookStorage = createMemoryStorage().open()
  readonly #tell: () => void
  #casebook: AppCasebook | undefined
  #meetings: Meetings | undefined
  /** The last account of the exchange that was counted. */
  #counted: object | null = null
  #facts: PhoneFacts = { entries: 0, differences: 0, hash: '', entriesReceived: 0 }

  private constructor(deviceKey: DeviceKey, tell: () => void) {
    this.#deviceKey = deviceKey
    this.#tell = tell
  }

  /** `tell` is called when anything that can be seen of it is another than before. */
  static async make(tell: () => void): Promise<DemoDevice> {
    return new DemoDevice((await createDeviceKey()).deviceKey, tell)
  }

  get casebook(): AppCasebook | undefined {
    return this.#casebook
  }

  get facts(): PhoneFacts {
    return this.#facts
  }

  /** The one case, once it is here. */
  get caseId(): CaseId | undefined {
    return this.#casebook?.summaries()[0]?.caseId
  }

  async found(): Promise<void> {
    await this.#open(await oneBuiltChair(this.#options()))
  }

  /** Passes the gate at this end of a line. The first phone invites whoever is not in the crew yet. */
  async meet(line: MessagePort, fingerprints: Fingerprints): Promise<void> {
    const passed = await passGate(this.#keeper(), {
      channel: channelOver(line),
      fingerprints: async () => fingerprints,
      timer: platformTimer,
      randomBytes: platformRandom,
    })
    // The line was cut meanwhile: there is a new one, or there will be.
    if (!passed.ok) return
    const opened = passed.value
    if (!this.#casebook) await this.#join(opened)
    else if (this.#standing(opened.device) === 'unknown') took(await welcome(this.#casebook, opened, SECOND))
    this.#meetings?.take(opened)
  }

  /** At the gate: the two phones of this page were put side by side by whoever looks at them. */
  #keeper(): GateKeeper {
    const casebookId = this.#casebook?.casebookId
    return {
      deviceKey: this.#deviceKey,
      ...(casebookId ? { casebookId } : {}),
      admitsCasebook: other => casebookId === undefined || other === casebookId,
      admits: device => this.#standing(device) !== 'struck',
    }
  }

  #standing(device: DeviceId) {
    const casebook = this.#casebook
    return casebook ? standingIn(() => casebook.crew())(device) : 'unknown'
  }

  async #join(opened: Opened): Promise<void> {
    const welcomed = await takeWelcome(opened)
    if (welcomed.ok) await this.#open(took(await joinInvited(this.#options(), welcomed.value)))
  }

  async #open(casebook: AppCasebook): Promise<void> {
    await openDrafts(casebook, draftStore(this.#storage, { tell: () => undefined }, this.#deviceKey.device), undefined)
    this.#casebook = casebook
    this.#meetings = new Meetings({
      casebook,
      storage: this.#storage,
      timer: platformTimer,
      clock: () => this.#clock(),
      today: () => PRACTICE_DAY,
    })
    this.#meetings.subscribe(() => void this.#look())
    casebook.subscribe(() => void this.#look())
    await this.#look()
  }

  /** The practice day never ends; the time of day is the real one, so that what came last stands last. */
  #clock(): number {
    return Date.parse(PRACTICE_DAY) + (Date.now() % MS_PER_DAY)
  }

  #options(): CasebookOptions<Outcome, OutcomeBrief> {
    return {
      storage: this.#storage,
      deviceKey: this.#deviceKey,
      rules: outcomeRules(),
      clock: () => this.#clock(),
      today: () => PRACTICE_DAY,
    }
  }

  async #look(): Promise<void> {
    const casebook = this.#casebook
    const summary = casebook?.summaries()[0]
    const view = summary && (await casebook.view(summary.caseId))
    const account = this.#meetings?.devices[0]?.account ?? null
    const isNew = account !== null && account !== this.#counted
    this.#counted = account
    this.#facts = {
      entries: summary?.entryCount ?? 0,
      differences: view?.differences.length ?? 0,
      hash: this.#hash(),
      entriesReceived: this.#facts.entriesReceived + (isNew ? account.entriesReceived : 0),
    }
    this.#tell()
  }

  /** Over the content hash of every document, in one order on every device. */
  #hash(): string {
    const lines = [...(this.#casebook?.hashes() ?? [])].map(([key, hash]) => `${key} ${toBase64Url(hash)}`)
    return toBase64Url(sha256AtOnce(new TextEncoder().encode(lines.sort().join('\n')))).slice(0, 12)
  }
}
