import { addDays, type CalendarDate, calendarDateSchema } from '../../src/calendar-date.ts'
import type { Role } from '../../src/crew/team-fields.ts'
import type { CasebookId } from '../../src/ids.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import { type Result, success } from '../../src/result.ts'
import type { CasebookOptions } from '../../sync/casebook.ts'
import type { OutcomeBrief } from '../../sync/outcome-rules.ts'
import { platformRandom } from '../../sync/secret-keeper.ts'
import type { LockedDevice, OpenDevice } from '../../sync/storage/open-device.ts'
import { platformTimer } from '../../sync/timer.ts'
import type { Opened } from '../../sync/transport/gate.ts'
import type { Welcome } from '../../sync/transport/invitation.ts'
import type { Meetings } from '../../sync/transport/meetings.ts'
import { type Drafts, openDrafts } from '../controllers/drafts.ts'
import { whileWriting, writingDone } from '../controllers/writing.ts'
import { type Refusal, Refused, sayError, sayFailure } from '../text/say-failure.ts'
import type { AppCasebook, AppContext } from './context.ts'
import { type HubPorts, HubStay } from './hub-stay.ts'

/** What is on screen around everything else. */
export type SessionState =
  | { readonly at: 'starting' }
  /**
   * No casebook is on this device. `lost`: there was one, and the browser has it no more. `isSealed`: the lock is made, and
   * founding or joining was interrupted.
   */
  | { readonly at: 'welcome'; readonly lost?: boolean; readonly isSealed?: boolean }
  /** `again`: the lock was made, the casebook not yet; no passphrase is asked for then. */
  | { readonly at: 'founding'; readonly again: boolean }
  /** To be let into a crew. `isSealed`: the lock is made, now one of the crew is to be met. */
  | { readonly at: 'joining'; readonly isSealed: boolean }
  | { readonly at: 'locked'; readonly why: 'start' | 'asked' | 'idle' }
  | { readonly at: 'setting-out'; readonly done: number; readonly all: number }
  | { readonly at: 'opening' }
  | { readonly at: 'open'; readonly context: AppContext }
  | { readonly at: 'failed'; readonly reason: string }

export type Asked = Result<undefined, Refusal>

export interface Founding {
  readonly passphrase: string
  readonly crewName: string
  readonly place: string
  readonly name: string
  readonly role: Exclude<Role, 'visitor'>
}

type Practice = typeof import('../../demo/practice-trip.ts')
type Engine = Pick<
  typeof import('./engine.ts'),
  'createCasebook' | 'joinInvited' | 'openCasebook' | 'outcomeRules' | 'Meetings'
>

/** What the composition root hands in. */
export interface SessionPorts {
  /** False where surely nothing was ever set up: the door is then shown without the code that keeps cases. */
  mayHaveDevice(): Promise<boolean>
  openDevice(): Promise<Result<LockedDevice, Refusal>>
  openPractice(): Promise<Result<OpenDevice, Refusal>>
  /** Removes the practice store, never the real one. */
  removePractice(): Promise<void>
  loadPractice(): Promise<Practice>
  loadEngine(): Promise<Engine>
  /** False where the browser gives no cryptography: then nothing real can be kept. */
  readonly isSecure: boolean
  wasPractice(): Promise<boolean>
  keepPractice(isPractice: boolean): void
  hadCasebook(): boolean
  keepHadCasebook(): void
  /** Absent where no hub can be: nothing is offered then. */
  readonly hub?: HubPorts
  /** Milliseconds since 1970. */
  clock(): number
  today(): CalendarDate
}

const PRACTICE_DAY_VALUE = 'practice-day'
const MS_PER_DAY = 86_400_000

/**
 * What is open on this device: nothing, the practice trip or the crew's casebook, locked or not. One of them at a time,
 * each in a store of its own. Elements ask it; it tells them when something else is on screen.
 */
