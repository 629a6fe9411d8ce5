import { describe, expect, it } from 'vitest'
import practiceCatalogue from '../../../demo/practice-catalogue.json' with { type: 'json' }
import { PRACTICE_PEOPLE } from '../../../demo/practice-people.ts'
import { statementsOf } from '../../../demo/practice-trip.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { viewOfCase } from '../../../src/case/case-view-of.ts'
import { type Counted, readEntry } from '../../../src/case/entry.ts'
import { catalogueSchema } from '../../../src/chair/chair-model.ts'
import { stockLineOf } from '../../../src/chair/stock-line.ts'
import { crewOf } from '../../../src/crew/crew.ts'
import { stockOf } from '../../../src/crew/stock.ts'
import { DEFAULT_POLICY } from '../../../src/fitting/policy.ts'
import { type CaseId, entryIdSchema } from '../../../src/ids.ts'
import { outcome } from '../../../src/outcome/outcome.ts'
import { packingList } from '../../../src/trip/packing.ts'
import { planTrip } from '../../../src/trip/plan.ts'
import { matchStock } from '../../../src/trip/stock-match.ts'
import { visitNeedsOf } from '../../../src/trip/visit-needs.ts'
import { waitingPersonOf } from '../../../src/trip/waiting.ts'
import { entryText, hashedId, testCase } from '../../support/case-entries.ts'
import { aCase, device, founded, teamSaid } from '../../support/team-entries.ts'

const TODAY = toCalendarDate('2026-05-20')
const DATES = { from: toCalendarDate('2026-05-25'), to: toCalendarDate('2026-05-27') }
const catalogue = catalogueSchema.parse(practiceCatalogue)
const context = { catalogue, policy: DEFAULT_POLICY }

const saidOf = (caseId: CaseId, set: Readonly<Record<string, unknown>>): Counted => {
  const text = entryText({ set }).replace(testCase, caseId)
  const read = readEntry(text)
  if (!read.ok) throw new Error(`not an entry: ${read.failure.message}`)
  return { id: entryIdSchema.parse(hashedId(text)), ...read.value }
}

/** The practice people as on the day after they were measured, nothing chosen yet. */
const people = PRACTICE_PEOPLE.map(person => {
  const caseId = aCase(person.key)
  const view = viewOfCase(
    caseId,
    statementsOf(person).map(({ set }) => saidOf(caseId, set)),
  )
  const made = outcome(view, context, TODAY)
  return { key: person.key, view, made, waiting: waitingPersonOf(view, made, context, TODAY) }
})

const stockWith = (pieces: number) => {
  const entries = [
    founded('ana'),
    ...catalogue.models
      .flatMap(({ key: model, seatWidthsMm, seatDepths, cushions }) => [
        ...seatWidthsMm.flatMap(seatWidthMm =>
          seatDepths.map(({ valueMm: seatDepthMm }) => stockLineOf({ kind: 'chair', model, seatWidthMm, seatDepthMm })),
        ),
        ...cushions.map(({ key: cushion }) => stockLineOf({ kind: 'cushion', cushion })),
      ])
      .map(line => teamSaid('ana', { movement: { line, place: 'store', amount: pieces } })),
  ]
  return stockOf(crewOf(entries), entries)
}

const waiting = people.flatMap(person => person.waiting ?? [])

describe('a trip for the practice people', () => {
  it('with plenty of everything, everybody who may have a chair gets the one that fits best of all', () => {
    const { matched, without, oneMore } = matchStock(waiting, stockWith(100))
    expect(matched.length).toBeGreaterThan(10)
    expect(matched.map(one => one.choice)).toEqual(matched.map(() => 1))
    expect(oneMore).toEqual([])
    const best = new Map(people.map(({ view, made }) => [view.caseId, made.recommendation.options[0]]))
    for (const { case: id, chair, cushion, misfit } of matched) {
      const first = best.get(id)
      const line =
        first &&
        stockLineOf({
          kind: 'chair',
          model: first.chair,
          seatWidthMm: first.seatWidthMm,
          seatDepthMm: first.seatDepthMm,
        })
      expect(chair.line).toBe(line)
      expect(cushion).toMatchObject({ line: `cushion ${first?.cushion}` })
      expect(misfit).toBe(Math.round((first?.misfit ?? Number.NaN) * 1000))
    }
    for (const { why } of without) expect(['held', 'measures-missing', 'no-chair-serves']).toContain(why.type)
  })

  it('with nothing in the store nobody gets anything, and each is told why', () => {
    const match = matchStock(waiting, stockWith(1), ['another place'])
    expect(match.matched).toEqual([])
    expect(match.without).toHaveLength(waiting.length)
    expect(match.oneMore[0]?.gain.served).toBe(
      Math.max(...waiting.filter(one => !one.barred).map(one => one.urgency.weight)),
    )
  })

  it('everybody with something to do is planned or listed, and what was matched is packed', () => {
    const match = matchStock(waiting, stockWith(1))
    const given = new Set(match.matched.map(one => one.case))
    const needs = people.flatMap(
      ({ view, made, waiting: waits }) =>
        visitNeedsOf(
          made,
          { case: view.caseId, place: view.values.place ?? null },
          waits,
          given.has(view.caseId),
          DATES,
        ) ?? [],
    )
    const places = [...new Set(PRACTICE_PEOPLE.flatMap(person => person.facts.place ?? []))]
    const days = places.slice(0, 3).map((place, index) => ({
      on: toCalendarDate(`2026-05-2${5 + index}`),
      place,
      hours: 6,
      crew: [device('ana'), device('ben')],
    }))
    const plan = planTrip(needs, days)
    expect(plan.shifts.flatMap(shift => shift.visits).length + plan.left.length).toBe(needs.length)
    expect(plan.shifts.every(shift => shift.usedMinutes <= 360)).toBe(true)
    expect(plan.left.some(one => one.why === 'place-not-on-trip')).toBe(places.length > 3)

    const list = packingList({ match, catalogue, sheets: [], history: [], plannedVisits: 0 })
    const chairs = list.lines.filter(({ line }) => line.startsWith('chair'))
    expect(chairs.reduce((sum, { pieces }) => sum + pieces, 0)).toBe(match.matched.length)
    // The lightest practice chair weighs 11.8 kg, the heaviest 24.5 kg.
    expect(list.massKg).toBeGreaterThanOrEqual(11.8 * match.matched.length)
    expect(list.massKg).toBeLessThanOrEqual(24.5 * match.matched.length)
  })
})
