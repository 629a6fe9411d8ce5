import { describe, expect, it } from 'vitest'
import practiceCatalogue from '../../../demo/practice-catalogue.json' with { type: 'json' }
import { viewOfCase } from '../../../src/case/case-view-of.ts'
import { catalogueSchema } from '../../../src/chair/chair-model.ts'
import { DEFAULT_POLICY } from '../../../src/fitting/policy.ts'
import { chanceOfMore, piecesFor } from '../../../src/trip/chances.ts'
import type { GivenPiece } from '../../../src/trip/give-out.ts'
import { faultHistoryOf, packingList, sparesFor } from '../../../src/trip/packing.ts'
import type { StockMatch } from '../../../src/trip/stock-match.ts'
import { forecastWidths } from '../../../src/trip/width-forecast.ts'
import { said, testCase } from '../../support/case-entries.ts'
import { aCase } from '../../support/team-entries.ts'

const catalogue = catalogueSchema.parse(practiceCatalogue)
const at = (line: string, place = 'store'): GivenPiece => ({ line, place, how: 'matched' })
const matched = (name: string, chair: GivenPiece, cushion: StockMatch['matched'][number]['cushion']) => ({
  case: aCase(name),
  chair,
  cushion,
  misfit: 0,
  choice: 1,
  best: chair.line,
  holds: [],
})

describe('packing', () => {
  it('counts chairs and cushions by line and place, and weighs what the catalogue knows', () => {
    const chair = 'chair trail-folding 400 x 440'
    const match: StockMatch = {
      matched: [
        matched('a', at(chair), at('cushion flat-foam')),
        matched('b', at(chair), 'not-in-stock'),
        matched('c', at(chair, 'far store'), at('cushion flat-foam')),
        matched('d', at('an old chair, blue'), at('cushion high-relief')),
      ],
      without: [],
      oneMore: [],
      withOneMore: [],
    }
    const list = packingList({ match, catalogue, sheets: [], history: [], plannedVisits: 0 })
    // The practice catalogue: one trail-folding weighs 17.5 kg.
    expect(list.lines).toEqual([
      { line: 'an old chair, blue', place: 'store', pieces: 1, massKg: null },
      { line: chair, place: 'far store', pieces: 1, massKg: 17.5 },
      { line: chair, place: 'store', pieces: 2, massKg: 35 },
      { line: 'cushion flat-foam', place: 'store', pieces: 2, massKg: null },
      { line: 'cushion high-relief', place: 'store', pieces: 1, massKg: null },
    ])
    expect(list).toMatchObject({ chairs: 4, massKg: 52.5 })
    expect(list.massUnknown).toEqual(['an old chair, blue', 'cushion flat-foam', 'cushion high-relief'])
  })

  it('reads wear from reviews and repairs: days on which a chair was looked at, and what was mended', () => {
    const repair = (repairedOn: string, part: string) =>
      said({ set: { repair: { repairedOn, part, fault: 'worn', chairUsable: true } } })
    const review = said({
      set: { review: { visitedOn: '2026-05-01', fit: 'ok', skin: 'ok', chair: 'problem', skills: 'ok' } },
    })
    const view = viewOfCase(testCase, [review, repair('2026-05-01', 'Caster fork'), repair('2026-08-09', 'Tyre')])
    const { visits, repairedParts } = faultHistoryOf(view)
    expect(visits).toBe(2)
    expect(repairedParts.toSorted()).toEqual(['Caster fork', 'Tyre'])
  })

  it('takes as many of a part as its past asks for', () => {
    const history = [
      { visits: 6, repairedParts: ['Tyre', 'tyre ', 'Caster fork'] },
      { visits: 4, repairedParts: ['TYRE'] },
    ]
    const [fork, tyre, ...others] = sparesFor(history, 20)
    expect(others).toEqual([])
    // 3 tyres in 10 visits make 6 in 20; Poisson tables: P(X <= 9 | 6) = 0.9161, P(X <= 8 | 6) = 0.8472.
    expect(tyre).toMatchObject({ part: 'tyre', repairs: 3, meanWanted: 6, pieces: 9 })
    expect(tyre?.runOutChance).toBeCloseTo(0.0839, 4)
    // 1 in 10 makes 2: P(X <= 4 | 2) = 0.9473, P(X <= 3 | 2) = 0.8571.
    expect(fork).toMatchObject({ part: 'caster fork', pieces: 4 })
    expect(sparesFor([], 20)).toEqual([])
  })
})

describe('a forecast of widths', () => {
  const forecast = (measuredHipsMm: readonly number[], expected: { people: number } | { about: number }) =>
    forecastWidths({ seatWidthsMm: [460, 340, 400], measuredHipsMm, expected, policy: DEFAULT_POLICY.width })

  it('counts the crew’s own people beside the published bodies: of 20 people all 400 wide and 20 published, at least half', () => {
    const own = forecast(
      Array.from({ length: 20 }, () => 395),
      { people: 10 },
    )
    const none = forecast([], { people: 10 })
    const shareOf = (one: typeof own): number =>
      one.widths.find(({ seatWidthMm }) => seatWidthMm === 400)?.share ?? Number.NaN
    expect(shareOf(own)).toBeCloseTo(0.5 + shareOf(none) / 2, 12)
    expect(own.measured).toBe(20)
  })

  it('gives every person a width or counts them among those whom none serves', () => {
    // 280 is more than 40 mm narrower than 340, 470 wider than 460: no width of these (team policy: slack up to 40).
    const { widths, noneShare } = forecast([280, 470, 330, 400, 461], { people: 40 })
    expect(widths.map(one => one.seatWidthMm)).toEqual([340, 400, 460])
    expect(widths.reduce((sum, one) => sum + one.share, 0) + noneShare).toBeCloseTo(1, 12)
    expect(noneShare).toBeGreaterThan(3 / 25)
  })

  it('packs the fewest that run out with a chance of at most a tenth, for a number of people and for about as many', () => {
    for (const expected of [{ people: 30 }, { about: 30 }])
      for (const { pack, share, runOutChance } of forecast([390, 400, 410, 440], expected).widths) {
        const demand =
          'people' in expected
            ? ({ type: 'of-people', people: 30, share } as const)
            : ({ type: 'about', mean: 30 * share } as const)
        expect(runOutChance).toBeLessThanOrEqual(0.1)
        expect(chanceOfMore(demand, pack - 1)).toBeGreaterThan(0.1)
      }
  })

  it('nobody expected: nothing packed; everybody of one size: one for each', () => {
    expect(forecast([], { people: 0 }).widths.map(one => one.pack)).toEqual([0, 0, 0])
    expect(piecesFor({ type: 'of-people', people: 7, share: 1 }, 0.1)).toBe(7)
    expect(chanceOfMore({ type: 'of-people', people: 7, share: 1 }, 6)).toBe(1)
    expect(piecesFor({ type: 'about', mean: 0 }, 0.1)).toBe(0)
  })
})
