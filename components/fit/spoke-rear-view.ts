import { css, html, LitElement, nothing, type SVGTemplateResult, svg } from 'lit'
import type { Point } from '../../src/body/seated-body.ts'
import type { RearView, SideTip } from '../../src/fitting/drawn-rear.ts'
import type { HardRule } from '../../src/fitting/rules.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { base } from '../styles/tokens.ts'
import { currentSpeech, t } from '../text/text.ts'
import { drawingStyles } from './drawing-styles.ts'
import { labelShapes } from './label-shapes.ts'
import { at, limbPath, linePath, sectorPath, towards } from './paths.ts'
import { type LabelWish, placeLabels } from './place-labels.ts'
import { RoomController } from './room-controller.ts'
import { MARKED_BY } from './setting-moved.ts'
import { onScreen, type ToScreen, tipWords } from './side-labels.ts'
import { massMark, measureShapes } from './side-shapes.ts'

/** Width of tyre and rim tube on the drawing, mm: no measure of a chair, shown only. */
const TYRE_MM = 34
const RIM_MM = 14

/** Person and chair from behind: the left side is on the left. */
export class SpokeRearView extends LitElement {
  static override styles = [
    base,
    drawingStyles,
    css`
      svg .tyre { fill: var(--ink, #111c1a); }
      svg .pushrim { fill: var(--ink-quiet, #434d4a); }
      svg .back { fill: var(--paper, #fbfaf5); fill-opacity: 0.55; stroke: var(--ink, #111c1a); stroke-width: 3; }
      svg .door { stroke: var(--warn, #6b3a00); stroke-width: 2; stroke-dasharray: 10 5; }
      svg .door.broken { stroke: var(--danger, #84122c); stroke-width: 4; stroke-dasharray: none; }
    `,
  ]

  static override properties = {
    view: { attribute: false },
    broken: { attribute: false },
    heading: { attribute: false },
    description: { attribute: false },
  }

  declare view: RearView | undefined
  declare broken: HardRule | undefined
  declare heading: string
  declare description: string

  readonly #room = new RoomController(this)

  constructor() {
    super()
    new SpeechController(this)
    this.heading = ''
    this.description = ''
  }