export class Session {
  readonly #ports: SessionPorts
  readonly #listeners = new Set<() => void>()
  #device: OpenDevice | undefined
  #stopTabs: (() => void) | undefined
  #state: SessionState = { at: 'starting' }
  #practiceDay: CalendarDate | undefined
  #drafts: Drafts | undefined
  /** What was typed and could not be stored any more when its casebook was closed. */
  readonly #unwritten = new Map<CasebookId, Drafts>()

  constructor(ports: SessionPorts) {
    this.#ports = ports
  }

  get state(): SessionState {
    return this.#state
  }

  get isSecure(): boolean {
    return this.#ports.isSecure
  }

  /** The open store, for what only the ready page and the photos ask of it. */
  get device(): OpenDevice | undefined {
    return this.#device
  }

  /** The connections to others of the crew, while a casebook of a crew is open. */
  get meetings(): Meetings | undefined {
    return this.#state.at === 'open' ? this.#state.context.meetings : undefined
  }

  subscribe(listener: () => void): () => void {
    this.#listeners.add(listener)
    return () => this.#listeners.delete(listener)
  }

  /** Opens what was open last. */
  async start(): Promise<void> {
    if (this.#ports.isSecure && (await this.#ports.wasPractice())) return this.openPractice()
    await this.#toDoor('start')
  }

  beginFounding(): void {
    this.#show({ at: 'founding', again: this.#device !== undefined })
  }

  beginJoining(): void {
    this.#show({ at: 'joining', isSealed: this.#device !== undefined })
  }

  /** Makes the lock and the key of this device: codes name the key, so they come before anybody is met. */
  async sealForJoining(passphrase: string): Promise<Asked> {
    const device = await this.#deviceFor(passphrase)
    if (!device.ok) return device
    this.beginJoining()
    return success(undefined)
  }

  /** Opens the casebook that one of the crew gave this device, and begins the first exchange with the one who did. */
  async join(opened: Opened, welcome: Welcome): Promise<Asked> {
    const device = this.#device
    if (!device) throw new Error('a casebook was joined with no store open')
    const engine = await this.#ports.loadEngine()
    const joined = await engine.joinInvited(this.#optionsFor(device, engine), welcome)
    if (!joined.ok) return joined
    await this.#open(device, joined.value, false)
    this.meetings?.take(opened)
    return success(undefined)
  }

  /** Back from founding or joining, or out of practice. */
  async toDoor(): Promise<void> {
    await this.#leave()
    this.#ports.keepPractice(false)
    await this.#toDoor('asked')
  }

  async openPractice(): Promise<void> {
    await this.#leave()
    this.#show({ at: 'setting-out', done: 0, all: 0 })
    try {
      await this.#openPractice()
      this.#ports.keepPractice(true)
    } catch (error) {
      this.#fail(error)
    }
  }

  async openPracticeAfresh(): Promise<void> {
    await this.#leave()
    this.#show({ at: 'setting-out', done: 0, all: 0 })
    await this.#ports.removePractice()
    await this.openPractice()
  }

  /** Moves the practice calendar on; real days cannot be moved. */
  async movePracticeDay(days: number): Promise<CalendarDate> {
    const { state } = this
    if (state.at !== 'open' || this.#practiceDay === undefined || !this.#device)
      throw new Error('the practice day was moved outside practice')
    this.#practiceDay = addDays(this.#practiceDay, days)
    await this.#device.storage.writeValue(PRACTICE_DAY_VALUE, new TextEncoder().encode(this.#practiceDay))
    state.context.casebook.refresh()
    this.#show({ at: 'open', context: { ...state.context } })
    return this.#practiceDay
  }

  async found(founding: Founding): Promise<Asked> {
    const device = await this.#deviceFor(founding.passphrase)
    if (!device.ok) return device
    const { crewName, place, name, role } = founding
    const options = { founderName: name, founderRole: role, title: { crewName, place } }
    const engine = await this.#ports.loadEngine()
    const created = await engine.createCasebook({ ...this.#optionsFor(device.value, engine), ...options })
    if (!created.ok) return created
    await this.#open(device.value, created.value, false)
    return success(undefined)
  }

  async unlock(passphrase: string): Promise<Asked> {
    const locked = await this.#ports.openDevice()
    if (!locked.ok) return locked
    const device = await locked.value.unlock(passphrase)
    if (!device.ok) return device
    const engine = await this.#ports.loadEngine()
    const opened = await engine.openCasebook(this.#optionsFor(device.value, engine))
    if (opened.ok) {
      await this.#open(device.value, opened.value, false)
      return success(undefined)
    }
    if (opened.failure.type !== 'no-casebook') {
      device.value.lock()
      return opened
    }
    this.#device = device.value
    this.#show({ at: 'welcome', isSealed: true })
    return success(undefined)
  }

  /** Drops everything shown, finishes what is being written, closes the store. Drafts come back. Practice has no lock. */
  async lock(why: 'asked' | 'idle'): Promise<void> {
    if (this.#state.at !== 'open' || this.#state.context.practice) return
    await this.#leave()
    await this.#toDoor(why)
  }

  async changePassphrase(from: string, to: string): Promise<Asked> {
    const device = this.#device
    if (!device) throw new Error('the passphrase was changed with nothing open')
    return whileWriting(() => device.changePassphrase(from, to))
  }

  /** Another tab locked this store: what is on screen goes here too. */
  async #lockedElsewhere(): Promise<void> {
    await this.#leave(device => device.close())
    await this.#toDoor('asked')
  }

  async #toDoor(why: 'start' | 'asked' | 'idle'): Promise<void> {
    if (!this.#ports.isSecure || !(await this.#ports.mayHaveDevice())) return this.#show({ at: 'welcome' })
    const locked = await this.#ports.openDevice()
    if (!locked.ok) return this.#show({ at: 'failed', reason: sayFailure(locked.failure) })
    this.#show(locked.value.isNew ? { at: 'welcome', lost: this.#ports.hadCasebook() } : { at: 'locked', why })
  }

  async #deviceFor(passphrase: string): Promise<Result<OpenDevice, Refusal>> {
    if (this.#device) return success(this.#device)
    const locked = await this.#ports.openDevice()
    if (!locked.ok) return locked
    const created = await locked.value.create(passphrase)
    if (created.ok) this.#device = created.value
    return created
  }

  #optionsFor(device: OpenDevice, { outcomeRules }: Engine): CasebookOptions<Outcome, OutcomeBrief> {
    const { clock, today } = this.#ports
    const { storage, deviceKey } = device
    return { storage, deviceKey, rules: outcomeRules(), clock: () => clock(), today: () => today() }
  }

  async #openPractice(): Promise<void> {
    const [practice, engine] = await Promise.all([this.#ports.loadPractice(), this.#ports.loadEngine()])
    const opened = await this.#ports.openPractice()
    if (!opened.ok) throw new Refused(opened.failure)
    const device = opened.value
    this.#practiceDay = practice.PRACTICE_DAY
    const kept = await device.storage.readValue(PRACTICE_DAY_VALUE)
    if (!kept) return this.#setOut(practice, device, engine)
    const day = calendarDateSchema.safeParse(new TextDecoder().decode(kept))
    if (day.success) this.#practiceDay = day.data
    const casebook = await engine.openCasebook(this.#practiceOptions(device, engine))
    if (!casebook.ok) throw new Refused(casebook.failure)
    await this.#open(device, casebook.value, true)
  }

  /** What an earlier attempt left half-done is put away first: the day is written last. */
  async #setOut(practice: Practice, found: OpenDevice, engine: Engine): Promise<void> {
    found.lock()
    await this.#ports.removePractice()
    const opened = await this.#ports.openPractice()
    if (!opened.ok) throw new Refused(opened.failure)
    const device = opened.value
    const casebook = await practice.setOutOnPracticeTrip({
      ...this.#practiceOptions(device, engine),
      progress: (done, all) => this.#show({ at: 'setting-out', done, all }),
    })
    await casebook.settled()
    const day = new TextEncoder().encode(practice.PRACTICE_DAY)
    const written = await device.storage.writeValue(PRACTICE_DAY_VALUE, day)
    if (!written.ok) throw new Refused(written.failure)
    await this.#open(device, casebook, true)
  }

  #practiceOptions(device: OpenDevice, engine: Engine): CasebookOptions<Outcome, OutcomeBrief> {
    const timeOfDay = (): number => this.#ports.clock() % MS_PER_DAY
    return {
      ...this.#optionsFor(device, engine),
      today: () => this.#practiceToday(),
      clock: () => Date.parse(this.#practiceToday()) + timeOfDay(),
    }
  }

  #practiceToday(): CalendarDate {
    if (this.#practiceDay === undefined) throw new Error('no practice is open')
    return this.#practiceDay
  }

  async #open(device: OpenDevice, casebook: AppCasebook, practice: boolean): Promise<void> {
    if (!practice) this.#ports.keepHadCasebook()
    this.#device = device
    this.#stopTabs = device.tabs.subscribe(heard => {
      if (heard.news === 'locked') void this.#lockedElsewhere()
      else if (heard.news === 'drafts-changed') void this.#takeDrafts()
      else void casebook.reread(heard.document)
    })
    const unwritten = this.#unwritten.get(casebook.casebookId)
    this.#unwritten.delete(casebook.casebookId)
    this.#drafts = await openDrafts(casebook, device.drafts, unwritten)
    this.#drafts.subscribe(() => this.#show(this.#state))
    const today = practice ? () => this.#practiceToday() : () => this.#ports.today()
    const ways = practice ? {} : await this.#waysToMeet(casebook, device)
    casebook.refresh()
    this.#show({ at: 'open', context: { casebook, practice, today, ...ways } })
  }

  async #waysToMeet(
    casebook: AppCasebook,
    { storage, deviceKey }: OpenDevice,
  ): Promise<Pick<AppContext, 'meetings' | 'hub'>> {
    const { Meetings } = await this.#ports.loadEngine()
    const { clock, today, hub } = this.#ports
    const timer = platformTimer
    const meetings = new Meetings({ casebook, storage, timer, clock: () => clock(), today: () => today() })
    if (!hub) return { meetings }
    return { meetings, hub: new HubStay({ ...hub, casebook, deviceKey, meetings, timer, randomBytes: platformRandom }) }
  }

  /** Another tab typed or saved something. */
  async #takeDrafts(): Promise<void> {
    await this.#drafts?.takeStored()
    const { state } = this
    if (state.at === 'open') this.#show({ at: 'open', context: { ...state.context } })
  }

  /** Whatever was open is hidden at once, and closed when everything is written, before anything else is shown. */
  async #leave(close: (device: OpenDevice) => void = device => device.lock()): Promise<void> {
    const { state } = this
    const [device, drafts] = [this.#device, this.#drafts]
    this.#stopTabs?.()
    this.#stopTabs = undefined
    this.#device = undefined
    this.#drafts = undefined
    this.#show({ at: 'opening' })
    if (state.at === 'open') {
      state.context.hub?.leave()
      await state.context.meetings?.close()
    }
    await writingDone()
    if (drafts && state.at === 'open')
      if (!(await drafts.written())) this.#unwritten.set(state.context.casebook.casebookId, drafts)
    if (device) close(device)
    this.#practiceDay = undefined
  }

  #fail(error: unknown): void {
    this.#show({ at: 'failed', reason: sayError(error) })
  }

  #show(state: SessionState): void {
    this.#state = state
    for (const listener of this.#listeners) listener()
  }
}
