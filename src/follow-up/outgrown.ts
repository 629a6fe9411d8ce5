import { type Child, type Growth, growthOf, type MeasuredLength, type Stature } from '../body/growth.ts'
import type { Sex } from '../body/who-lms.ts'
import {
  addDays,
  addMonths,
  ageInMonthsOn,
  type CalendarDate,
  daysBetween,
  earliest,
  latest,
} from '../calendar-date.ts'
import type { CaseView } from '../case/case-view.ts'
import { FIELDS, type NamesOfKind, type Reading, readingValue } from '../case/fields.ts'
import type { SetUp } from '../chair/set-up.ts'
import type { SumInputs } from '../sum.ts'
import { roundTo } from '../units.ts'
import type { ChairRoom } from './chair-room.ts'
import type { DateWindow, DueDraft } from './due.ts'
import type { Facts } from './facts.ts'
import { type Birth, CHILD_UNDER_YEARS } from './priority.ts'

/** WHO's last row is 228 months; the forecast ends at the 18th birthday before it. */
const END_MONTHS = CHILD_UNDER_YEARS * 12
/** Height-for-age is measured standing, and these rows begin, at 24 months. */
const FIRST_MONTHS = 24
/** A forecast is given from a quarter of the interval early to a quarter late (project value). */
const WINDOW_SHARE = 0.25

type MeasureName = NamesOfKind<'measure'>

/** The day a standing measure was taken: the earliest day its standing readings name, or the handover where none does. */
const takenOn = (view: CaseView, name: MeasureName, otherwise: CalendarDate): CalendarDate =>
  earliest((view.heads[name] ?? []).flatMap(head => (head.value as Reading).on ?? [])) ?? otherwise

/**
 * Statures by day: those of follow-up visits, and every dated reading. A reading that was overridden on its own day was a
 * slip and is left out; one overridden on a later day was true then. Undated ones count on the day of handover when
 * nothing else is known.
 */
const staturesOf = (
  view: CaseView,
  facts: Facts,
  handedOverOn: CalendarDate,
  today: CalendarDate,
): readonly Stature[] => {
  const [least, most] = FIELDS.statureMm.plausible
  const standing = new Set((view.heads.statureMm ?? []).map(head => head.id))
  const dated = (view.readings.statureMm ?? []).flatMap(({ id, value }) =>
    value.on === undefined || value.on > today ? [] : [{ id, on: value.on, mm: readingValue('statureMm', value) }],
  )
  const standingDays = new Set(dated.filter(reading => standing.has(reading.id)).map(reading => reading.on))
  const readings = dated.filter(reading => standing.has(reading.id) || !standingDays.has(reading.on))
  const all = [...facts.stature.map(({ on, mm }) => ({ on, mm })), ...readings.map(({ on, mm }) => ({ on, mm }))]
  const known = all.filter(({ mm }) => mm >= least && mm <= most)
  const { statureMm } = view.values
  if (known.length > 0 || statureMm === undefined || statureMm < least || statureMm > most) return known
  return [{ on: handedOverOn, mm: statureMm }]
}

/** Readings of stature that name a day still to come: they count from that day. */
export const staturesAfter = (view: CaseView, today: CalendarDate): readonly CalendarDate[] =>
  (view.readings.statureMm ?? []).flatMap(({ value }) => (value.on !== undefined && value.on > today ? value.on : []))

/** The lengths that decide when a chair is outgrown. A side without that part of the leg, or without a footrest, has no say. */
interface BodyLengths {
  readonly thighs: readonly MeasuredLength[]
  readonly calves: readonly MeasuredLength[]
  readonly hips: readonly MeasuredLength[]
}

const LOSES_THIGH = ['hip-disarticulation', 'transfemoral']
const LOSES_FOOT = [...LOSES_THIGH, 'knee-disarticulation', 'transtibial', 'ankle-disarticulation']