  protected override render() {
    const { view } = this
    if (!view) return nothing
    const half = Math.max(view.widthWithHandsMm, view.doorMm ?? 0) / 2 + 70
    const topMm = view.shoulderZMm + 3.1 * view.headRadiusMm
    const bottomMm = view.doorMm === null ? -130 : -230
    const screen: ToScreen = { pxPerMm: (this.#room.widthPx || 300) / (2 * half), leftMm: -half, topMm }
    const px = 1 / screen.pxPerMm
    const marked = new Set(this.broken ? MARKED_BY[this.broken] : [])
    return html`<svg role="img" aria-labelledby="title description" viewBox=${`${-half} ${-topMm} ${2 * half} ${topMm - bottomMm}`}>
      <title id="title">${this.heading}</title>
      <desc id="description">${this.description}</desc>
      <g aria-hidden="true">
        ${this.#person(view)} ${this.#wedge(view, view.left, 1, marked)} ${this.#wedge(view, view.right, -1, marked)}
        <path class="ground" d=${linePath([
          { xMm: -half, zMm: 0 },
          { xMm: half, zMm: 0 },
        ])} />
        ${this.#chair(view)} ${this.#measures(view, px, marked)}
        ${massMark({ xMm: -view.massCentre.yMm, zMm: view.massCentre.zMm }, 10 * px, '')}
        ${this.#labels(view, screen, marked)}
      </g>
    </svg>`
  }

  #person(view: RearView): SVGTemplateResult {
    const { shoulderZMm, hipZMm, headRadiusMm: head } = view
    const point = (xMm: number, zMm: number) => ({ xMm, zMm })
    const limb = (from: Point, to: Point, fromRadiusMm: number, toRadiusMm: number): string =>
      limbPath({ from, to, fromRadiusMm, toRadiusMm })
    const shoulder = view.shoulderWidthMm / 2 - 0.5 * head
    const hipRadiusMm = Math.min(view.hipWidthMm / 2, Math.max(0.6 * head, hipZMm - view.cushionZMm))
    const hip = view.hipWidthMm / 2 - hipRadiusMm
    const grip = point(view.chairWidthMm / 2, view.rearWheelRadiusMm + view.pushrimRadiusMm)
    const arm = (side: 1 | -1): SVGTemplateResult => {
      const top = point(side * (shoulder + 0.3 * head), shoulderZMm)
      const elbow = point(side * (grip.xMm * 0.55 + top.xMm * side * 0.45 + 0.5 * head), (top.zMm + grip.zMm) / 2)
      return svg`<path class="arm" d=${limb(elbow, point(side * grip.xMm, grip.zMm), 0.34 * head, 0.26 * head)} />
        <path class="arm" d=${limb(top, elbow, 0.45 * head, 0.36 * head)} />`
    }
    const trunk = `M${[
      point(-shoulder, shoulderZMm + 0.5 * head),
      point(-0.45 * head, shoulderZMm + 0.95 * head),
      point(0.45 * head, shoulderZMm + 0.95 * head),
      point(shoulder, shoulderZMm + 0.5 * head),
      point(shoulder + 0.5 * head, shoulderZMm),
      point(hip + hipRadiusMm, hipZMm),
      point(-hip - hipRadiusMm, hipZMm),
      point(-shoulder - 0.5 * head, shoulderZMm),
    ]
      .map(at)
      .join('L')}Z`
    return svg`
      <path class="body" d=${limb(point(0, shoulderZMm + 1.75 * head), point(0, shoulderZMm + 2.1 * head), 0.8 * head, 0.8 * head)} />
      <path class="body" d=${limb(point(0, shoulderZMm), point(0, shoulderZMm + 1.2 * head), 0.45 * head, 0.45 * head)} />
      <path class="body" d=${limb(point(-shoulder, shoulderZMm), point(shoulder, shoulderZMm), 0.5 * head, 0.5 * head)} />
      <path class="body" d=${trunk} />
      <path class="body" d=${limb(point(-hip, hipZMm), point(hip, hipZMm), hipRadiusMm, hipRadiusMm)} />
      ${view.armsOnRims.left ? arm(-1) : null}${view.armsOnRims.right ? arm(1) : null}`
  }

  #chair(view: RearView): SVGTemplateResult {
    const { seatWidthMm, seatZMm, rearTrackMm, rearWheelRadiusMm: r, chairWidthMm } = view
    const seat = seatWidthMm / 2
    const wheel = (side: 1 | -1): SVGTemplateResult => {
      const x = (side * rearTrackMm) / 2
      const rim = side * (chairWidthMm / 2 - RIM_MM / 2)
      return svg`
        <rect class="tyre" x=${x - TYRE_MM / 2} y=${-2 * r} width=${TYRE_MM} height=${2 * r} rx=${TYRE_MM / 2} />
        <rect class="pushrim" x=${rim - RIM_MM / 2} y=${-r - view.pushrimRadiusMm} width=${RIM_MM} height=${2 * view.pushrimRadiusMm} rx=${RIM_MM / 2} />
        <path class="tube" d=${linePath([
          { xMm: side * seat, zMm: r },
          { xMm: rim, zMm: r },
        ])} />
        <path class="post" d=${linePath([
          { xMm: side * seat, zMm: r },
          { xMm: side * seat, zMm: view.backTopZMm },
        ])} />`
    }
    const backTop = view.backTopZMm
    return svg`
      <rect class="cushion" x=${-seat} y=${-view.cushionZMm} width=${seatWidthMm} height=${Math.max(4, view.cushionZMm - seatZMm)} rx="6" />
      <path class="back" d=${`M${at({ xMm: -seat, zMm: backTop })}L${at({ xMm: seat, zMm: backTop })}L${at({ xMm: seat, zMm: seatZMm + 90 })}L${at({ xMm: -seat, zMm: seatZMm + 90 })}Z`} />
      <path class="tube" d=${linePath([
        { xMm: -seat, zMm: seatZMm },
        { xMm: seat, zMm: seatZMm },
      ])} />
      ${wheel(1)}${wheel(-1)}`
  }

