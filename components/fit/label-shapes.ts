import { type SVGTemplateResult, svg } from 'lit'
import { leaderOf, type PlacedLabel } from './place-labels.ts'
import type { ToScreen } from './side-labels.ts'

const leader = ({ box, anchor }: PlacedLabel): SVGTemplateResult | null => {
  const line = leaderOf(box, anchor)
  return line ? svg`<path class="leader" d=${`M${line[0].x} ${line[0].y}L${line[1].x} ${line[1].y}`} />` : null
}

/** Labels at the size of the screen over a drawing in mm. */
export const labelShapes = (
  labels: readonly PlacedLabel[],
  { pxPerMm, leftMm, topMm }: ToScreen,
  fontPx: number,
  marked: ReadonlySet<string>,
): SVGTemplateResult => svg`
  <g class="labels" transform=${`translate(${leftMm} ${-topMm}) scale(${1 / pxPerMm})`} font-size=${fontPx}>
    ${labels.map(leader)}
    ${labels.map(
      ({ key, text, box }) => svg`
        <text class=${marked.has(key) ? 'label broken' : 'label'} data-key=${key} x=${box.x} y=${box.y + fontPx * 0.35}
          text-anchor="middle">${text}</text>`,
    )}
  </g>`