const lengthsOf = (view: CaseView, setUp: SetUp | undefined, otherwise: CalendarDate): BodyLengths => {
  const { values } = view
  const taken = (name: MeasureName): readonly MeasuredLength[] => {
    const mm = values[name]
    return mm === undefined || mm <= 0 ? [] : [{ on: takenOn(view, name, otherwise), mm }]
  }
  const plateOff = (built: number | null | undefined, chosen: number | null | undefined): boolean =>
    (built === undefined ? chosen : built) === null
  const leftOff = plateOff(values.builtFootrestLeftMm, setUp?.footrestLeftMm)
  const rightOff = plateOff(values.builtFootrestRightMm, setUp?.footrestRightMm)
  const [left, right] = [values.limbLossLeft?.level ?? '', values.limbLossRight?.level ?? '']
  return {
    thighs: [
      ...(LOSES_THIGH.includes(left) ? [] : taken('thighDepthLeftMm')),
      ...(LOSES_THIGH.includes(right) ? [] : taken('thighDepthRightMm')),
    ],
    calves: [
      ...(leftOff || LOSES_FOOT.includes(left) ? [] : taken('calfLengthLeftMm')),
      ...(rightOff || LOSES_FOOT.includes(right) ? [] : taken('calfLengthRightMm')),
    ],
    hips: taken('hipWidthMm'),
  }
}

interface Outgrown {
  readonly on: CalendarDate
  readonly what: 'seat-depth' | 'seat-width' | 'footrest'
  readonly bodyMm: number
  readonly roomMm: number
}

const greatest = (values: readonly (number | undefined)[]): number | undefined => {
  const known = values.filter(value => value !== undefined)
  return known.length === 0 ? undefined : Math.max(...known)
}
const smallest = (values: readonly (number | undefined)[]): number | undefined => {
  const known = values.filter(value => value !== undefined)
  return known.length === 0 ? undefined : Math.min(...known)
}

/** What is too small on a day, if anything: the shorter thigh decides the depth, the longer calf the footrest. */
const outgrownOn = (day: CalendarDate, growth: Growth, body: BodyLengths, room: ChairRoom): Outgrown | undefined => {
  const sizes = [
    {
      what: 'seat-depth',
      bodyMm: smallest(body.thighs.map(thigh => growth.thighDepthMm(thigh, day))),
      roomMm: room.thighDepthMm,
    },
    {
      what: 'seat-width',
      bodyMm: greatest(body.hips.map(hip => growth.hipWidthMm(hip, day))),
      roomMm: room.hipWidthMm,
    },
    {
      what: 'footrest',
      bodyMm: greatest(body.calves.map(calf => growth.calfLengthMm(calf, day))),
      roomMm: room.calfLengthMm,
    },
  ] as const
  for (const { what, bodyMm, roomMm } of sizes)
    if (bodyMm !== undefined && roomMm !== undefined && bodyMm > roomMm) return { on: day, what, bodyMm, roomMm }
  return undefined
}

/** Nobody outgrows a chair and fits it again within this: the curves rise, in straight lines between half-yearly rows. */
const DAYS_PER_STEP = 28

/** The first day on which something is too small, up to `end`; looked for in steps of four weeks, then day by day. */
const firstOutgrown = (
  from: CalendarDate,
  end: CalendarDate,
  outgrownOnDay: (day: CalendarDate) => Outgrown | undefined,
): Outgrown | undefined => {
  const days = daysBetween(from, end)
  for (let step = 0; step < days + DAYS_PER_STEP; step += DAYS_PER_STEP) {
    const last = Math.min(step, days)
    if (!outgrownOnDay(addDays(from, last))) continue
    for (let day = Math.max(0, step - DAYS_PER_STEP + 1); day <= last; day++) {
      const outgrown = outgrownOnDay(addDays(from, day))
      if (outgrown) return outgrown
    }
  }
  return undefined
}

