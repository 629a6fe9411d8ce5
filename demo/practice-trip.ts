import { type CalendarDate, toCalendarDate } from '../src/calendar-date.ts'
import { FIELD_NAMES, fieldOf } from '../src/case/fields.ts'
import { catalogueSchema } from '../src/chair/chair-model.ts'
import { DEFAULT_POLICY } from '../src/fitting/policy.ts'
import type { CaseId } from '../src/ids.ts'
import type { Outcome } from '../src/outcome/outcome.ts'
import type { CasebookOptions } from '../sync/casebook.ts'
import { createCasebook } from '../sync/open-casebook.ts'
import type { OutcomeBrief } from '../sync/outcome-rules.ts'
import { createDeviceKey } from '../sync/trust/device-key.ts'
import type { PracticePerson } from './people/practice-person.ts'
import { build, check, choose, fitPerson, handOver, train, type Work } from './practice/chair-work.ts'
import { CrewHand, newCaseId, type PracticeCasebook } from './practice/crew-hand.ts'
import practiceCatalogue from './practice-catalogue.json' with { type: 'json' }
import { PRACTICE_PEOPLE } from './practice-people.ts'

/** The day on which somebody who opens the practice trip joins it. */
export const PRACTICE_DAY = toCalendarDate('2026-05-15')
const MEASURED = toCalendarDate('2026-05-12')
const BUILT = toCalendarDate('2026-05-13')
const FITTED = toCalendarDate('2026-05-14')

/** On the referral list and not seen yet. */
const NOT_SEEN = ['emeko', 'ilva', 'jorun']
/** Names as the family writes them, so that a search in another script has something to find. */
const OTHER_SPELLINGS: Readonly<Record<string, string>> = {
  nilufa: 'نيلوفا أورتان',
  mirel: 'ميريل أصفادي',
  varga: 'Варга Эйлунд',
}

/** Whoever opens the practice trip writes under this name. */
const FOUNDER = 'Wenna Dalmor'

export interface PracticeTripOptions extends CasebookOptions<Outcome, OutcomeBrief> {
  /** Told after each person, so that waiting has an end in sight. */
  progress?(done: number, all: number): void
}

const ASKED = FIELD_NAMES.filter(name => fieldOf(name).kind === 'risk' && fieldOf(name).section === 'assessment')
const isReferral = (name: string): boolean =>
  name !== 'toldAndAgreed' && FIELD_NAMES.some(one => one === name && fieldOf(one).section === 'referral')

const factsWhere = (person: PracticePerson, wanted: (name: string) => boolean): Record<string, unknown> =>
  Object.fromEntries(Object.entries(person.facts).filter(([name]) => wanted(name)))

/** The line of the referral list; then, where the crew has been there, one form at home and what is known of before. */
export const statementsOf = (person: PracticePerson) => {
  const spelling = OTHER_SPELLINGS[person.key]
  const referral = { ...factsWhere(person, isReferral), ...(spelling ? { otherNames: spelling } : {}) }
  const on = person.facts.referredOn ?? MEASURED
  if (NOT_SEEN.includes(person.key)) return [{ on, set: referral }]
  const asked = Object.fromEntries(ASKED.map(name => [name, false]))
  const events = Object.entries(person.events ?? {}).flatMap(([name, values]) =>
    values.map(value => ({ on: MEASURED, set: { [name]: value } })),
  )
  return [
    { on, set: referral },
    { on: MEASURED, set: { ...asked, ...factsWhere(person, name => !isReferral(name)) } },
    ...events,
  ]
}

const callipers = (typed: number, measuredBy: string) => ({
  typed,
  unit: 'mm',
  how: 'callipers',
  on: MEASURED,
  measuredBy,
})

/**
 * The practice trip in the browser: a crew of three in the invented Lower Kesse valley, three days in. People stand
 * everywhere from referral to follow-up; two measured the same hips, bad news came after a chair was built, a sore is
 * referred. Everything is stated as it would be on the phones of that crew; nothing derived is put in.
 */
