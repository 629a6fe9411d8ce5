import * as fc from 'fast-check'
import { expect, it } from 'vitest'
import {
  type Box,
  boxesTouch,
  type KeptFree,
  leaderOf,
  placeLabels,
  type Ring,
  type Stroke,
  strokeMeets,
} from '../../../components/fit/place-labels.ts'
import { runs } from '../../support/seed.ts'

const ROOM = { left: 0, top: 0, right: 300, bottom: 300 }
const size = (text: string) => ({ width: text.length * 8, height: 18 })
const near = fc.record({ x: fc.integer({ min: -80, max: 80 }), y: fc.integer({ min: -80, max: 80 }) })
const spot = fc.record({ x: fc.integer({ min: -20, max: 320 }), y: fc.integer({ min: -20, max: 320 }) })
const wish = fc.record({
  key: fc.uuid(),
  text: fc.string({ minLength: 1, maxLength: 14 }),
  anchor: spot,
  places: fc.array(
    fc.oneof(
      near,
      near.map(place => ({ ...place, edge: 'start' as const })),
      near.map(place => ({ ...place, edge: 'end' as const })),
      fc.tuple(near, spot).map(([place, by]) => ({ ...place, by })),
    ),
    { maxLength: 12 },
  ),
})
const obstacle = spot.map(({ x, y }): Box => ({ x, y, width: 20, height: 12 }))

const NOTHING: KeptFree = { boxes: [], strokes: [], rings: [] }
const stroke = fc.tuple(spot, spot)
const ring = fc.record({ centre: spot, radius: fc.integer({ min: 5, max: 90 }) })
const keptFree = fc.record({
  boxes: fc.array(obstacle, { maxLength: 12 }),
  strokes: fc.array(stroke, { maxLength: 6 }),
  rings: fc.array(ring, { maxLength: 3 }),
})

const isIn = (x: number, y: number, box: Box): boolean =>
  Math.abs(x - box.x) < box.width / 2 && Math.abs(y - box.y) < box.height / 2
/** Point by point along a line and a circle: slow and plain. */
const crosses = ([from, to]: Stroke, box: Box): boolean =>
  Array.from({ length: 401 }, (_, step) => step / 400).some(share =>
    isIn(from.x + share * (to.x - from.x), from.y + share * (to.y - from.y), box),
  )
const encircles = ({ centre, radius }: Ring, box: Box): boolean =>
  Array.from({ length: 720 }, (_, step) => (step * Math.PI) / 360).some(angle =>
    isIn(centre.x + radius * Math.cos(angle), centre.y + radius * Math.sin(angle), box),
  )

/** Area shared by two boxes, from their corners. */
const shared = (a: Box, b: Box): number => {
  const over = (from: 'x' | 'y', span: 'width' | 'height'): number =>
    Math.min(a[from] + a[span] / 2, b[from] + b[span] / 2) - Math.max(a[from] - a[span] / 2, b[from] - b[span] / 2)
  return Math.max(0, over('x', 'width')) * Math.max(0, over('y', 'height'))
}

it('never lets two labels share a pixel, leave the picture or cover what must stay free', () => {
  fc.assert(
    fc.property(fc.array(wish, { maxLength: 14 }), keptFree, (wishes, free) => {
      const placed = placeLabels(wishes, size, free, ROOM)
      for (const [index, { box }] of placed.entries()) {
        expect(box.x - box.width / 2).toBeGreaterThanOrEqual(0)
        expect(box.x + box.width / 2).toBeLessThanOrEqual(300)
        expect(box.y - box.height / 2).toBeGreaterThanOrEqual(0)
        expect(box.y + box.height / 2).toBeLessThanOrEqual(300)
        for (const other of [...free.boxes, ...placed.slice(index + 1).map(one => one.box)])
          expect(shared(box, other)).toBeCloseTo(0, 6)
        expect(free.strokes.filter(one => crosses(one, box))).toEqual([])
        expect(free.rings.filter(one => encircles(one, box))).toEqual([])
      }
    }),
    runs(300),
  )
})

it('takes the first place that is free, and leaves a label out where none is', () => {
  const wishes = [
    { key: 'a', text: 'back 11°', anchor: { x: 100, y: 100 }, places: [{ x: 0, y: 0 }] },
    {
      key: 'b',
      text: 'forward',
      anchor: { x: 100, y: 100 },
      places: [
        { x: 0, y: 8 },
        { x: 0, y: 20 },
      ],
    },
    { key: 'c', text: 'elbow', anchor: { x: 100, y: 100 }, places: [{ x: 4, y: 4 }] },
  ]
  expect(placeLabels(wishes, size, NOTHING, ROOM).map(one => [one.key, one.box.x, one.box.y])).toEqual([
    ['a', 100, 100],
    ['b', 100, 120],
  ])
})

it('stands with its start or its end at the place named', () => {
  const at = (edge: 'start' | 'end') =>
    placeLabels(
      [{ key: 'a', text: '12345', anchor: { x: 100, y: 100 }, places: [{ x: 10, y: 0, edge }] }],
      size,
      NOTHING,
      ROOM,
    )[0]?.box.x
  // 5 letters of 8 px: 40 wide, from or up to x = 110.
  expect(at('start')).toBe(130)
  expect(at('end')).toBe(90)
})

it('ties a label to what it names when it stands away, and lets no tie cross another label', () => {
  const far = { key: 'a', text: 'far', anchor: { x: 100, y: 100 }, places: [{ x: 0, y: 80 }] }
  const [placed] = placeLabels([far], size, NOTHING, ROOM)
  const leader = placed && leaderOf(placed.box, placed.anchor)
  expect(leader).toEqual([
    { x: 100, y: 180 - 9 },
    { x: 100, y: 100 },
  ])
  const between = { key: 'b', text: 'between', anchor: { x: 100, y: 140 }, places: [{ x: 0, y: 0 }] }
  expect(placeLabels([far, between], size, NOTHING, ROOM).map(one => one.key)).toEqual(['a'])
  expect(placeLabels([between, far], size, NOTHING, ROOM).map(one => one.key)).toEqual(['b'])
})

it('knows boxes that touch from boxes side by side', () => {
  const box = (x: number): Box => ({ x, y: 0, width: 10, height: 10 })
  expect(boxesTouch(box(0), box(9))).toBe(true)
  expect(boxesTouch(box(0), box(10))).toBe(false)
})

it('knows a line that meets a box as a walk along it does', () => {
  fc.assert(
    fc.property(stroke, obstacle, (line, box) => {
      // A walk may step over a corner that the line only nicks: what it finds, the rule finds.
      if (crosses(line, box)) expect(strokeMeets(line, box, 0)).toBe(true)
      const wider = { ...box, width: box.width + 4, height: box.height + 4 }
      if (!crosses(line, wider)) expect(strokeMeets(line, box, 0)).toBe(false)
    }),
    runs(1000),
  )
})