export interface GrowthContext {
  readonly view: CaseView
  readonly facts: Facts
  readonly birth: Birth | undefined
  /** The latest open handover. */
  readonly handedOverOn: CalendarDate
  readonly room: ChairRoom
  readonly setUp: SetUp | undefined
  readonly today: CalendarDate
}

interface Forecast extends Outgrown {
  readonly sex: Sex
  readonly growth: Growth
  readonly anchor: CalendarDate
  readonly window: DateWindow
}

const forecastFor = (
  sex: Sex,
  context: GrowthContext,
  birth: Birth,
  statures: readonly Stature[],
): Forecast | undefined => {
  const { view, handedOverOn, room } = context
  const end = addMonths(birth.on, END_MONTHS)
  const { massKg } = view.values
  const mass =
    massKg === undefined || massKg <= 0 ? {} : { mass: { on: takenOn(view, 'massKg', handedOverOn), kg: massKg } }
  const child: Child = { sex, bornOn: birth.on, statures, ...mass }
  const growth = growthOf(child)
  if (!growth || handedOverOn > end) return undefined
  const body = lengthsOf(view, context.setUp, handedOverOn)
  const outgrown = firstOutgrown(handedOverOn, end, day => outgrownOn(day, growth, body, room))
  if (!outgrown) return undefined
  const anchor = latest([growth.latest.on, handedOverOn]) ?? handedOverOn
  const aside = Math.max(0, Math.round(WINDOW_SHARE * daysBetween(anchor, outgrown.on)))
  const window = { from: addDays(outgrown.on, -aside), to: addDays(outgrown.on, aside) }
  return { ...outgrown, sex, growth, anchor, window }
}

/**
 * When a child is expected to outgrow the chair as built: the depth gap passes the accepted one, the seat's width has no
 * slack left, or the footrest no step. Sex unknown: both are computed, the earlier day and the wider window count. No
 * stature: it is asked for, and the half-yearly review alone stands. A forecast with a window, never a promise.
 */
export const growthDueOf = (
  context: GrowthContext,
): { readonly draft?: DueDraft; readonly missing: readonly string[] } => {
  const { view, facts, birth, handedOverOn, today } = context
  if (!birth || birth.on > today) return { missing: [] }
  const ageMonths = ageInMonthsOn(birth.on, handedOverOn)
  if (ageMonths >= END_MONTHS) return { missing: [] }
  const statures = staturesOf(view, facts, handedOverOn, today)
  if (statures.length === 0) return { missing: ageMonths < FIRST_MONTHS ? [] : ['statureMm'] }
  const sexes: readonly Sex[] = view.values.sex ? [view.values.sex] : ['male', 'female']
  const forecasts = sexes.flatMap(sex => forecastFor(sex, context, birth, statures) ?? [])
  const on = earliest(forecasts.map(forecast => forecast.on))
  const forecast = forecasts.find(one => one.on === on)
  if (!forecast) return { missing: [] }
  const window = {
    from: earliest(forecasts.map(one => one.window.from)) ?? forecast.window.from,
    to: latest(forecasts.map(one => one.window.to)) ?? forecast.window.to,
  }
  const { growth, what, bodyMm, roomMm, anchor } = forecast
  return {
    missing: [],
    draft: {
      kind: 'growth',
      anchor,
      date: forecast.on,
      window,
      rule: `outgrown-${what}`,
      inputs: {
        sex: view.values.sex ?? null,
        computedAs: forecast.sex,
        bornOn: birth.on,
        bornYearOnly: birth.yearOnly,
        statureMm: roundTo(growth.latest.mm, 1),
        statureOn: growth.latest.on,
        z: roundTo(growth.z, 2),
        pace: roundTo(growth.pace, 2),
        bodyMm: roundTo(bodyMm, 1),
        roomMm: roundTo(roomMm, 1),
        massKg: view.values.massKg ?? null,
      } satisfies SumInputs,
      source: 'who-2006-2007',
    },
  }
}
