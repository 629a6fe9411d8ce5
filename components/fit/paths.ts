import type { Point } from '../../src/body/seated-body.ts'
import type { Line } from '../../src/fitting/drawing.ts'
import type { Limb } from '../../src/fitting/drawn-body.ts'

/** Paths of the drawing in mm, z up turned to y down. A tenth of a millimetre is far below a pixel. */
const mm = (value: number): string => (Math.round(value * 10) / 10).toString()
export const at = (point: Point): string => `${mm(point.xMm)} ${mm(-point.zMm)}`
export const move = (point: Point, xMm: number, zMm: number): Point => ({
  xMm: point.xMm + xMm,
  zMm: point.zMm + zMm,
})

export const linePath = ([from, to]: Line): string => `M${at(from)}L${at(to)}`
export const polylinePath = (points: readonly Point[]): string => points.map(at).join('L').replace(/^/, 'M')
/** From, through a control point that pulls the line, to. */
export const curvePath = (from: Point, through: Point, to: Point): string => {
  // A quadratic curve passes its middle at a quarter from, half control, a quarter to.
  const control = {
    xMm: 2 * through.xMm - (from.xMm + to.xMm) / 2,
    zMm: 2 * through.zMm - (from.zMm + to.zMm) / 2,
  }
  return `M${at(from)}Q${at(control)} ${at(to)}`
}

/** From a pivot, `deg` from the vertical, forward positive. */
export const towards = (pivot: Point, deg: number, radiusMm: number): Point => {
  const angle = (deg * Math.PI) / 180
  return move(pivot, radiusMm * Math.sin(angle), radiusMm * Math.cos(angle))
}

/** The sector of a circle between two directions from the vertical. */
export const sectorPath = (pivot: Point, fromDeg: number, toDeg: number, radiusMm: number): string => {
  const [from, to] = [towards(pivot, fromDeg, radiusMm), towards(pivot, toDeg, radiusMm)]
  return `M${at(pivot)}L${at(from)}A${mm(radiusMm)} ${mm(radiusMm)} 0 0 ${toDeg > fromDeg ? 1 : 0} ${at(to)}Z`
}

export const arcPath = (centre: Point, fromDeg: number, toDeg: number, radiusMm: number): string => {
  const [from, to] = [towards(centre, fromDeg, radiusMm), towards(centre, toDeg, radiusMm)]
  const large = Math.abs(toDeg - fromDeg) > 180 ? 1 : 0
  return `M${at(from)}A${mm(radiusMm)} ${mm(radiusMm)} 0 ${large} ${toDeg > fromDeg ? 1 : 0} ${at(to)}`
}

/** The hull of two circles: their outer tangents and the far arcs. One circle inside the other: the greater. */
export const limbPath = ({ from, to, fromRadiusMm: r1, toRadiusMm: r2 }: Limb): string => {
  const [dx, dy] = [to.xMm - from.xMm, -(to.zMm - from.zMm)]
  const d = Math.hypot(dx, dy)
  if (d <= Math.abs(r1 - r2)) {
    const [centre, r] = r1 >= r2 ? [from, r1] : [to, r2]
    return `M${at(move(centre, -r, 0))}a${mm(r)} ${mm(r)} 0 1 1 ${mm(2 * r)} 0a${mm(r)} ${mm(r)} 0 1 1 ${mm(-2 * r)} 0Z`
  }
  const direction = Math.atan2(dy, dx)
  const spread = Math.acos((r1 - r2) / d)
  const on = (centre: Point, r: number, angle: number): string =>
    `${mm(centre.xMm + r * Math.cos(angle))} ${mm(-centre.zMm + r * Math.sin(angle))}`
  const [one, other] = [direction - spread, direction + spread]
  const wide = (share: boolean): number => (share ? 1 : 0)
  return (
    `M${on(from, r1, one)}L${on(to, r2, one)}` +
    `A${mm(r2)} ${mm(r2)} 0 ${wide(spread > Math.PI / 2)} 1 ${on(to, r2, other)}` +
    `L${on(from, r1, other)}A${mm(r1)} ${mm(r1)} 0 ${wide(spread < Math.PI / 2)} 1 ${on(from, r1, one)}Z`
  )
}
