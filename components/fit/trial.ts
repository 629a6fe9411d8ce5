import { bodyOf } from '../../src/body/measurements.ts'
import type { Person } from '../../src/body/person.ts'
import { doubtsOf, withoutSetAside } from '../../src/body/plausibility.ts'
import type { CalendarDate } from '../../src/calendar-date.ts'
import type { Catalogue } from '../../src/chair/chair-model.ts'
import type { ChosenSetUp, ResolvedSetUp } from '../../src/chair/set-up.ts'
import { type Drawing, drawingOf } from '../../src/fitting/drawing.ts'
import { type Evaluation, evaluateSetUp } from '../../src/fitting/evaluate.ts'
import { leastHarm } from '../../src/fitting/least-harm.ts'
import { type Sitter, sitterOf } from '../../src/fitting/loaded-chair.ts'
import { type Needs, needsOf } from '../../src/fitting/needs.ts'
import type { Policy } from '../../src/fitting/policy.ts'
import { bestSettings, type Pins, type Stock } from '../../src/fitting/search.ts'
import { type Settings, settingsOf } from '../../src/fitting/settings.ts'

/** What a drawing is made from. */
export interface TrialFacts {
  readonly person: Person
  readonly catalogue: Catalogue
  readonly policy: Policy
  readonly today: CalendarDate
  readonly chosen: ChosenSetUp
  /** A person wrote why a gap of 20 to 29 mm behind the knee is right here. */
  readonly smallGapAccepted?: boolean
  /** Mass centre ahead of the axle by two scales, for the chosen set-up. */
  readonly measuredComAheadMm?: number | null
}

/** A set-up worked out and drawn. */
export interface Fitted {
  readonly setUp: ResolvedSetUp
  readonly evaluation: Evaluation
  readonly settings: Settings
  readonly drawing: Drawing
}

/** A change tried by hand: pinned settings, another cushion. Nothing of it is saved. */
export interface Change {
  readonly pins: Pins
  readonly cushion?: string
}

export type TrialAnswer =
  | { readonly type: 'missing'; readonly needs: readonly string[] }
  | { readonly type: 'not-in-catalogue'; readonly chair: string }
  | { readonly type: 'ready'; readonly trial: Trial }

/**
 * One chair as taken from stock, tried in other settings. What a person moved is held; the rest follows by the same search
 * that the case uses, so that what is drawn is what the case would say if the change were pinned.
 */
export class Trial {
  readonly sitter: Sitter
  readonly needs: Needs
  readonly policy: Policy
  /** The set-up as it stands in the case, before anything is moved. */
  readonly start: Fitted
  readonly #stock: Stock
  readonly #pins: Pins
  readonly #measuredOffMm: number | undefined

  constructor(sitter: Sitter, needs: Needs, policy: Policy, stock: Stock, pins: Pins, measuredMm: number | undefined) {
    this.sitter = sitter
    this.needs = needs
    this.policy = policy
    this.#stock = stock
    this.#pins = pins
    const setUp = this.#resolve(stock, pins)
    const modelledMm = evaluateSetUp(sitter, needs, setUp, policy).wheels.comAheadMm
    this.#measuredOffMm = measuredMm === undefined ? undefined : measuredMm - modelledMm
    this.start = this.#fitted(setUp)
  }

  /** The same chair with these changes. */
  with(change: Change): Fitted {
    const cushion = this.#stock.model.cushions.find(one => one.key === change.cushion) ?? this.#stock.cushion
    return this.#fitted(this.#resolve({ ...this.#stock, cushion }, { ...this.#pins, ...change.pins }))
  }

  #resolve(stock: Stock, pins: Pins): ResolvedSetUp {
    const { sitter, needs, policy } = this
    const setUp = bestSettings(sitter, needs, stock, pins, policy) ?? leastHarm(sitter, needs, stock, pins, policy)
    if (!setUp) throw new Error(`no settings at all for ${stock.model.key} with ${JSON.stringify(pins)}`)
    return setUp
  }

  #fitted(setUp: ResolvedSetUp): Fitted {
    const { sitter, needs, policy } = this
    const modelled = evaluateSetUp(sitter, needs, setUp, policy)
    // What the scales found beyond the model stays with the person and is carried to the setting tried.
    const measured =
      this.#measuredOffMm === undefined
        ? undefined
        : { comAheadOfAxleMm: modelled.wheels.comAheadMm + this.#measuredOffMm }
    const evaluation = measured ? evaluateSetUp(sitter, needs, setUp, policy, measured) : modelled
    return {
      setUp,
      evaluation,
      settings: settingsOf(sitter, needs, setUp, evaluation, policy).settings,
      drawing: drawingOf(sitter, needs, setUp, evaluation, policy, measured),
    }
  }
}

export const trialOf = (facts: TrialFacts): TrialAnswer => {
  const { catalogue, policy, today, chosen } = facts
  const person = withoutSetAside(facts.person, doubtsOf(facts.person, today))
  const model = catalogue.models.find(one => one.key === chosen.chair)
  const depth = model?.seatDepths.find(one => one.key === chosen.seatDepth)
  const cushion = model?.cushions.find(one => one.key === chosen.cushion)
  if (!model || !depth || !cushion) return { type: 'not-in-catalogue', chair: chosen.chair }
  const { body, missing } = bodyOf(person, today)
  if (!body) return { type: 'missing', needs: missing.filter(one => one.effect === 'no-options').map(one => one.field) }
  const needs = needsOf(person, body, policy, facts.smallGapAccepted === true)
  const { seatHeight, axle, backHeight, footrestLeftMm, footrestRightMm, armrestMm } = chosen
  const pins = Object.fromEntries(
    Object.entries({ seatHeight, axle, backHeight, footrestLeftMm, footrestRightMm, armrestMm }).filter(
      ([, value]) => value !== undefined,
    ),
  ) as Pins
  const stock = { model, depth, cushion, seatWidthMm: chosen.seatWidthMm }
  const trial = new Trial(sitterOf(person, body), needs, policy, stock, pins, facts.measuredComAheadMm ?? undefined)
  return { type: 'ready', trial }
}
