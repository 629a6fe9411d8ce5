import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { CaseView } from '../../src/case/case-view.ts'
import { viewOfCase } from '../../src/case/case-view-of.ts'
import { caseHeader, caseRow, EVENT_HEADER, eventRows } from '../../src/table/case-table.ts'
import { csvOf } from '../../sync/desk/csv.ts'
import { readCaseTable, readEventTable } from '../../sync/desk/read-tables.ts'
import { said, testCase } from '../support/case-entries.ts'
import { runs } from '../support/seed.ts'

/** Words as anybody may type them, with what spreadsheets and CSV trip over at the beginning more often than not. */
const words = fc
  .tuple(
    fc.constantFrom('', '=', '+', '-', '@', "'", "'=", '"', ',', ';', 'none', '\uFEFF', '\t', '\uFF1D'),
    fc.string({ unit: 'binary', minLength: 1, maxLength: 30 }),
  )
  .map(([sign, text]) => `${sign}${text}`)
  .filter(text => text.trim() !== '')
const day = fc
  .tuple(fc.integer({ min: 1950, max: 2026 }), fc.integer({ min: 1, max: 12 }))
  .map(([year, month]) => `${year}-${String(month).padStart(2, '0')}-09`)
const grade = fc.constantFrom('ok', 'problem', 'not-done')
const off = fc.option(fc.integer({ min: 0, max: 900 }), { nil: null })
const legLoss = fc.option(
  fc.record(
    {
      level: fc.constantFrom('transfemoral', 'transtibial'),
      remainingFraction: fc.constantFrom(0, 0.3, 1),
      prosthesisWorn: fc.boolean(),
    },
    { requiredKeys: ['level'] },
  ),
  { nil: null },
)

/** One answer to each kind and shape of field. */
const answers = fc.record(
  {
    personName: words,
    place: words,
    sex: fc.constantFrom('male', 'female'),
    dateOfBirth: day,
    birthYear: fc.integer({ min: 1900, max: 2200 }),
    toldAndAgreed: fc.record(
      { told: fc.boolean(), agreed: fc.boolean(), by: fc.constantFrom('person', 'guardian'), byName: words, on: day },
      { requiredKeys: ['told', 'agreed', 'by', 'on'] },
    ),
    propulsion: fc.uniqueArray(fc.constantFrom('hands', 'left-foot', 'pushed'), { minLength: 1 }),
    supports: fc.uniqueArray(fc.constantFrom('tray', 'solid-seat')),
    loads: fc.array(fc.record({ massKg: fc.constantFrom(0.1, 7, 33.3), at: fc.constantFrom('lap', 'under') }), {
      maxLength: 3,
    }),
    limbLossLeft: legLoss,
    armLossRight: fc.constantFrom('whole-arm', 'below-elbow', null),
    presentSore: fc.boolean(),
    hipWidthMm: fc.record({ typed: fc.integer({ min: 100, max: 800 }), unit: fc.constant('mm') }),
    massKg: fc.record({
      typed: fc.integer({ min: 50, max: 2500 }).map(tenths => tenths / 10),
      unit: fc.constantFrom('kg', 'lb'),
    }),
    steepestSlopeDeg: fc.record({ typed: fc.integer({ min: -60, max: 60 }), unit: fc.constant('deg') }),
    chosenSetUp: fc.record(
      {
        chair: words.map(text => [...text].slice(0, 20).join('')).filter(text => text !== ''),
        seatWidthMm: fc.double({ min: 200, max: 700, noNaN: true }),
        seatDepth: fc.constant('d1'),
        cushion: fc.constant('-c'),
        footrestLeftMm: off,
        armrestMm: off,
      },
      { requiredKeys: ['chair', 'seatWidthMm', 'seatDepth', 'cushion'] },
    ),
    cannotIssue: fc.option(fc.record({ what: fc.constantFrom('wait', 'refer'), why: words }), { nil: null }),
    builtArmrestMm: off,
    checkBrakesHold: fc.record(
      {
        result: fc.constantFrom('pass', 'fail'),
        on: day,
        against: fc.dictionary(fc.constantFrom('axle', 'size'), words),
        note: words,
      },
      { requiredKeys: ['result', 'on', 'against'] },
    ),
    exit: fc.option(fc.record({ on: day, why: fc.constantFrom('moved', 'died') }), { nil: null }),
    review: fc.record(
      {
        visitedOn: day,
        fit: grade,
        skin: grade,
        chair: grade,
        skills: grade,
        satisfactionChair: fc.integer({ min: 1, max: 5 }),
        note: words,
      },
      { requiredKeys: ['visitedOn', 'fit', 'skin', 'chair', 'skills'] },
    ),
    repair: fc.record({ repairedOn: day, part: words, fault: words, chairUsable: fc.boolean() }),
    tyreReading: fc.record({
      on: day,
      tyre: fc.constant('rear-left'),
      celsius: fc.integer({ min: -40, max: 60 }),
      altitudeM: fc.double({ min: -450, max: 6000, noNaN: true }).map(metres => metres + 0),
    }),
    skinLook: fc.record({ on: day, found: fc.constantFrom('clear', 'red') }),
  },
  { requiredKeys: [] },
)

