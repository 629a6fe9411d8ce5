import type { Point } from '../../src/body/seated-body.ts'
import type { Line, SideView, Wedge } from '../../src/fitting/drawing.ts'
import type { TipAngle } from '../../src/fitting/stability.ts'
import { currentSpeech, t } from '../text/text.ts'
import { towards } from './paths.ts'
import type { Box, KeptFree, LabelWish, Place, Spot } from './place-labels.ts'

export const degrees = (value: number): string => t('fit.degrees', { value: currentSpeech().number(value, 1) })
export const millimetres = (value: number): string => t('fit.millimetres', { value: currentSpeech().number(value, 0) })

export const tipWords = (value: TipAngle): string => {
  if (value === 'outsideBase') return t('fit.outsideBase')
  return value === 'cannotTip' ? t('fit.cannotTip') : degrees(value)
}

/** From mm of the drawing to px of the screen. */
export interface ToScreen {
  readonly pxPerMm: number
  readonly leftMm: number
  readonly topMm: number
}
export const onScreen = ({ pxPerMm, leftMm, topMm }: ToScreen, point: Point): { x: number; y: number } => ({
  x: (point.xMm - leftMm) * pxPerMm,
  y: (topMm - point.zMm) * pxPerMm,
})

/** On the drawing an angle is whole and a length bare, in mm: the list beside it says both in full. */
const bare = (value: number): string => currentSpeech().number(value, 0)
const bareDegrees = (value: TipAngle): string =>
  typeof value === 'number' ? t('fit.degrees', { value: bare(value) }) : tipWords(value)

/** Lines of places beside an anchor, nearest first: ahead of it or behind it, each a little higher and lower. */
const beside = (direction: 1 | -1, nearPx: number, rowsPx: readonly number[]): Place[] =>
  [0, 6, 12, 20, 28, 36, 44, 54, 64, 84, 110].flatMap(step =>
    rowsPx.map(y => ({ x: direction * (nearPx + step), y, edge: direction === 1 ? 'start' : 'end' }) as const),
  )
const behind = (nearPx: number, rowsPx: readonly number[]): Place[] => beside(-1, nearPx, rowsPx)
const ahead = (nearPx: number, rowsPx: readonly number[]): Place[] => beside(1, nearPx, rowsPx)

const wedgeEnd = ({ pivot, towards: side, deg, radiusMm }: Wedge, share: number): Point =>
  towards(pivot, typeof deg === 'number' ? (side * deg) / 2 : 0, radiusMm * share)

