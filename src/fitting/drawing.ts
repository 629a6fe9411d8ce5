import type { Body } from '../body/measurements.ts'
import type { Side } from '../body/person.ts'
import { type Point, seatPitch } from '../body/seated-body.ts'
import type { ResolvedSetUp } from '../chair/set-up.ts'
import { toRadians } from '../units.ts'
import type { MeasuredCentre } from './angles.ts'
import { type DrawnBody, type DrawnElbow, drawnBody, drawnElbow } from './drawn-body.ts'
import { type RearView, rearView } from './drawn-rear.ts'
import type { Evaluation } from './evaluate.ts'
import { type Sitter, turnAboutCaster } from './loaded-chair.ts'
import type { Needs } from './needs.ts'
import type { Policy } from './policy.ts'
import { footByCaster, heelToCasterMm, plateAt } from './rules.ts'
import type { TipAngle } from './stability.ts'

/** A straight piece: a tube, a plate, a line of measure. */
export type Line = readonly [Point, Point]

/** A line of measure whose length is its number. */
export interface Measure {
  readonly line: Line
  readonly mm: number
}

/** A tipping angle between the vertical over a pivot and the line to the mass centre; the chair tips when the slope passes it. */
export interface Wedge {
  readonly pivot: Point
  /** Where the mass centre lies from the pivot: 1 ahead, -1 behind. */
  readonly towards: 1 | -1
  readonly deg: TipAngle
  readonly errorDeg: number
  /** Least angle of the policy, after the error; null where none is set. */
  readonly leastDeg: number | null
  /** Pivot to mass centre. */
  readonly radiusMm: number
}

export interface DrawnPlate {
  readonly side: Side
  readonly hanger: Line
  readonly plate: Line
  readonly lowest: Point
}

/** Everything of the chair that a side view shows, on the ground, after a raised hole has turned the frame. */
export interface DrawnChair {
  /** S, and the front edges of rail and seat; the hanger hangs at the rail's. */
  readonly seatRear: Point
  readonly seatFront: Point
  readonly railFront: Point
  /** Middle of the sling under the person. */
  readonly seatLow: Point
  readonly cushionTop: Line
  readonly backTop: Point
  /** Where the back upholstery gives most, behind the post. */
  readonly backGives: Point
  readonly handle: Line
  readonly tubes: readonly Line[]
  readonly axle: Point
  readonly rearWheelRadiusMm: number
  readonly pushrimRadiusMm: number
  readonly holes: readonly { readonly key: string; readonly at: Point; readonly chosen: boolean }[]
  readonly casterAxle: Point
  readonly casterRadiusMm: number
  readonly casterStem: Line
  readonly plates: readonly DrawnPlate[]
  /** Pad and post. */
  readonly armrest: { readonly pad: Line; readonly post: Line } | null
  readonly antiTip: { readonly wheel: Point; readonly radiusMm: number; readonly arm: Line } | null
}

export interface SideView {
  readonly chair: DrawnChair
  readonly body: DrawnBody
  readonly massCentre: Point
  readonly rearward: Wedge
  readonly balance: Wedge
  readonly antiTip: Wedge | null
  readonly forward: Wedge
  readonly elbow: DrawnElbow | null
  readonly kneeGap: Measure
  readonly groundClearance: Measure | null
  readonly footToCaster: Measure | null
}

export interface Drawing {
  readonly side: SideView
  readonly rear: RearView
}

/** No measure of a chair: drawn so that a part looks like what it is (project values, mm). They enter no number. */
const PLATE_LENGTH_MM = 190
const HANDLE_LENGTH_MM = 90
const ANTI_TIP_RADIUS_MM = 28
const STEM_MM = 95
const ARM_PAD = { fromMm: 40, lengthMm: 250 } as const

/**
 * Points, lines and angles of one evaluated set-up, mm: x forward from S, z up from the ground. Every length and angle
 * with a number comes from the functions that the fitting is judged by; shapes that carry no number are marked where they
 * are made. `measured` puts the mass centre where two scales found it.
 */