  /** Side 1 is the person's left, on the left of the picture. */
  #wedge(view: RearView, tip: SideTip, side: 1 | -1, marked: ReadonlySet<string>) {
    if (typeof tip.deg !== 'number') return nothing
    const pivot = { xMm: -tip.yMm, zMm: 0 }
    const radiusMm = Math.hypot(tip.yMm - view.massCentre.yMm, view.massCentre.zMm)
    const deg = side * tip.deg
    return svg`<g class=${marked.has('sideways') ? 'wedge sideways broken' : 'wedge sideways'}>
      <path class="area" d=${sectorPath(pivot, 0, deg, radiusMm)} />
      <path class="upright" d=${linePath([pivot, towards(pivot, 0, radiusMm)])} />
      <path class="edge" d=${linePath([pivot, towards(pivot, deg, radiusMm)])} />
    </g>`
  }

  #measures(view: RearView, px: number, marked: ReadonlySet<string>) {
    const across = (mm: number, zMm: number, name: string): SVGTemplateResult =>
      measureShapes(
        [
          { xMm: -mm / 2, zMm },
          { xMm: mm / 2, zMm },
        ],
        5 * px,
        name,
      )
    const door = (side: 1 | -1, doorMm: number): SVGTemplateResult => svg`<path
      class=${marked.has('door') ? 'door broken' : 'door'}
      d=${linePath([
        { xMm: (side * doorMm) / 2, zMm: 0 },
        { xMm: (side * doorMm) / 2, zMm: view.shoulderZMm },
      ])} />`
    return [
      across(view.widthWithHandsMm, -40, marked.has('door') ? 'broken' : ''),
      across(view.seatWidthMm, view.seatZMm - 55, marked.has('width') ? 'broken' : ''),
      view.doorMm === null ? nothing : [door(1, view.doorMm), door(-1, view.doorMm), across(view.doorMm, -140, '')],
    ]
  }

  #labels(view: RearView, screen: ToScreen, marked: ReadonlySet<string>) {
    if (!this.#room.hasRoomForWords) return nothing
    const wish = (key: string, text: string, xMm: number, zMm: number, places: LabelWish['places']): LabelWish => ({
      key,
      text,
      anchor: onScreen(screen, { xMm, zMm }),
      places,
    })
    const below = [14, 20].map(y => ({ x: 0, y }))
    const inside = [0, 16, -16, 32, -32].map(y => ({ x: 0, y }))
    const aside = (edge: 'start' | 'end') =>
      [0, 16, -16, 32].flatMap(y => [6, 0, -10].map(x => ({ x: edge === 'start' ? x : -x, y, edge })))
    const top = view.massCentre.zMm
    // Beside the wheels of a small chair: outside tyre and rim, never on them.
    const isBesideWheel = top < 2 * view.rearWheelRadiusMm + this.#room.fontPx / screen.pxPerMm
    const outsideMm = Math.max(view.chairWidthMm, view.rearTrackMm + TYRE_MM) / 2
    const sideways = ({ yMm }: SideTip): number =>
      isBesideWheel ? -Math.sign(yMm) * Math.max(Math.abs(yMm), outsideMm) : -yMm
    const mm = (value: number): string => currentSpeech().number(value, 0)
    const angle = (tip: SideTip): string =>
      typeof tip.deg === 'number' ? t('fit.degrees', { value: currentSpeech().number(tip.deg, 0) }) : tipWords(tip.deg)
    const wishes = [
      wish('door', t('fit.labelHands', { length: mm(view.widthWithHandsMm) }), 0, -40, below),
      ...(view.doorMm === null
        ? []
        : [wish('doorway', t('fit.labelDoor', { length: mm(view.doorMm) }), 0, -140, below)]),
      wish('width', t('fit.labelSeat', { length: mm(view.seatWidthMm) }), 0, view.seatZMm - 55, below),
      wish('sidewaysLeft', angle(view.left), sideways(view.left), top, aside('end')),
      wish('sidewaysRight', angle(view.right), sideways(view.right), top, aside('start')),
      wish(
        'hips',
        t('fit.labelHips', { length: mm(view.hipWidthMm) }),
        0,
        (view.cushionZMm + view.backTopZMm) / 2,
        inside,
      ),
    ]
    const mass = onScreen(screen, { xMm: -view.massCentre.yMm, zMm: view.massCentre.zMm })
    const placed = placeLabels(
      wishes,
      this.#room.sizeOf,
      { boxes: [{ ...mass, width: 26, height: 26 }], strokes: [], rings: [] },
      {
        left: 0,
        top: 0,
        right: this.#room.widthPx,
        bottom: Number.POSITIVE_INFINITY,
      },
    )
    return labelShapes(placed, screen, this.#room.fontPx, marked)
  }
}

customElements.define('spoke-rear-view', SpokeRearView)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-rear-view': SpokeRearView
  }
}
