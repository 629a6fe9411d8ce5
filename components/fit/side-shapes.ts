import { type SVGTemplateResult, svg } from 'lit'
import type { Point } from '../../src/body/seated-body.ts'
import type { SettingKey } from '../../src/chair/chair-model.ts'
import type { DrawnChair, DrawnPlate, SideView, Wedge } from '../../src/fitting/drawing.ts'
import type { DrawnBody, Limb } from '../../src/fitting/drawn-body.ts'
import { arcPath, at, curvePath, limbPath, linePath, move, polylinePath, sectorPath, towards } from './paths.ts'

const limbs = (all: readonly Limb[], name: string): SVGTemplateResult[] =>
  all.map(one => svg`<path class=${name} d=${limbPath(one)} />`)

const circle = (centre: Point, radiusMm: number, name: string): SVGTemplateResult =>
  svg`<circle class=${name} cx=${centre.xMm} cy=${-centre.zMm} r=${radiusMm} />`

/** The person seen from the right: what lies on the far side first and lighter. */
export const bodyBehind = ({ legs, arms }: DrawnBody): SVGTemplateResult => svg`
  ${arms.filter(one => one.side === 'left').map(one => limbs(one.limbs, 'far'))}
  ${legs.filter(one => one.side === 'left').map(one => [limbs(one.prosthesis, 'prosthesis far'), limbs(one.limbs, 'far')])}`

export const bodyAhead = ({ head, neck, trunk, legs }: DrawnBody): SVGTemplateResult => svg`
  ${limbs([neck, trunk], 'body')}
  ${circle(head.centre, head.radiusMm, 'body')}
  ${legs.filter(one => one.side === 'right').map(one => [limbs(one.prosthesis, 'prosthesis'), limbs(one.limbs, 'body')])}`

export const nearArm = ({ arms }: DrawnBody): SVGTemplateResult =>
  svg`${arms.filter(one => one.side === 'right').map(one => limbs(one.limbs, 'arm'))}`

const cushionPath = (chair: DrawnChair): string => {
  const [rear, front] = chair.cushionTop
  const under = curvePath(chair.seatFront, chair.seatLow, chair.seatRear).replace(/^M/, 'L')
  return `M${at(rear)}L${at(front)}${under}Z`
}

const plateShapes = (plates: readonly DrawnPlate[]): SVGTemplateResult[] =>
  // The far plate shows only where it hangs at another length.
  plates.map(
    (one, index) => svg`
      <path class=${index === plates.length - 1 ? 'tube' : 'tube thin'} d=${linePath(one.hanger)} />
      <path class=${index === plates.length - 1 ? 'plate' : 'plate thin'} d=${linePath(one.plate)} />`,
  )

/** Front fork from stem to wheel, trailing back. */
const forkPath = (chair: DrawnChair): string => polylinePath([chair.casterStem[1], chair.casterAxle])

export const chairBehind = (chair: DrawnChair): SVGTemplateResult => svg`
  <path class="cushion" d=${cushionPath(chair)} />
  <path class="sling" d=${curvePath(chair.seatRear, chair.backGives, chair.backTop)} />`

export const chairAhead = (chair: DrawnChair): SVGTemplateResult => svg`
  ${chair.tubes.map(one => svg`<path class="tube" d=${linePath(one)} />`)}
  <path class="post" d=${polylinePath([chair.seatRear, chair.backTop, chair.handle[1]])} />
  ${
    chair.armrest &&
    svg`<path class="tube thin" d=${linePath(chair.armrest.post)} /><path class="pad" d=${linePath(chair.armrest.pad)} />`
  }
  ${plateShapes(chair.plates)}
  ${
    chair.antiTip &&
    svg`<path class="tube thin" d=${linePath(chair.antiTip.arm)} />${circle(chair.antiTip.wheel, chair.antiTip.radiusMm, 'wheel small')}`
  }
  <path class="stem" d=${linePath(chair.casterStem)} />
  <path class="tube" d=${forkPath(chair)} />
  ${circle(chair.casterAxle, chair.casterRadiusMm, 'wheel small')}
  ${circle(chair.axle, chair.rearWheelRadiusMm, 'wheel')}
  ${chair.pushrimRadiusMm < chair.rearWheelRadiusMm ? circle(chair.axle, chair.pushrimRadiusMm, 'rim') : null}`