export const drawingOf = (
  sitter: Sitter,
  needs: Needs,
  setUp: ResolvedSetUp,
  evaluation: Evaluation,
  policy: Policy,
  measured?: MeasuredCentre,
): Drawing => {
  const { wheels, axleAngles } = evaluation
  const { model } = setUp
  const chair = chairOf(setUp, evaluation)
  const body = drawnBody(sitter, needs, evaluation, setUp)
  const massCentre = {
    xMm: wheels.axleXMm + (measured?.comAheadOfAxleMm ?? wheels.comAheadMm),
    zMm: wheels.comHeightMm,
  }
  const wedge = (pivot: Point, deg: TipAngle, errorDeg: number, leastDeg: number | null): Wedge => ({
    pivot,
    towards: massCentre.xMm >= pivot.xMm ? 1 : -1,
    deg,
    errorDeg,
    leastDeg,
    radiusMm: Math.hypot(massCentre.xMm - pivot.xMm, massCentre.zMm - pivot.zMm),
  })
  const { errors } = axleAngles
  return {
    side: {
      chair,
      body,
      massCentre,
      rearward: wedge(
        { xMm: wheels.axleXMm, zMm: 0 },
        axleAngles.rearTyrePivotDeg,
        errors.rearTyrePivotDeg,
        needs.least.rearwardDeg,
      ),
      balance: wedge(chair.axle, axleAngles.rearAxlePivotDeg, errors.rearAxlePivotDeg, null),
      antiTip:
        model.antiTip && axleAngles.antiTipDeg !== null
          ? wedge({ xMm: model.antiTip.xMm, zMm: 0 }, axleAngles.antiTipDeg, errors.rearTyrePivotDeg, null)
          : null,
      forward: wedge(
        { xMm: model.casterContactXMm, zMm: 0 },
        axleAngles.forwardDeg,
        errors.forwardDeg,
        needs.least.forwardDeg,
      ),
      elbow: drawnElbow(sitter, setUp, evaluation),
      kneeGap: kneeGapOf(needs, setUp, evaluation),
      groundClearance: groundClearanceOf(chair),
      footToCaster: footToCasterOf(needs, evaluation, sitter.body),
    },
    rear: rearView(sitter, setUp, evaluation, policy, chair.backTop.zMm, body),
  }
}

/** Along the seat line and normal to it, then turned with the frame. */
const onSeat = ({ frame, wheels }: Evaluation) => {
  const pitch = seatPitch(frame.seat)
  return (alongMm: number, normalMm: number): Point =>
    turnAboutCaster(frame.model, wheels.turn, {
      xMm: alongMm * Math.cos(pitch) - normalMm * Math.sin(pitch),
      zMm: frame.seat.rearMm + alongMm * Math.sin(pitch) + normalMm * Math.cos(pitch),
    })
}

