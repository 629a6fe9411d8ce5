import type { CalendarDate } from '../../src/calendar-date.ts'
import { checkFieldName } from '../../src/case/fields.ts'
import { settingTexts } from '../../src/chair/set-up.ts'
import type { CaseId } from '../../src/ids.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'
import type { CrewHand, PracticeCasebook } from './crew-hand.ts'

/** Work on the chair of one person, by one of the crew, on one day. */
export interface Work {
  readonly casebook: PracticeCasebook
  readonly hand: CrewHand
  readonly caseId: CaseId
  readonly on: CalendarDate
}

const outcomeOf = async ({ casebook, caseId, on }: Work): Promise<Outcome> => {
  const outcome = await casebook.outcome(caseId, on)
  if (!outcome) throw new Error(`no case ${caseId} in the practice trip`)
  return outcome
}

const targetOf = ({ target }: Outcome) => {
  if (!target) throw new Error('a person of the practice trip has no chair that can be built')
  return target.setUp
}

/** Takes the chair that the ranking puts first. Its settings stay open: they follow the facts. */
export const choose = async (work: Work): Promise<void> => {
  const [first] = (await outcomeOf(work)).recommendation.options
  if (!first) throw new Error('nothing is recommended for a person of the practice trip')
  const { chair, seatWidthMm, seatDepth, cushion } = first.setUp
  await work.hand.change(work.caseId, { on: work.on, set: { chosenSetUp: { chair, seatWidthMm, seatDepth, cushion } } })
}

/** Ticks the first steps of the build sheet, `count` of them; all, and reads the finished chair, when absent. */
export const build = async (work: Work, serialNumber: string, count?: number): Promise<void> => {
  const { casebook, hand, caseId, on } = work
  const outcome = await outcomeOf(work)
  const steps = (outcome.build?.steps ?? []).slice(0, count)
  await hand.say(
    caseId,
    steps.map(({ key: step, against, needsSecondName }) => ({
      on,
      set: { stepDone: { step, on, against, ...(needsSecondName ? { secondName: 'Sira Vellanke' } : {}) } },
    })),
  )
  if (count !== undefined) return
  const setUp = targetOf(outcome)
  const model = casebook.context().catalogue.models.find(one => one.key === setUp.chair)
  const depth = model?.seatDepths.find(one => one.key === setUp.seatDepth)
  const back = model?.backHeights.find(one => one.key === setUp.backHeight)
  if (!depth || !back) throw new Error(`no such size of "${setUp.chair}" in the practice catalogue`)
  const set = {
    builtChair: setUp.chair,
    builtSeatWidthMm: setUp.seatWidthMm,
    builtSeatDepthMm: depth.valueMm,
    builtSeatHeight: setUp.seatHeight,
    builtAxle: setUp.axle,
    builtBackHeightMm: back.valueMm,
    builtCushion: setUp.cushion,
    builtFootrestLeftMm: setUp.footrestLeftMm,
    builtFootrestRightMm: setUp.footrestRightMm,
    builtArmrestMm: setUp.armrestMm,
    serialNumber,
  }
  await hand.change(caseId, { on, set })
}

/** Makes every check that is open, on the chair as it stands. */
export const check = async (work: Work): Promise<void> => {
  const outcome = await outcomeOf(work)
  const against = settingTexts(targetOf(outcome))
  const open = outcome.checks.filter(({ state }) => state === 'not-done' || state === 'stale')
  const set = Object.fromEntries(
    open.map(one => [checkFieldName(one.check), { result: 'pass', on: work.on, against }] as const),
  )
  await work.hand.change(work.caseId, { on: work.on, set })
}

/** Fits the person in the chair: size, posture, pressure, then moving. */
export const fitPerson = ({ hand, caseId, on }: Work): Promise<void> =>
  hand.change(caseId, {
    on,
    set: {
      fitSize: 'ok',
      fitPosture: 'ok',
      handCheckLeft: 'even',
      handCheckRight: 'even',
      fitMoving: 'ok',
      brakeReach: 'both-hands',
      skinAfterFirstHour: 'clear',
    },
  })

/** Trains what is ticked only once it was demonstrated. */
export const train = ({ hand, caseId, on }: Work): Promise<void> => {
  const shown = { demonstrated: true, on }
  return hand.change(caseId, {
    on,
    set: {
      trainedTransfers: shown,
      trainedHandlingChair: shown,
      trainedMobility: shown,
      trainedStayingHealthy: shown,
      trainedCareOfChair: shown,
      trainedWhomToContact: shown,
    },
  })
}

export const handOver = async (work: Work, serialNumber: string): Promise<void> => {
  const { cushion } = targetOf(await outcomeOf(work))
  const { hand, caseId, on } = work
  await hand.say(caseId, [
    { on, set: { handover: { handedOverOn: on, serialNumber }, cushionIssued: { on, cushion } } },
    { on, set: { tyreReading: { on, tyre: 'rear-left', leftKPa: 400, celsius: 24, altitudeM: 640 } } },
  ])
}
