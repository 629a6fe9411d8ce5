import { build, check, choose, fitPerson, handOver, train, type Work } from '../../../demo/practice/chair-work.ts'
import { CrewHand } from '../../../demo/practice/crew-hand.ts'
import type { CalendarDate } from '../../../src/calendar-date.ts'
import type { CaseView } from '../../../src/case/case-view.ts'
import type { CaseId } from '../../../src/ids.ts'
import type { Outcome } from '../../../src/outcome/outcome.ts'
import { createDeviceKey } from '../../../sync/trust/device-key.ts'
import { expectOk } from '../../support/casebooks.ts'
import { all, newCase, noorsPhone, type Phone, TODAY } from '../case/practice-case.ts'

export interface PracticeChair {
  readonly phone: Phone
  readonly caseId: CaseId
  /** Joss, who writes on another phone. */
  readonly joss: CrewHand
}

const STAGES = ['measured', 'chosen', 'built', 'checked', 'fitted', 'trained', 'given'] as const
type Stage = (typeof STAGES)[number]

const WORK: { readonly [Name in Exclude<Stage, 'measured'>]: (work: Work) => Promise<void> } = {
  chosen: choose,
  built: work => build(work, 'LK-7001'),
  checked: check,
  fitted: fitPerson,
  trained: train,
  given: work => handOver(work, 'LK-7001'),
}

/** What is asked at assessment and found absent, so that nothing of it is missing. */
const NO_RISKS = {
  newWeakness: false,
  breathingTrouble: false,
  swallowingTrouble: false,
  uncontrolledSpasms: false,
  presentSore: false,
  pastSore: false,
  reducedSensation: false,
  cannotReposition: false,
  moisture: false,
}

/** A practice person on Noor's phone with the work done so far, by Joss, on `on`. */
export const chairAt = async (
  who: string | Readonly<Record<string, unknown>>,
  stage: Stage,
  on: CalendarDate = TODAY,
): Promise<PracticeChair> => {
  const phone = await noorsPhone()
  const { deviceKey } = await createDeviceKey()
  const { device, publicKey } = deviceKey
  expectOk(await phone.casebook.addMember({ device, key: publicKey, name: 'Joss', role: 'technician' }))
  const joss = new CrewHand(phone.casebook, deviceKey)
  const caseId = await newCase(phone, who)
  const view = await viewOf({ phone, caseId })
  const asked = Object.fromEntries(Object.entries(NO_RISKS).filter(([name]) => !(name in view.heads)))
  await joss.say(caseId, [{ on, set: asked }])
  for (const done of STAGES.slice(1, STAGES.indexOf(stage) + 1))
    await WORK[done as keyof typeof WORK]({ casebook: phone.casebook, hand: joss, caseId, on })
  return { phone, caseId, joss }
}

export const viewOf = async ({ phone, caseId }: Pick<PracticeChair, 'phone' | 'caseId'>): Promise<CaseView> => {
  const view = await phone.casebook.view(caseId)
  if (!view) throw new Error(`no case ${caseId}`)
  return view
}

export const outcomeOf = async ({ phone, caseId }: Pick<PracticeChair, 'phone' | 'caseId'>): Promise<Outcome> => {
  const outcome = await phone.casebook.outcome(caseId, TODAY)
  if (!outcome) throw new Error(`no case ${caseId}`)
  return outcome
}

/** The radio or checkbox whose label begins so, within the group whose legend begins so. */
export const pick = (root: HTMLElement, legend: string, words: string): HTMLInputElement => {
  const text = (node: Element): string => (node.textContent ?? '').replace(/\s+/g, ' ').trim()
  const group = all(root, 'fieldset').find(one => text(one.querySelector('legend') ?? one).startsWith(legend))
  const label = [...(group?.querySelectorAll('label') ?? [])].find(one => text(one).startsWith(words))
  const input = label?.querySelector('input')
  if (!input) throw new Error(`no "${words}" under "${legend}"`)
  return input
}
