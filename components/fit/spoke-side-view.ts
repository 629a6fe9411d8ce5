import { html, LitElement, type PropertyValues, type SVGTemplateResult, svg } from 'lit'
import type { Point } from '../../src/body/seated-body.ts'
import type { SettingKey } from '../../src/chair/chair-model.ts'
import type { SideView } from '../../src/fitting/drawing.ts'
import type { HardRule } from '../../src/fitting/rules.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { base } from '../styles/tokens.ts'
import { drawingStyles } from './drawing-styles.ts'
import { labelShapes } from './label-shapes.ts'
import { linePath } from './paths.ts'
import { placeLabels } from './place-labels.ts'
import { RoomController } from './room-controller.ts'
import { MARKED_BY, type SettingMoved, settingMoved } from './setting-moved.ts'
import { keptFree, sideWishes, type ToScreen } from './side-labels.ts'
import {
  bodyAhead,
  bodyBehind,
  builtShapes,
  chairAhead,
  chairBehind,
  elbowShapes,
  massMark,
  measureShapes,
  nearArm,
  wedgeShapes,
} from './side-shapes.ts'

/** What the drawing shows of the world, mm. Kept while a person moves a setting, so that the drawing does not jump. */
export interface Extent {
  readonly leftMm: number
  readonly rightMm: number
  readonly topMm: number
  readonly bottomMm: number
}

/** Room for every hole and plate, the head and the labels under the ground line. */
export const extentOf = (view: SideView): Extent => {
  const { chair, body } = view
  const toes = body.legs.flatMap(leg => [...leg.limbs, ...leg.prosthesis].map(one => one.to.xMm + one.toRadiusMm))
  // The axle can move to the rearmost hole; beside the wheel as it is there is room for words.
  const rear = Math.min(
    ...chair.holes.map(one => one.at.xMm - chair.rearWheelRadiusMm - 12),
    chair.axle.xMm - chair.rearWheelRadiusMm - 95,
    chair.handle[1].xMm - 95,
    chair.antiTip ? chair.antiTip.wheel.xMm - chair.antiTip.radiusMm - 12 : Number.POSITIVE_INFINITY,
    view.elbow ? view.elbow.at.xMm - 185 : Number.POSITIVE_INFINITY,
  )
  const front = Math.max(
    ...toes,
    ...chair.plates.map(one => one.plate[1].xMm),
    chair.casterAxle.xMm + chair.casterRadiusMm + 40,
  )
  return {
    leftMm: rear,
    rightMm: front + 40,
    topMm: body.head.centre.zMm + body.head.radiusMm + 30,
    bottomMm: -130,
  }
}

/** The nearest plate can be dragged along its hanger, the axle from hole to hole; the controls beside do the same by key and tap. */
export class SpokeSideView extends LitElement {
  static override styles = [base, drawingStyles]

  static override properties = {
    view: { attribute: false },
    extent: { attribute: false },
    built: { attribute: false },
    differs: { attribute: false },
    broken: { attribute: false },
    footrestSteps: { attribute: false },
    elbowWindow: { attribute: false },
    rearShare: { attribute: false },
    heading: { attribute: false },
    description: { attribute: false },
    still: { type: Boolean },
  }

  declare view: SideView | undefined
  declare extent: Extent | undefined
  declare built: SideView | undefined
  declare differs: ReadonlySet<SettingKey>
  declare broken: HardRule | undefined
  /** Hanger lengths that the chair offers, least first. */
  declare footrestSteps: readonly number[]
  declare elbowWindow: readonly [number, number]
  declare rearShare: number
  declare heading: string
  declare description: string
  /** Shown, not moved: on paper, beside a difference. */
  declare still: boolean

  readonly #room = new RoomController(this)
  #dragging: SettingMoved['setting'] | undefined