/** The parts of the chair as built that stand elsewhere than those recommended, in a second line style. */
export const builtShapes = (
  chair: DrawnChair,
  beside: DrawnChair,
  differs: ReadonlySet<SettingKey>,
): SVGTemplateResult => {
  // Another seat height, or a hole that is raised otherwise, moves the whole frame.
  const frame = differs.has('size') || Math.abs(chair.seatRear.zMm - beside.seatRear.zMm) > 1
  const wheel = frame || differs.has('axle')
  return svg`
    ${wheel ? [circle(chair.axle, chair.rearWheelRadiusMm, 'line'), circle(chair.axle, 7, 'line')] : null}
    ${frame ? chair.tubes.map(one => svg`<path class="line" d=${linePath(one)} />`) : null}
    ${frame || differs.has('cushion') ? svg`<path class="line" d=${linePath(chair.cushionTop)} />` : null}
    ${
      frame || differs.has('backHeight')
        ? svg`<path class="line" d=${polylinePath([chair.seatRear, chair.backTop, chair.handle[1]])} />`
        : null
    }
    ${chair.plates
      .filter(one => frame || differs.has(one.side === 'left' ? 'footrestLeft' : 'footrestRight'))
      .map(one => svg`<path class="line" d=${linePath(one.hanger)} /><path class="line" d=${linePath(one.plate)} />`)}
    ${differs.has('armrest') && chair.armrest ? svg`<path class="line" d=${linePath(chair.armrest.pad)} />` : null}`
}

export const wedgeShapes = (wedge: Wedge, name: string): SVGTemplateResult | null => {
  const { pivot, towards: side, deg, errorDeg, leastDeg, radiusMm } = wedge
  if (typeof deg !== 'number') return null
  const upright = [pivot, move(pivot, 0, radiusMm)] as const
  return svg`
    <g class=${`wedge ${name}`}>
      <path class="area" d=${sectorPath(pivot, 0, side * deg, radiusMm)} />
      ${
        name === 'rearward'
          ? svg`<path class="error" d=${sectorPath(pivot, side * Math.max(0, deg - errorDeg), side * (deg + errorDeg), radiusMm)} />`
          : null
      }
      <path class="upright" d=${linePath(upright)} />
      <path class="edge" d=${linePath([pivot, towards(pivot, side * deg, radiusMm)])} />
      ${
        leastDeg === null
          ? null
          : svg`<path class="least" d=${linePath([pivot, towards(pivot, side * leastDeg, radiusMm)])} />`
      }
    </g>`
}

/** The wanted window on an arc at the elbow, from the upper arm; the forearm points to where the angle lies. */
export const elbowShapes = ({ elbow }: SideView, window: readonly [number, number]): SVGTemplateResult | null => {
  if (!elbow || typeof elbow.deg !== 'number') return null
  const toDeg = (to: Point): number => (Math.atan2(to.xMm - elbow.at.xMm, to.zMm - elbow.at.zMm) * 180) / Math.PI
  const [upper, lower] = [toDeg(elbow.shoulder), toDeg(elbow.grip)]
  const turn = ((lower - upper + 540) % 360) - 180 >= 0 ? 1 : -1
  // The rim lies outside the shoulder: what is drawn is the angle as seen, so the window is drawn as seen too.
  const seen = elbow.seenDeg / elbow.deg
  const radiusMm = 115
  return svg`
    <g class="elbow">
      <path class="window" d=${arcPath(elbow.at, upper + turn * window[0] * seen, upper + turn * window[1] * seen, radiusMm)} />
      <path class="angle" d=${arcPath(elbow.at, upper, upper + turn * elbow.seenDeg, radiusMm)} />
      <path class="links" d=${polylinePath([elbow.shoulder, elbow.at, elbow.grip])} />
      ${circle(elbow.at, 9, 'joint')}
    </g>`
}

/** The quartered circle by which drawings mark a centre of mass. */
export const massMark = (centre: Point, radiusMm: number, name: string): SVGTemplateResult => svg`
  <g class=${`mass ${name}`} transform=${`translate(${at(centre)})`}>
    <circle r=${radiusMm} />
    <path d=${`M0 0V${-radiusMm}A${radiusMm} ${radiusMm} 0 0 1 ${radiusMm} 0ZM0 0V${radiusMm}A${radiusMm} ${radiusMm} 0 0 1 ${-radiusMm} 0Z`} />
  </g>`

/** A line of measure with an end mark across each end. */
export const measureShapes = ([from, to]: readonly [Point, Point], tickMm: number, name: string): SVGTemplateResult => {
  const length = Math.hypot(to.xMm - from.xMm, to.zMm - from.zMm) || 1
  const [dx, dz] = [((to.zMm - from.zMm) / length) * tickMm, (-(to.xMm - from.xMm) / length) * tickMm]
  const tick = (point: Point): string => linePath([move(point, dx, dz), move(point, -dx, -dz)])
  return svg`<path class=${`measure ${name}`} d=${`${linePath([from, to])}${tick(from)}${tick(to)}`} />`
}