const chairOf = (setUp: ResolvedSetUp, evaluation: Evaluation): DrawnChair => {
  const { model } = setUp
  const { frame, wheels } = evaluation
  const { seat } = frame
  const turned = (xMm: number, zMm: number): Point => turnAboutCaster(model, wheels.turn, { xMm, zMm })
  const seatAt = onSeat(evaluation)
  const recline = toRadians(seat.reclineDeg)
  const onBack = (alongMm: number, behindMm = 0): Point =>
    turned(
      -alongMm * Math.sin(recline) - behindMm * Math.cos(recline),
      seat.rearMm + alongMm * Math.cos(recline) - behindMm * Math.sin(recline),
    )
  const axle = { xMm: wheels.axleXMm, zMm: model.rearWheelRadiusMm }
  const holes = model.axlePositions.map(one => ({
    key: one.key,
    at: one.key === setUp.axle.key ? axle : turned(one.xMm, model.rearWheelRadiusMm + one.raiseMm),
    chosen: one.key === setUp.axle.key,
  }))
  const seatRear = seatAt(0, 0)
  const railFront = plateAt(frame, wheels, 0)
  const stemXMm = model.casterContactXMm + model.casterTrailMm
  const stemTop = { xMm: stemXMm, zMm: 2 * model.casterRadiusMm + STEM_MM }
  const [firstHole, lastHole] = [holes[0]?.at ?? axle, holes[holes.length - 1]?.at ?? axle]
  const backTop = onBack(setUp.back.valueMm)
  const low = Math.min(firstHole.zMm, lastHole.zMm)
  return {
    seatRear,
    seatFront: seatAt(setUp.depth.valueMm, 0),
    railFront,
    seatLow: seatAt(setUp.depth.valueMm / 2, -model.seatSagMm),
    cushionTop: [seatAt(-seat.backSagMm, seat.underSeatBonesMm), seatAt(setUp.depth.valueMm, seat.underThighsMm)],
    backTop,
    backGives: onBack(setUp.back.valueMm * 0.45, model.backSagMm),
    handle: [backTop, onBack(setUp.back.valueMm, HANDLE_LENGTH_MM)],
    tubes: [
      [seatRear, railFront],
      [seatRear, { xMm: firstHole.xMm, zMm: low }],
      [
        { xMm: firstHole.xMm, zMm: low },
        { xMm: lastHole.xMm, zMm: low },
      ],
      [{ xMm: lastHole.xMm, zMm: low }, stemTop],
      [stemTop, railFront],
    ],
    axle,
    rearWheelRadiusMm: model.rearWheelRadiusMm,
    pushrimRadiusMm: model.pushrimRadiusMm,
    holes,
    casterAxle: { xMm: model.casterContactXMm, zMm: model.casterRadiusMm },
    casterRadiusMm: model.casterRadiusMm,
    casterStem: [stemTop, { xMm: stemXMm, zMm: 2 * model.casterRadiusMm + 14 }],
    plates: (['left', 'right'] as const).flatMap(side => {
      const lengthMm = side === 'left' ? setUp.footrestLeftMm : setUp.footrestRightMm
      if (lengthMm === null) return []
      const heel = plateAt(frame, wheels, lengthMm)
      return [
        {
          side,
          hanger: [railFront, heel] as Line,
          plate: [heel, { xMm: heel.xMm + PLATE_LENGTH_MM, zMm: heel.zMm }] as Line,
          lowest: plateAt(frame, wheels, lengthMm, model.footplateDropMm),
        },
      ]
    }),
    armrest: setUp.armrestMm === null ? null : armrestAt(seatAt, setUp.armrestMm),
    antiTip: model.antiTip
      ? {
          wheel: { xMm: model.antiTip.xMm, zMm: model.antiTip.clearanceMm + ANTI_TIP_RADIUS_MM },
          radiusMm: ANTI_TIP_RADIUS_MM,
          arm: [
            { xMm: firstHole.xMm, zMm: low },
            { xMm: model.antiTip.xMm, zMm: model.antiTip.clearanceMm + ANTI_TIP_RADIUS_MM },
          ],
        }
      : null,
  }
}

const armrestAt = (seatAt: ReturnType<typeof onSeat>, heightMm: number): NonNullable<DrawnChair['armrest']> => {
  const { fromMm, lengthMm } = ARM_PAD
  const middle = fromMm + lengthMm * 0.6
  return {
    pad: [seatAt(fromMm, heightMm), seatAt(fromMm + lengthMm, heightMm)],
    post: [seatAt(middle, 0), seatAt(middle, heightMm)],
  }
}

/** Front edge of the seat to where the thigh measured ends, both from S: the gap that the depth rule judges. Negative: none. */
const kneeGapOf = (needs: Needs, setUp: ResolvedSetUp, evaluation: Evaluation): Measure => {
  const seatAt = onSeat(evaluation)
  return {
    line: [seatAt(setUp.depth.valueMm, 0), seatAt(needs.depthFromMm, 0)],
    mm: needs.depthFromMm - setUp.depth.valueMm,
  }
}

const groundClearanceOf = (chair: DrawnChair): Measure | null => {
  const lowest = chair.plates.map(one => one.lowest).sort((a, b) => a.zMm - b.zMm)[0]
  return lowest ? { line: [{ xMm: lowest.xMm, zMm: 0 }, lowest], mm: lowest.zMm } : null
}

/** The nearer of two feet on plates; null where no foot comes near the space that the casters swing through. */
const footToCasterOf = (needs: Needs, { frame, wheels }: Evaluation, body: Body): Measure | null => {
  const rooms = (['left', 'right'] as const).flatMap(side => {
    if (needs.foot[side] !== 'plate') return []
    const mm = heelToCasterMm(frame, wheels, side, body.statureMm)
    if (mm === undefined) return []
    const foot = footByCaster(frame, wheels, side, body.statureMm)
    const inFront = foot.heelXMm - foot.swingFrontXMm === mm
    const zMm = frame.model.casterRadiusMm
    const ends: readonly [number, number] = inFront
      ? [foot.swingFrontXMm, foot.heelXMm]
      : [foot.toeXMm, foot.swingRearXMm]
    return [
      {
        mm,
        line: [
          { xMm: ends[0], zMm },
          { xMm: ends[1], zMm },
        ] as Line,
      },
    ]
  })
  return rooms.sort((a, b) => a.mm - b.mm)[0] ?? null
}