const viewOf = (statements: readonly Readonly<Record<string, unknown>>[]): CaseView =>
  viewOfCase(
    testCase,
    statements.map((set, at) => said({ set, at, by: `${at}` })),
  )
const tables = (view: CaseView, names: boolean) => ({
  cases: new TextEncoder().encode(csvOf(caseHeader(names), [caseRow(view, names)])),
  events: new TextEncoder().encode(csvOf(EVENT_HEADER, eventRows(view, names))),
})
const eventsOf = ({ events }: CaseView) =>
  Object.entries(events)
    .flatMap(([field, happened]) => happened.map(({ id, value }) => `${field} ${id} ${sortedText(value)}`))
    .sort()
/** JSON with the keys in order. */
const sortedText = (value: unknown): string =>
  JSON.stringify(value, (_, one: unknown) =>
    typeof one === 'object' && one !== null && !Array.isArray(one)
      ? Object.fromEntries(Object.entries(one).sort(([a], [b]) => (a < b ? -1 : 1)))
      : one,
  )
// CSV has no sign of nothing: -0 is 0.
const plain = (value: unknown): unknown => JSON.parse(JSON.stringify(value))

describe('a table of cases', () => {
  it('read back says all that the case says, names and all', () => {
    fc.assert(
      fc.property(fc.array(answers, { minLength: 1, maxLength: 3 }), statements => {
        const view = viewOf(statements)
        const { cases, events } = tables(view, true)
        const read = readCaseTable(cases)
        expect(read.faulty).toEqual([])
        expect(read.rows).toEqual([
          {
            case: testCase,
            differences: view.differences.map(one => one.field),
            notRead: [],
            values: plain(view.values),
          },
        ])
        const happened = readEventTable(events)
        expect(happened.faulty).toEqual([])
        expect(happened.rows.map(one => `${one.field} ${one.entry} ${sortedText(one.value)}`).sort()).toEqual(
          eventsOf(view),
        )
      }),
      runs(150),
    )
  })

  it('without names holds nothing that was typed freely, and says the rest', () => {
    const secret = 'Zzyzzyva'
    fc.assert(
      fc.property(answers, said => {
        const view = viewOf([
          {
            ...said,
            personName: secret,
            place: secret,
            dateOfBirth: '1977-07-21',
            cannotIssue: { what: 'wait', why: secret },
          },
          { repair: { repairedOn: '2026-01-09', part: secret, fault: secret, chairUsable: true, doneBy: secret } },
        ])
        const { cases, events } = tables(view, false)
        for (const bytes of [cases, events]) expect(new TextDecoder().decode(bytes)).not.toMatch(/Zzyzzyva|1977-07-21/)
        const [row] = readCaseTable(cases).rows
        expect(row?.values.sex).toEqual(view.values.sex)
        expect(row?.values.limbLossLeft).toEqual(view.values.limbLossLeft)
        expect(row?.values.massKg).toEqual(view.values.massKg)
        expect(row?.values.cannotIssue).toEqual({ what: 'wait' })
        expect(readEventTable(events).rows).toContainEqual(
          expect.objectContaining({ field: 'repair', value: { repairedOn: '2026-01-09', chairUsable: true } }),
        )
      }),
      runs(60),
    )
  })

  it('no cell of words begins with a sign that is computed', () => {
    fc.assert(
      fc.property(answers, answer => {
        const view = viewOf([answer])
        const cells = [...caseRow(view, true), ...eventRows(view, true).flat()]
        // OWASP, CSV Injection.
        expect(
          cells.filter(cell => typeof cell === 'string' && /^[=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]/.test(cell)),
        ).toEqual([])
      }),
      runs(100),
    )
  })
})
