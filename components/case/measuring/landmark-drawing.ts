import { css, nothing, type SVGTemplateResult, svg } from 'lit'
import type { LandmarkField } from './landmarks.ts'

/**
 * Line drawings of where a tape goes: an invented seated figure at 0.165 px per mm (seat 440 mm above the floor, shoulder
 * 590 mm above the seat). The person faces right, so that their right side is seen; for the left side all is mirrored.
 */
export const drawingStyles = css`
  svg { display: block; inline-size: 100%; block-size: auto; }
  .limb { fill: none; stroke: var(--body-fill); stroke-linecap: round; stroke-linejoin: round; }
  .limb.edge { stroke: var(--sheet); }
  .flesh { fill: var(--body-fill); }
  .sole { fill: var(--ink-quiet); }
  .ground { fill: none; stroke: var(--ink); stroke-width: 2; stroke-linecap: round; }
  .board { fill: none; stroke: var(--ink); stroke-width: 4; stroke-linecap: round; }
  .tape { fill: none; stroke: var(--accent); stroke-width: 4; stroke-linecap: butt; }
  .end { fill: none; stroke: var(--accent); stroke-width: 3; stroke-linecap: round; }
  .lead { fill: none; stroke: var(--accent); stroke-width: 1.5; stroke-dasharray: 3 4; }
  .point { fill: var(--accent); }
`

type Point = readonly [x: number, y: number]

const SEAT = 150
const FLOOR = 223
const BACK = 49
const FOLD = 133

/** A tape from one place to another, a tick across each end. */
const tape = ([x1, y1]: Point, [x2, y2]: Point, tick = 7): SVGTemplateResult => {
  const length = Math.hypot(x2 - x1, y2 - y1)
  const [across, along] = [(-(y2 - y1) / length) * tick, ((x2 - x1) / length) * tick]
  return svg`<path class="tape" d="M${x1} ${y1}L${x2} ${y2}" />
    <path class="end" d="M${x1 - across} ${y1 - along}L${x1 + across} ${y1 + along}M${x2 - across} ${y2 - along}L${x2 + across} ${y2 + along}" />`
}

/** A height from the seat: the tape stands behind the back, a thin line leads to the place on the body. */
const height = ([x, y]: Point): SVGTemplateResult =>
  svg`<path class="lead" d="M28 ${y}H${x}" /><circle class="point" cx=${x} cy=${y} r="4.5" />${tape([28, SEAT], [28, y])}`

const lowerLeg = svg`<path class="limb" stroke-width="19" d="M143 139V206" /><path class="limb" stroke-width="13" d="M142 214H164" />`
const seat = svg`<path class="ground" d="M18 ${SEAT}H126M30 ${SEAT}V${FLOOR}M116 ${SEAT}V${FLOOR}" />`
const floor = svg`<path class="ground" d="M8 ${FLOOR}H200" />`
const trunk = svg`<circle class="flesh" cx="73" cy="22" r="15" />
  <path class="limb" stroke-width="11" d="M70 36V46" />
  <path class="limb" stroke-width="31" d="M66 134L66 62" />
  <path class="limb" stroke-width="26" d="M63 137H141" />`
/** The arm, with a paper edge so that it is seen before the trunk. */
const arm = svg`<path class="limb edge" stroke-width="17" d="M67 59V106H110" />
  <path class="limb" stroke-width="12" d="M67 59V106H110" /><circle class="flesh" cx="115" cy="105" r="8" />`

const sitting = (withArm = true): SVGTemplateResult => svg`${floor}${seat}${trunk}${lowerLeg}${withArm ? arm : nothing}`

const fromFront = svg`<path class="ground" d="M20 ${FLOOR}H220M62 ${SEAT + 2}H178M70 ${SEAT + 2}V${FLOOR}M170 ${SEAT + 2}V${FLOOR}" />
  <circle class="flesh" cx="120" cy="22" r="16" />
  <path class="limb" stroke-width="12" d="M120 38V48" />
  <path class="flesh" d="M90 60Q91 51 101 49Q120 45 139 49Q149 51 150 60L151 122H89Z" />
  <path class="limb" stroke-width="13" d="M95 61L79 105L89 133M145 61L161 105L151 133" />
  <path class="flesh" d="M86 116H154Q160 133 154 150H86Q80 133 86 116Z" />
  <path class="limb" stroke-width="20" d="M101 140V204M139 140V204" />
  <path class="limb" stroke-width="13" d="M99 216H103M137 216H141" />`