  constructor() {
    super()
    new SpeechController(this)
    this.differs = new Set()
    this.footrestSteps = []
    this.elbowWindow = [100, 120]
    this.rearShare = 0
    this.heading = ''
    this.description = ''
    this.still = false
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('view') && this.view && !this.extent) this.extent = extentOf(this.view)
  }

  readonly #handleDown = (event: PointerEvent): void => {
    const grip = event.currentTarget as SVGElement
    this.#dragging = grip.dataset.setting as SettingMoved['setting']
    grip.setPointerCapture(event.pointerId)
    event.preventDefault()
  }

  readonly #handleMove = (event: PointerEvent): void => {
    const { view } = this
    if (!view || !this.#dragging) return
    const point = this.#pointOf(event)
    if (!point) return
    if (this.#dragging === 'axle') this.#moveAxle(view, point)
    else this.#moveFootrest(view, point)
  }

  readonly #handleUp = (): void => {
    this.#dragging = undefined
  }

  #moveAxle(view: SideView, point: Point): void {
    const [nearest] = [...view.chair.holes].sort(
      (a, b) =>
        Math.hypot(a.at.xMm - point.xMm, a.at.zMm - point.zMm) - Math.hypot(b.at.xMm - point.xMm, b.at.zMm - point.zMm),
    )
    if (nearest && !nearest.chosen) this.dispatchEvent(settingMoved({ setting: 'axle', value: nearest.key }))
  }

  #moveFootrest(view: SideView, point: Point): void {
    const plate = view.chair.plates[view.chair.plates.length - 1]
    if (!plate) return
    const [from, to] = plate.hanger
    const lengthMm = Math.hypot(to.xMm - from.xMm, to.zMm - from.zMm)
    const along =
      ((point.xMm - from.xMm) * (to.xMm - from.xMm) + (point.zMm - from.zMm) * (to.zMm - from.zMm)) / lengthMm
    const [nearest] = [...this.footrestSteps].sort((a, b) => Math.abs(a - along) - Math.abs(b - along))
    if (nearest !== undefined && Math.abs(nearest - lengthMm) > 1)
      this.dispatchEvent(settingMoved({ setting: 'footrests', value: nearest }))
  }

  #pointOf(event: PointerEvent): Point | undefined {
    const inverse = this.renderRoot.querySelector('svg')?.getScreenCTM()?.inverse()
    if (!inverse) return undefined
    const { x, y } = new DOMPoint(event.clientX, event.clientY).matrixTransform(inverse)
    return { xMm: x, zMm: -y }
  }

  #grip(setting: SettingMoved['setting'], at: Point, radiusMm: number): SVGTemplateResult {
    return svg`<circle class="grip" data-setting=${setting} cx=${at.xMm} cy=${-at.zMm} r=${radiusMm}
      @pointerdown=${this.#handleDown} @pointermove=${this.#handleMove}
      @pointerup=${this.#handleUp} @pointercancel=${this.#handleUp} />`
  }

  protected override render() {
    const { view, extent } = this
    if (!view || !extent) return html``
    const [widthMm, heightMm] = [extent.rightMm - extent.leftMm, extent.topMm - extent.bottomMm]
    const screen: ToScreen = {
      pxPerMm: (this.#room.widthPx || 360) / widthMm,
      leftMm: extent.leftMm,
      topMm: extent.topMm,
    }
    const px = 1 / screen.pxPerMm
    const marked = new Set(this.broken ? MARKED_BY[this.broken] : [])
    const name = (key: string): string => (marked.has(key) ? `${key} broken` : key)
    const plate = view.chair.plates[view.chair.plates.length - 1]
    return html`<svg
      role="img"
      aria-labelledby="title description"
      viewBox=${`${extent.leftMm} ${-extent.topMm} ${widthMm} ${heightMm}`}
    >
      <title id="title">${this.heading}</title>
      <desc id="description">${this.description}</desc>
      <g aria-hidden="true">
        ${bodyBehind(view.body)} ${chairBehind(view.chair)} ${bodyAhead(view.body)}
        ${wedgeShapes(view.forward, name('forward'))} ${wedgeShapes(view.balance, 'balance')}
        ${view.antiTip && wedgeShapes(view.antiTip, 'antiTip')} ${wedgeShapes(view.rearward, name('rearward'))}
        <path class="ground" d=${linePath([
          { xMm: extent.leftMm, zMm: 0 },
          { xMm: extent.rightMm, zMm: 0 },
        ])} />
        ${chairAhead(view.chair)} ${nearArm(view.body)} ${elbowShapes(view, this.elbowWindow)}
        ${this.built && svg`<g class="as-built">${builtShapes(this.built.chair, view.chair, this.differs)}</g>`}
        ${view.chair.holes.map(
          one =>
            svg`<circle class=${one.chosen ? 'hole chosen' : 'hole'} cx=${one.at.xMm} cy=${-one.at.zMm} r=${(one.chosen ? 6.5 : 4) * px} />`,
        )}
        ${measureShapes(view.kneeGap.line, 5 * px, 'gap')}
        ${view.groundClearance && measureShapes(view.groundClearance.line, 5 * px, name('clearance'))}
        ${view.footToCaster && measureShapes(view.footToCaster.line, 5 * px, 'heel')}
        ${this.built && this.differs.size > 0 ? massMark(this.built.massCentre, 8 * px, 'as-built') : null}
        ${massMark(view.massCentre, 10 * px, '')} ${this.#labels(view, extent, screen, marked)}
        ${
          this.still
            ? null
            : [
                this.#grip('axle', view.chair.axle, Math.max(24 * px, 60)),
                plate && this.#grip('footrests', plate.plate[0], Math.max(24 * px, 50)),
              ]
        }
      </g>
    </svg>`
  }

  #labels(view: SideView, extent: Extent, screen: ToScreen, marked: ReadonlySet<string>): SVGTemplateResult | null {
    if (!this.#room.hasRoomForWords) return null
    const placed = placeLabels(sideWishes(view, this.rearShare, screen), this.#room.sizeOf, keptFree(view, screen), {
      left: 0,
      top: 0,
      right: (extent.rightMm - extent.leftMm) * screen.pxPerMm,
      bottom: (extent.topMm - extent.bottomMm) * screen.pxPerMm,
    })
    return labelShapes(placed, screen, this.#room.fontPx, marked)
  }
}

customElements.define('spoke-side-view', SpokeSideView)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-side-view': SpokeSideView
  }
}
