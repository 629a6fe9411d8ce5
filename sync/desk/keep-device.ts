import { type Result, success } from '../../src/result.ts'
import type { Casebook, CasebookOptions } from '../casebook.ts'
import { openCasebook } from '../open-casebook.ts'
import type { AnyOutcome } from '../rules.ts'
import { platformRandom } from '../secret-keeper.ts'
import { platformTimer } from '../timer.ts'
import { HubVisit } from '../transport/hub-visit.ts'
import { type InvitationFailure, joinInvited, takeWelcome } from '../transport/invitation.ts'
import { Meetings } from '../transport/meetings.ts'
import { meetNearby } from '../transport/nearby.ts'
import { standingIn } from '../transport/standing.ts'
import { type ShownCode, TwoCodes, type TwoCodesFailure } from '../transport/two-codes.ts'
import { InputError } from './command.ts'
import type { KeepFolder } from './keep-folder.ts'
import { noRules } from './no-rules.ts'
import { readDate } from './rules-files.ts'

type KeptCasebook = Casebook<AnyOutcome, null>
/** Why an attempt to be invited led nowhere. */
export type Refusal = TwoCodesFailure | InvitationFailure | { readonly type: string; readonly message: string }

export interface KeepDeviceOptions {
  readonly folder: KeepFolder
  /** The hub's address for signalling. */
  readonly hub: string
  /** Told in words what happens; never a name, nothing of a case. */
  say(words: string): void
}

/** How one attempt to invite this device goes on: its code is shown, an answer is taken, and it ends. */
export interface Invitation {
  readonly shown: ShownCode
  readAnswer(text: string): Result<undefined, Refusal>
  /** Comes when this device has a casebook, or the attempt has failed. */
  readonly ended: Promise<Result<undefined, Refusal>>
}

/**
 * A device of the crew without screen or hands: it keeps a casebook in a folder, is at the hub as long as the program runs,
 * meets every member who comes and hands on what others brought. It says nothing of its own in any case.
 */
export class KeepDevice {
  readonly #options: KeepDeviceOptions
  #casebook: KeptCasebook | undefined
  #meetings: Meetings | undefined
  #visit: HubVisit | undefined
  readonly #attempts = new Set<TwoCodes>()
  #connected = 0
  #isClosed = false
  readonly #told = new Set<string>()

  private constructor(options: KeepDeviceOptions) {
    this.#options = options
  }

  static async open(options: KeepDeviceOptions): Promise<KeepDevice> {
    const device = new KeepDevice(options)
    const opened = await openCasebook(device.#casebookOptions())
    if (opened.ok) device.#begin(opened.value)
    else if (opened.failure.type !== 'no-casebook') throw new InputError(opened.failure.message)
    return device
  }

  /** Whether it holds no casebook yet, and can still be given one. */
  get waitsForInvitation(): boolean {
    return this.#casebook === undefined && !this.#isClosed
  }

  /** Another code for another attempt: this device shows the first one, since it has no camera to read with. */
  async beInvited(): Promise<Result<Invitation, Refusal>> {
    const attempt = new TwoCodes({
      deviceKey: this.#options.folder.deviceKey,
      standing: () => 'unknown',
      timer: platformTimer,
      randomBytes: platformRandom,
    })
    this.#attempts.add(attempt)
    const shown = await attempt.showOffer()
    if (!shown.ok) return shown
    return success({
      shown: shown.value,
      readAnswer: text => attempt.readAnswer(text.trim()),
      ended: this.#join(attempt),
    })
  }

  async close(): Promise<void> {
    this.#isClosed = true
    this.#visit?.leave()
    await this.#meetings?.close()
    for (const attempt of this.#attempts) attempt.close()
  }

  #casebookOptions(): CasebookOptions<AnyOutcome, null> {
    const { deviceKey, storage } = this.#options.folder
    return { storage, deviceKey, rules: noRules, clock: () => Date.now(), today: () => readDate(undefined) }
  }

  async #join(attempt: TwoCodes): Promise<Result<undefined, Refusal>> {
    const met = await attempt.met
    if (!met.ok) return met
    const welcome = await takeWelcome(met.value)
    if (!welcome.ok) return welcome
    const joined = await joinInvited(this.#casebookOptions(), welcome.value)
    if (!joined.ok) return joined
    this.#begin(joined.value)
    this.#meetings?.take(met.value)
    return success(undefined)
  }

  #begin(casebook: KeptCasebook): void {
    const { folder, hub } = this.#options
    const { storage, deviceKey } = folder
    const { clock, today } = this.#casebookOptions()
    const meetings = new Meetings({ casebook, storage, timer: platformTimer, clock, today })
    this.#casebook = casebook
    this.#meetings = meetings
    meetings.subscribe(() => this.#tellConnected())
    this.#visit = new HubVisit({
      hub,
      deviceKey,
      casebook,
      meetings,
      timer: platformTimer,
      randomBytes: platformRandom,
      meetNearby,
    })
    this.#visit.subscribe(() => this.#tellFailures())
    casebook.subscribe(() => this.#tellStruckOff())
    this.#tellStruckOff()
  }

  #tellConnected(): void {
    const connected = this.#meetings?.devices.filter(({ phase }) => phase !== 'over').length ?? 0
    if (connected === this.#connected) return
    this.#connected = connected
    this.#options.say(`Connected to ${connected} ${connected === 1 ? 'device' : 'devices'} of the crew.`)
  }

  #tellFailures(): void {
    for (const { type, message } of this.#visit?.failures ?? []) this.#sayOnce(type, message)
  }

  #tellStruckOff(): void {
    const casebook = this.#casebook
    if (!casebook || standingIn(() => casebook.crew())(casebook.device) !== 'struck') return
    this.#sayOnce(
      'struck-off',
      'This device was struck off the crew: nobody exchanges with it any more. What it holds stays in its folder; delete that when nobody needs it.',
    )
  }

  #sayOnce(what: string, words: string): void {
    if (this.#told.has(what)) return
    this.#told.add(what)
    this.#options.say(words)
  }
}
