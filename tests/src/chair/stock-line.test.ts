import * as fc from 'fast-check'
import { expect, it } from 'vitest'
import { readStockLine, type StockItem, stockLineOf } from '../../../src/chair/stock-line.ts'
import { runs } from '../../support/seed.ts'

it('names chairs by model and size, cushions by key, parts by model and key', () => {
  const chair = { kind: 'chair', model: 'trail-folding', seatWidthMm: 400, seatDepthMm: 440 } as const
  expect(stockLineOf(chair)).toBe('chair trail-folding 400 x 440')
  expect(stockLineOf({ kind: 'cushion', cushion: 'flat-foam' })).toBe('cushion flat-foam')
  expect(stockLineOf({ kind: 'part', model: 'trail-folding', part: 'caster-fork-pair' })).toBe(
    'part trail-folding caster-fork-pair',
  )
})

it.each(['M8 nyloc nuts', 'chair', 'chair trail-folding 400', 'cushion Flat Foam', 'part tube', ''])(
  'a name of the crew itself is no chair, cushion or part: %j',
  line => {
    expect(readStockLine(line)).toBeUndefined()
  },
)

it('reads back exactly what it wrote', () => {
  const key = fc.stringMatching(/^[a-z0-9][a-z0-9-]{0,39}$/)
  const mm = fc.integer({ min: 1, max: 50_000 }).map(tenths => tenths / 10)
  const item: fc.Arbitrary<StockItem> = fc.oneof(
    fc.record({ kind: fc.constant('chair' as const), model: key, seatWidthMm: mm, seatDepthMm: mm }),
    fc.record({ kind: fc.constant('cushion' as const), cushion: key }),
    fc.record({ kind: fc.constant('part' as const), model: key, part: key }),
  )
  fc.assert(
    fc.property(item, one => {
      expect(readStockLine(stockLineOf(one))).toEqual(one)
    }),
    runs(200),
  )
})
