import type { CalendarDate } from '../calendar-date.ts'
import { compareText } from '../ids.ts'
import type { Doubt } from '../reason.ts'
import type { Facts } from './facts.ts'

/** One chair that a person has: follow-up counts from its handover. */
export interface Clock {
  /** Null: the handover named no serial number. */
  readonly serialNumber: string | null
  /** Usually one. Two unsettled handovers of one chair: both are counted from, and the earlier due wins. Least first. */
  readonly handedOverOn: readonly CalendarDate[]
  /** The latest of them. */
  readonly latest: CalendarDate
  readonly temporaryUntil?: CalendarDate
}

type Handover = Facts['handover'][number]
type Return = Facts['chairReturned'][number]

const serialOf = (event: Handover | Return): string | null => event.serialNumber ?? null

/**
 * Which chair a return ends: the one it names; without a name the only one handed over before. Undefined: nobody can tell.
 * A handover of the same day is never meant: old chair back, new chair out, in one visit.
 */
const endedBy = (returned: Return, handovers: readonly Handover[]): string | null | undefined => {
  const before = handovers.filter(handover => handover.handedOverOn < returned.on)
  const serials = [...new Set(before.map(serialOf))]
  const named = serialOf(returned)
  if (serials.includes(named)) return named
  const [only] = serials
  return serials.length === 1 && (named === null || only === null) ? only : undefined
}

const doubtAbout = (field: string, value: string, likely: string): Doubt => ({
  field,
  value,
  likely,
  reason: { rule: likely, inputs: { on: value }, source: 'project-value' },
  setAside: false,
})

/**
 * The chairs a person has: every handover starts the clock of its chair, the return of that chair ends it, a second chair
 * (another serial number) has its own. By serial number, unnamed first.
 */
export const clocksOf = (facts: Facts): { readonly clocks: readonly Clock[]; readonly doubts: readonly Doubt[] } => {
  const doubts: Doubt[] = []
  const returnedOn = new Map<string | null, CalendarDate>()
  for (const returned of facts.chairReturned) {
    const serial = endedBy(returned, facts.handover)
    if (serial === undefined) doubts.push(doubtAbout('chairReturned', returned.on, 'which-chair-came-back'))
    else returnedOn.set(serial, returned.on)
  }
  const open = new Map<string | null, Handover[]>()
  for (const handover of facts.handover) {
    const serial = serialOf(handover)
    const back = returnedOn.get(serial)
    if (back === undefined || handover.handedOverOn >= back) open.set(serial, [...(open.get(serial) ?? []), handover])
  }
  const clocks = [...open].map(([serialNumber, handovers]): Clock => {
    const days = [...new Set(handovers.map(handover => handover.handedOverOn))]
    const latest = days.at(-1)
    if (latest === undefined) throw new Error(`a chair without a handover: ${serialNumber}`)
    if (days.length > 1) doubts.push(doubtAbout('handover', latest, 'two-handovers-of-one-chair'))
    const untils = handovers.flatMap(handover => handover.temporaryUntil ?? []).sort(compareText)
    return { serialNumber, handedOverOn: days, latest, ...(untils[0] ? { temporaryUntil: untils[0] } : {}) }
  })
  return {
    clocks: clocks.sort((a, b) => compareText(a.serialNumber ?? '', b.serialNumber ?? '')),
    doubts,
  }
}