export const setOutOnPracticeTrip = async (options: PracticeTripOptions): Promise<PracticeCasebook> => {
  const { progress } = options
  const title = { crewName: 'Kesse crew', place: 'Lower Kesse valley' }
  const founded = await createCasebook<Outcome, OutcomeBrief>({ ...options, founderName: FOUNDER, title })
  if (!founded.ok) throw new Error(founded.failure.message)
  const casebook = founded.value
  const therapist = await crewHand(casebook, 'Sira Vellanke', 'therapist')
  const technician = await crewHand(casebook, 'Joss Karrovin', 'technician')
  const { models } = catalogueSchema.parse(practiceCatalogue)
  for (const model of models) await casebook.setModel(model.key, model)
  await casebook.setPolicy(DEFAULT_POLICY)
  await casebook.setContact({ who: 'Sira Vellanke, workshop at Dorrow', telephone: '+000 555 0142' })

  const cases = new Map<string, CaseId>()
  for (const person of PRACTICE_PEOPLE) {
    const caseId = newCaseId()
    cases.set(person.key, caseId)
    const villages = ['Dorrow', 'Ambrel', 'Sarn Ostre']
    const hand = villages.includes(person.facts.place ?? '') ? therapist : technician
    await hand.say(caseId, statementsOf(person))
    progress?.(cases.size, PRACTICE_PEOPLE.length)
  }
  await play(casebook, cases, therapist, technician)
  return casebook
}

/** One more of the crew, on a phone of their own. */
export const crewHand = async (
  casebook: PracticeCasebook,
  name: string,
  role: 'therapist' | 'technician',
): Promise<CrewHand> => {
  const { deviceKey } = await createDeviceKey()
  const { device, publicKey } = deviceKey
  const added = await casebook.addMember({ device, key: publicKey, name, role })
  if (!added.ok) throw new Error(added.failure.message)
  return new CrewHand(casebook, deviceKey)
}

/** What happened until today, person by person. */
const play = async (
  casebook: PracticeCasebook,
  cases: ReadonlyMap<string, CaseId>,
  therapist: CrewHand,
  technician: CrewHand,
): Promise<void> => {
  const caseOf = (key: string): CaseId => {
    const caseId = cases.get(key)
    if (!caseId) throw new Error(`no practice person "${key}"`)
    return caseId
  }
  const work = (key: string, on: CalendarDate, hand = technician): Work => ({ casebook, hand, caseId: caseOf(key), on })
  const built = async (key: string, serialNumber: string, on = BUILT): Promise<void> => {
    await choose(work(key, on))
    await build(work(key, on), serialNumber)
    await check(work(key, on))
  }

  // Measured by both, each without knowing of the other: one difference matters, the other does not.
  await technician.say(caseOf('hanneth'), [{ on: MEASURED, set: { hipWidthMm: callipers(379, 'Mirre Tolvane') } }])
  await therapist.say(caseOf('ossian'), [{ on: MEASURED, set: { hipWidthMm: callipers(352, 'Joss Karrovin') } }])

  // Chosen, half built, built, fitted, trained.
  await choose(work('zeyna', BUILT))
  await choose(work('gorran', BUILT))
  await build(work('gorran', BUILT), 'LK-0014', 5)
  await built('sunniva', 'LK-0021')
  await built('ansa', 'LK-0002')
  await fitPerson(work('ansa', FITTED, therapist))
  await train(work('ansa', FITTED, therapist))

  // Built in the morning; what the therapist learned in the afternoon came after it.
  await built('selka', 'LK-0006')
  await therapist.change(caseOf('selka'), {
    on: BUILT,
    set: { loads: [{ massKg: 18, at: 'handles', when: 'usual' }] },
  })
  await built('davor', 'LK-0008')
  await therapist.change(caseOf('davor'), { on: BUILT, set: { presentSore: true } })

  // Handed over on this trip, and on earlier ones.
  await given('tavi', 'LK-0001', FITTED)
  await given('rosh', 'LK-8812', toCalendarDate('2026-04-02'))
  await technician.say(caseOf('rosh'), [
    {
      on: FITTED,
      set: { problem: { reportedOn: FITTED, key: 'brakes', unsafe: true, what: 'The left brake lets go on slopes' } },
    },
  ])
  await given('linnet', 'LK-9007', toCalendarDate('2025-11-06'))

  await therapist.change(caseOf('oluken'), {
    on: FITTED,
    set: { cannotIssue: { what: 'wait', until: '2026-06-02', why: 'The wide frame is on its way from the store' } },
  })
  await therapist.change(caseOf('perpetua'), { on: FITTED, set: { exit: { on: FITTED, why: 'moved' } } })

  async function given(key: string, serialNumber: string, on: CalendarDate): Promise<void> {
    await built(key, serialNumber, on)
    await fitPerson(work(key, on, therapist))
    await train(work(key, on, therapist))
    await handOver(work(key, on, therapist), serialNumber)
  }
}