/** What is written on the side view, the most needed first. */
export const sideWishes = (view: SideView, rearShare: number, screen: ToScreen): readonly LabelWish[] => {
  const { chair, rearward, forward, balance, elbow, groundClearance, footToCaster, kneeGap, antiTip } = view
  const wish = (key: string, text: string, at: Point, places: readonly Place[]): LabelWish => ({
    key,
    text,
    anchor: onScreen(screen, at),
    places,
  })
  const share = (key: string, part: number, at: Point): LabelWish =>
    wish(key, t('fit.labelShare', { share: bare(part * 100) }), at, [
      { x: 0, y: 15 },
      { x: -30, y: 15 },
      { x: 30, y: 15 },
    ])
  const up = [0, -14, 14, -28, 28, -44, 44, -62, -84, -108, -134]
  const underGround = (point: Point): Place[] =>
    ([-1, 1] as const).flatMap(direction =>
      [22, 30, 38].map(
        x =>
          ({ x: direction * x, y: 15, edge: direction === 1 ? 'start' : 'end', by: onScreen(screen, point) }) as const,
      ),
    )
  return [
    ...(elbow
      ? [
          wish(
            'elbow',
            elbow.deg === 'outOfReach'
              ? t('fit.labelElbowOut')
              : t('fit.labelElbow', { angle: bareDegrees(elbow.deg) }),
            elbow.at,
            [
              ...behind(10, [0, -12, 12]),
              ...[-34, -48, -64, -82, -102, -124].flatMap(y => [-20, 0, 14].map(x => ({ x, y, edge: 'end' }) as const)),
              ...[-64, -82, -102, -124, -146].map(y => ({ x: -46, y, edge: 'start' }) as const),
              ...behind(10, up),
            ],
          ),
        ]
      : []),
    wish('rearward', t('fit.labelRearward', { angle: bareDegrees(rearward.deg) }), wedgeEnd(rearward, 0.9), [
      ...behind(26, [0, -16, 16, 32]),
      ...underGround(rearward.pivot),
      ...behind(26, up),
    ]),
    wish('forward', t('fit.labelForward', { angle: bareDegrees(forward.deg) }), wedgeEnd(forward, 0.99), [
      { x: 4, y: -14, edge: 'start' },
      ...ahead(10, up),
    ]),
    wish('hole', t('fit.labelHole', { number: chair.holes.findIndex(one => one.chosen) + 1 }), chair.axle, [
      ...[18, 26, 34].flatMap(y => [-30, -24, -36, 44, 54, 64].map(x => ({ x, y }))),
      ...[-22, -36].flatMap(y => [-34, 44, 54].map(x => ({ x, y }))),
    ]),
    ...(groundClearance
      ? [
          wish('clearance', t('fit.labelClearance', { length: bare(groundClearance.mm) }), groundClearance.line[0], [
            ...ahead(6, [(-groundClearance.mm / 2) * screen.pxPerMm]),
            ...[4, -10, -24, -40].map(x => ({ x, y: 15, edge: 'start' }) as const),
          ]),
        ]
      : []),
    wish('kneeGap', t('fit.labelKneeGap', { length: bare(kneeGap.mm) }), kneeGap.line[1], [
      ...ahead(8, [10, 22, 36, 50, 64, 78, 92, -12]),
    ]),
    ...(footToCaster
      ? [
          wish('heel', t('fit.labelHeel', { length: bare(footToCaster.mm) }), footToCaster.line[0], [
            ...ahead(0, [18, -18, 26, -30]),
            ...[16, 30].map(y => ({ x: 10, y })),
          ]),
        ]
      : []),
    share('rearShare', rearShare, rearward.pivot),
    share('frontShare', 1 - rearShare, forward.pivot),
    wish('balance', t('fit.labelBalance', { angle: bareDegrees(balance.deg) }), wedgeEnd(balance, 0.75), [
      ...behind(34, [0, -16, 16, 32]),
      ...behind(34, up),
    ]),
    ...(antiTip
      ? [
          wish('antiTip', t('fit.labelAntiTip', { angle: bareDegrees(antiTip.deg) }), wedgeEnd(antiTip, 0.55), [
            ...behind(30, up),
          ]),
        ]
      : []),
  ]
}

/** The inked lines and marks: no label is written across them. */
export const keptFree = (view: SideView, screen: ToScreen): KeptFree => {
  const spot = (point: Point): Spot => onScreen(screen, point)
  const box = (point: Point, sizePx: number): Box => ({ ...spot(point), width: sizePx, height: sizePx })
  const ring = (centre: Point, radiusMm: number) => ({ centre: spot(centre), radius: radiusMm * screen.pxPerMm })
  const { chair, elbow, rearward, forward, groundClearance, footToCaster, kneeGap } = view
  const wedge = ({ pivot, towards: side, deg, radiusMm }: Wedge): Line[] =>
    [0, typeof deg === 'number' ? side * deg : 0].map(one => [pivot, towards(pivot, one, radiusMm)])
  const ground: Line = [
    { xMm: -10_000, zMm: 0 },
    { xMm: 10_000, zMm: 0 },
  ]
  const lines: readonly Line[] = [
    ground,
    ...chair.tubes,
    ...chair.plates.flatMap(one => [one.hanger, one.plate]),
    [chair.seatRear, chair.backTop],
    chair.handle,
    chair.casterStem,
    ...(chair.armrest ? [chair.armrest.pad] : []),
    ...(elbow
      ? ([
          [elbow.shoulder, elbow.at],
          [elbow.at, elbow.grip],
        ] as const)
      : []),
    ...(footToCaster ? [footToCaster.line] : []),
    ...(groundClearance ? [groundClearance.line] : []),
    kneeGap.line,
    ...wedge(rearward),
    ...wedge(forward),
  ]
  return {
    boxes: [...chair.holes.map(one => box(one.at, 18)), box(view.massCentre, 28)],
    strokes: lines.map(([from, to]) => [spot(from), spot(to)]),
    rings: [
      ring(chair.axle, chair.rearWheelRadiusMm),
      ring(chair.axle, chair.pushrimRadiusMm),
      ring(chair.casterAxle, chair.casterRadiusMm),
    ],
  }
}