const lying = (leg: SVGTemplateResult): SVGTemplateResult => svg`<path class="ground" d="M8 172H232" />
  <circle class="flesh" cx="28" cy="154" r="14" /><path class="limb" stroke-width="27" d="M56 157H108" />${leg}`
const straightLegs = svg`<path class="limb" stroke-width="21" d="M108 159H212" /><path class="limb" stroke-width="12" d="M216 160V140" />`

const shoe = svg`<path class="limb" stroke-width="54" d="M96 20V120" />
  <path class="flesh" d="M66 110H124Q150 128 196 140Q216 146 216 164V176H66Z" />
  <path class="sole" d="M62 178H220V206H62Z" /><path class="ground" d="M8 208H232" />`

/** An angle at a joint, from where it is counted to where the limb stops. */
const angle = (joint: Point, from: Point, to: Point, arc: string): SVGTemplateResult =>
  svg`<path class="lead" d="M${joint[0]} ${joint[1]}L${from[0]} ${from[1]}" />
    <path class="end" d="M${joint[0]} ${joint[1]}L${to[0]} ${to[1]}" /><path class="tape" d=${arc} />`

const kneeRaised = svg`${floor}${seat}${trunk}
  <path class="limb" stroke-width="19" d="M143 138L194 186" /><path class="limb" stroke-width="13" d="M198 191L213 175" />${arm}
  ${angle([143, 138], [143, 212], [197, 188], 'M143 190A52 52 0 0 0 181 173')}`
const hipRaised = svg`${lying(svg`${straightLegs}<path class="limb" stroke-width="21" d="M108 157L150 96" /><path class="limb" stroke-width="16" d="M151 94L196 108" />`)}
  ${angle([108, 157], [206, 157], [152, 93], 'M160 157A52 52 0 0 0 138 114')}`

const onScale = svg`<path class="ground" d="M8 ${FLOOR + 12}H220" />
  <path class="ground" d="M22 ${FLOOR}H184V${FLOOR + 10}H22Z" />${seat}${trunk}${lowerLeg}${arm}
  <path class="end" d="M206 ${FLOOR + 10}V150M192 118H220V150H192Z" /><path class="tape" d="M198 134H214" />`

const DRAWINGS: Readonly<Record<LandmarkField, SVGTemplateResult>> = {
  hipWidthMm: svg`${fromFront}<path class="board" d="M81 108V146M159 108V146" />${tape([83, 132], [157, 132])}`,
  thighDepthLeftMm: thigh(),
  thighDepthRightMm: thigh(),
  calfLengthLeftMm: calf(),
  calfLengthRightMm: calf(),
  ribHeightMm: svg`${sitting(false)}${height([62, 104])}`,
  scapulaHeightMm: svg`${sitting()}${height([52, 81])}`,
  axillaHeightMm: svg`${sitting()}${height([58, 70])}`,
  shoulderHeightMm: svg`${sitting()}${height([64, 52])}`,
  elbowHeightMm: svg`${sitting()}${height([64, 113])}`,
  massKg: onScale,
  statureMm: svg`${lying(straightLegs)}<path class="board" d="M12 120V172M224 120V172" />${tape([14, 122], [222, 122])}`,
  shoeSoleMm: svg`${shoe}${tape([38, 206], [38, 178], 12)}<path class="lead" d="M38 178H62" />`,
  upperArmMm: svg`${sitting()}${tape([67, 51], [67, 113])}`,
  forearmGripMm: svg`${sitting()}${tape([59, 106], [116, 106])}`,
  biacromialMm: svg`${fromFront}${tape([90, 56], [150, 56], 9)}`,
  hipFlexionLeftDeg: hipRaised,
  hipFlexionRightDeg: hipRaised,
  kneeExtensionLeftDeg: kneeRaised,
  kneeExtensionRightDeg: kneeRaised,
}

function thigh(): SVGTemplateResult {
  return svg`${sitting()}<path class="board" d="M${BACK - 2} 44V${SEAT}" />${tape([BACK, 139], [FOLD, 139], 11)}`
}

function calf(): SVGTemplateResult {
  return svg`${sitting()}${tape([FOLD - 1, SEAT], [FOLD - 1, FLOOR])}`
}

/** Where the tape goes for one measure. Says nothing that the words beside it do not say. */
export const landmarkDrawing = (field: LandmarkField): SVGTemplateResult => {
  const drawing = DRAWINGS[field]
  return field.includes('Left') ? svg`<g transform="matrix(-1 0 0 1 240 0)">${drawing}</g>` : drawing
}
