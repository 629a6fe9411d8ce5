import { html, type SVGTemplateResult, svg, type TemplateResult } from 'lit'
import type { Point } from '../../src/body/seated-body.ts'
import type { SideView } from '../../src/fitting/drawing.ts'
import { linePath } from '../fit/paths.ts'
import { bodyAhead, bodyBehind, chairAhead, chairBehind, nearArm } from '../fit/side-shapes.ts'
import { extentOf } from '../fit/spoke-side-view.ts'
import { currentSpeech, t } from '../text/text.ts'

/** Parts that the sheet says something about, in the order of its list. */
export const MARKED_PARTS = ['back', 'seat', 'footrests', 'wheels', 'tyres', 'armrests'] as const
export type MarkedPart = (typeof MARKED_PARTS)[number]

const MARK_RADIUS_MM = 42
/** How far a mark stands off its part, so that the part stays to be seen. */
const OFF_MM = 110

const between = (a: Point, b: Point, share: number): Point => ({
  xMm: a.xMm + (b.xMm - a.xMm) * share,
  zMm: a.zMm + (b.zMm - a.zMm) * share,
})
const moved = (point: Point, xMm: number, zMm: number): Point => ({ xMm: point.xMm + xMm, zMm: point.zMm + zMm })

interface Place {
  readonly at: Point
  readonly mark: Point
}

/** Where each part is, and where its number stands beside it. */
const placeOf = (part: MarkedPart, { chair }: SideView): Place | undefined => {
  switch (part) {
    case 'back':
      return { at: chair.backTop, mark: moved(chair.backTop, -OFF_MM - 30, 40) }
    case 'seat': {
      const at = between(chair.cushionTop[0], chair.cushionTop[1], 0.62)
      return { at, mark: moved(at, 0, -OFF_MM - 10) }
    }
    case 'footrests': {
      const plate = chair.plates[chair.plates.length - 1]
      if (!plate) return undefined
      const at = between(plate.plate[0], plate.plate[1], 0.6)
      return { at, mark: moved(at, OFF_MM * 0.6, -OFF_MM * 0.75) }
    }
    case 'wheels':
      return { at: chair.axle, mark: moved(chair.axle, -OFF_MM * 0.95, -OFF_MM * 0.4) }
    case 'tyres': {
      const at = moved(chair.axle, -chair.rearWheelRadiusMm * 0.77, -chair.rearWheelRadiusMm * 0.64)
      return { at, mark: moved(at, -OFF_MM * 0.8, -20) }
    }
    case 'armrests':
      return chair.armrest
        ? { at: chair.armrest.pad[1], mark: moved(chair.armrest.pad[1], OFF_MM * 0.9, OFF_MM * 0.5) }
        : undefined
  }
}

const markShape = ({ at, mark }: Place, number: string): SVGTemplateResult => svg`
  <path class="leader" d=${linePath([at, mark])} />
  <circle class="spot" cx=${at.xMm} cy=${-at.zMm} r="9" />
  <circle class="mark" cx=${mark.xMm} cy=${-mark.zMm} r=${MARK_RADIUS_MM} />
  <text class="mark-number" x=${mark.xMm} y=${-mark.zMm + 19} text-anchor="middle" font-size="54">${number}</text>`

/** The person in the chair, to scale, with a number at each part that the list beside it names; no words in the picture. */
export const markedPicture = (view: SideView, parts: readonly MarkedPart[]): TemplateResult => {
  const extent = extentOf(view)
  const leftMm = extent.leftMm - 110
  const [widthMm, heightMm] = [extent.rightMm + 60 - leftMm, extent.topMm - extent.bottomMm]
  return html`<svg class="picture" role="img" aria-label=${t('given.picture')} viewBox=${`${leftMm} ${-extent.topMm} ${widthMm} ${heightMm}`}>
    ${bodyBehind(view.body)} ${chairBehind(view.chair)} ${bodyAhead(view.body)}
    ${svg`<path class="ground" d=${linePath([
      { xMm: leftMm, zMm: 0 },
      { xMm: leftMm + widthMm, zMm: 0 },
    ])} />`}
    ${chairAhead(view.chair)} ${nearArm(view.body)}
    ${parts.map((part, index) => {
      const place = placeOf(part, view)
      return place ? markShape(place, currentSpeech().number(index + 1)) : null
    })}
  </svg>`
}
