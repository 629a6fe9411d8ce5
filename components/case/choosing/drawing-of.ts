import { html, type TemplateResult } from 'lit'
import type { CaseView } from '../../../src/case/case-view.ts'
import { personOf } from '../../../src/case/person-of.ts'
import type { ChosenSetUp } from '../../../src/chair/set-up.ts'
import { asBuiltOf } from '../../../src/outcome/target.ts'
import '../../fit/spoke-fit-drawing.ts'
import type { TrialFacts } from '../../fit/trial.ts'
import type { PartFacts } from '../case-part.ts'
import { answeredView } from './weighed.ts'

/** The same facts are the same object, so that a drawing begins anew only when something about it changed. */
const known = new WeakMap<CaseView, Map<string, TrialFacts>>()

const factsOf = ({ view, outcome, context }: PartFacts, chosen: ChosenSetUp, measured: number | null): TrialFacts => {
  const ofView = known.get(view) ?? new Map<string, TrialFacts>()
  known.set(view, ofView)
  const key = JSON.stringify([chosen, measured, outcome.today])
  const before = ofView.get(key)
  if (before && before.catalogue === context.catalogue && before.policy === context.policy) return before
  const answered = answeredView(view)
  const facts: TrialFacts = {
    person: personOf(answered, outcome.today),
    catalogue: context.catalogue,
    policy: context.policy,
    today: outcome.today,
    chosen,
    smallGapAccepted: answered.values.acceptedGapWhy !== undefined,
    measuredComAheadMm: measured,
  }
  ofView.set(key, facts)
  return facts
}

/** A set-up that is only looked at, to scale with this person in it. */
export const stillDrawing = (facts: PartFacts, chosen: ChosenSetUp): TemplateResult =>
  html`<spoke-fit-drawing still .facts=${factsOf(facts, chosen, null)}></spoke-fit-drawing>`

/** The chosen chair beside the chair as built, with settings to be tried. `pin-settings` goes up from it. */
export const chosenDrawing = (facts: PartFacts, chosen: ChosenSetUp): TemplateResult => {
  const measured = facts.outcome.target?.measuredComAheadMm ?? null
  const built = asBuiltOf(facts.view)
  return html`<spoke-fit-drawing
    .facts=${factsOf(facts, chosen, measured)}
    .built=${Object.keys(built).length > 0 ? built : undefined}
  ></spoke-fit-drawing>`
}
