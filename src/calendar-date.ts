import * as z from 'zod'

const DATE_PATTERN = /^(\d{4})-(\d{2})-(\d{2})$/
const DAYS_IN_MONTH = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31] as const

/** A civil date in the casebook's zone, `YYYY-MM-DD`. No time of day, no zone: due dates must not move with either. */
export const calendarDateSchema = z
  .string()
  .refine(isCalendarDate, 'not a date of the form 2026-11-25')
  .brand<'CalendarDate'>()
export type CalendarDate = z.infer<typeof calendarDateSchema>

const isLeapYear = (year: number): boolean => (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0

const daysInMonth = (year: number, month: number): number =>
  month === 2 && isLeapYear(year) ? 29 : (DAYS_IN_MONTH[month - 1] ?? 0)

function isCalendarDate(text: string): boolean {
  const match = DATE_PATTERN.exec(text)
  if (!match) return false
  const [year, month, day] = [Number(match[1]), Number(match[2]), Number(match[3])]
  return year >= 1900 && month >= 1 && month <= 12 && day >= 1 && day <= daysInMonth(year, month)
}

/** Reads a date that is known to be one (a constant, a value already parsed); throws on anything else. */
export const toCalendarDate = (text: string): CalendarDate => calendarDateSchema.parse(text)

const partsOf = (date: CalendarDate): { year: number; month: number; day: number } => ({
  year: Number(date.slice(0, 4)),
  month: Number(date.slice(5, 7)),
  day: Number(date.slice(8, 10)),
})

/** Dates are moved thousands of times in a merge: the schema's own test, without the schema's bookkeeping. */
const fromParts = (year: number, month: number, day: number): CalendarDate => {
  const text = `${String(year).padStart(4, '0')}-${String(month).padStart(2, '0')}-${String(day).padStart(2, '0')}`
  if (!isCalendarDate(text)) throw new RangeError(`not a date of the calendar from 1900 to 9999: ${text}`)
  return text as CalendarDate
}

const MS_PER_DAY = 86_400_000

/** Days since 1970-01-01. UTC is used as plain arithmetic here; no clock and no zone is read. */
const toDayNumber = (date: CalendarDate): number => {
  const { year, month, day } = partsOf(date)
  return Date.UTC(year, month - 1, day) / MS_PER_DAY
}

export const addDays = (date: CalendarDate, days: number): CalendarDate => {
  const moved = new Date((toDayNumber(date) + days) * MS_PER_DAY)
  return fromParts(moved.getUTCFullYear(), moved.getUTCMonth() + 1, moved.getUTCDate())
}

/** The same day n months on, clamped to the month's end (2026-08-31 + 6 = 2027-02-28). Count from the anchor, never chain. */
export const addMonths = (date: CalendarDate, months: number): CalendarDate => {
  const { year, month, day } = partsOf(date)
  const index = year * 12 + (month - 1) + months
  const targetYear = Math.floor(index / 12)
  const targetMonth = index - targetYear * 12 + 1
  return fromParts(targetYear, targetMonth, Math.min(day, daysInMonth(targetYear, targetMonth)))
}

/** Days from `from` to `to`; negative when `to` lies before. */
export const daysBetween = (from: CalendarDate, to: CalendarDate): number => toDayNumber(to) - toDayNumber(from)

/** Completed years of age on a day; negative before birth. A 29 February birthday counts from 1 March in other years. */
export const ageOn = (dateOfBirth: CalendarDate, day: CalendarDate): number => {
  const birth = partsOf(dateOfBirth)
  const now = partsOf(day)
  const hadBirthday = now.month > birth.month || (now.month === birth.month && now.day >= birth.day)
  return now.year - birth.year - (hadBirthday ? 0 : 1)
}

/** Age in months with a fraction, 30.4375 days each: the unit of the WHO growth tables. */
export const ageInMonthsOn = (dateOfBirth: CalendarDate, day: CalendarDate): number =>
  daysBetween(dateOfBirth, day) / 30.4375

/** Completed calendar months from one day to a later one; negative when `to` lies before. */
export const completedMonths = (from: CalendarDate, to: CalendarDate): number => {
  const [a, b] = [partsOf(from), partsOf(to)]
  const months = (b.year - a.year) * 12 + b.month - a.month
  return addMonths(from, months) > to ? months - 1 : months
}

/** ISO dates sort as text. */
export const isBefore = (a: CalendarDate, b: CalendarDate): boolean => a < b

export const earliest = (dates: readonly CalendarDate[]): CalendarDate | undefined =>
  dates.reduce<CalendarDate | undefined>(
    (least, date) => (least === undefined || date < least ? date : least),
    undefined,
  )

export const latest = (dates: readonly CalendarDate[]): CalendarDate | undefined =>
  dates.reduce<CalendarDate | undefined>((most, date) => (most === undefined || date > most ? date : most), undefined)
