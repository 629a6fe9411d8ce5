import { css } from 'lit'

/** How the two views are drawn: quiet body, inked chair, one accent. Line widths are px of the screen at every scale. */
export const drawingStyles = css`
  svg { display: block; inline-size: 100%; block-size: auto; overflow: visible; direction: ltr; }
  svg path, svg circle, svg rect, svg line { vector-effect: non-scaling-stroke; fill: none; stroke-linecap: round; stroke-linejoin: round; }
  svg .ground { stroke: var(--ink); stroke-width: 1.5; }
  svg .body { fill: var(--body-fill, #cfd8d3); }
  svg .far { fill: var(--body-fill, #cfd8d3); opacity: 0.55; }
  svg .arm { fill: var(--body-fill, #cfd8d3); stroke: var(--paper, #fbfaf5); stroke-width: 1.5; }
  svg .prosthesis { fill: var(--paper, #fbfaf5); stroke: var(--ink-quiet, #434d4a); stroke-width: 1.5; }
  svg .tube { stroke: var(--ink, #111c1a); stroke-width: 3; }
  svg .post { stroke: var(--ink, #111c1a); stroke-width: 3.5; }
  svg .pad { stroke: var(--ink, #111c1a); stroke-width: 5; }
  svg .stem { stroke: var(--ink, #111c1a); stroke-width: 5.5; }
  svg .plate { stroke: var(--ink, #111c1a); stroke-width: 4.5; }
  svg .thin { stroke-width: 1.75; }
  svg .sling { stroke: var(--ink, #111c1a); stroke-width: 1.75; }
  svg .cushion { fill: var(--accent-soft, #dbeaeb); stroke: var(--accent, #0b535f); stroke-width: 1.75; }
  svg .wheel { stroke: var(--ink, #111c1a); stroke-width: 3.5; }
  svg .wheel.small { stroke-width: 3; }
  svg .rim { stroke: var(--ink-quiet, #434d4a); stroke-width: 1.75; }
  svg .hole { fill: var(--paper, #fbfaf5); stroke: var(--ink, #111c1a); stroke-width: 1.5; }
  svg .hole.chosen { fill: var(--accent, #0b535f); stroke: var(--paper, #fbfaf5); }
  svg .wedge .area { fill: var(--accent, #0b535f); opacity: 0.1; }
  svg .wedge .error { fill: var(--accent, #0b535f); opacity: 0.24; }
  svg .wedge .upright { stroke: var(--ink-quiet, #434d4a); stroke-width: 1; stroke-dasharray: 2 4; }
  svg .wedge .edge { stroke: var(--accent, #0b535f); stroke-width: 1.75; }
  svg .wedge .least { stroke: var(--warn, #6b3a00); stroke-width: 1.5; stroke-dasharray: 7 4; }
  svg .wedge.forward .area { fill: var(--ink-quiet, #434d4a); opacity: 0.08; }
  svg .wedge.forward .edge { stroke: var(--ink-quiet, #434d4a); stroke-width: 1.25; }
  svg .wedge.balance .area { fill: none; }
  svg .wedge.balance .upright, svg .wedge.antiTip .upright { display: none; }
  svg .wedge.balance .edge, svg .wedge.antiTip .edge { stroke: var(--ink-quiet, #434d4a); stroke-width: 1; stroke-dasharray: 1 4; }
  svg .wedge.antiTip .area { fill: none; }
  svg .wedge.broken .area { fill: var(--danger, #84122c); opacity: 0.2; }
  svg .wedge.broken .error { fill: var(--danger, #84122c); opacity: 0.3; }
  svg .wedge.broken .edge { stroke: var(--danger, #84122c); stroke-width: 2.5; }
  svg .elbow .window { stroke: var(--accent, #0b535f); stroke-width: 5; opacity: 0.55; stroke-linecap: butt; }
  svg .elbow .angle { stroke: var(--ink, #111c1a); stroke-width: 1; }
  svg .elbow .links { stroke: var(--ink-quiet, #434d4a); stroke-width: 1.25; }
  svg .elbow .joint { fill: var(--ink-quiet, #434d4a); }
  svg .mass circle { fill: var(--paper, #fbfaf5); stroke: var(--ink, #111c1a); stroke-width: 1.75; }
  svg .mass path { fill: var(--ink, #111c1a); }
  svg .mass.as-built circle { stroke-dasharray: 3 3; }
  svg .mass.as-built path { opacity: 0; }
  svg .measure { stroke: var(--ink, #111c1a); stroke-width: 1.25; }
  svg .measure.broken { stroke: var(--danger, #84122c); stroke-width: 2.5; }
  svg .as-built .line { stroke: var(--ink, #111c1a); stroke-width: 1.75; stroke-dasharray: 6 5; }
  svg .leader { stroke: var(--ink-quiet, #434d4a); stroke-width: 0.75; }
  svg .label { fill: var(--ink, #111c1a); font-weight: 650; font-family: var(--font, sans-serif); font-variant-numeric: tabular-nums;
    paint-order: stroke; stroke: var(--paper, #fbfaf5); stroke-width: 4px; stroke-linejoin: round; }
  svg .label.broken { fill: var(--danger, #84122c); font-weight: 800; }
  svg .grip { fill: transparent; stroke: none; pointer-events: all; cursor: grab; touch-action: none; }
  svg .grip:active { cursor: grabbing; }
  svg .handle { fill: none; stroke: var(--accent, #0b535f); stroke-width: 1.5; }
  @media (forced-colors: active) {
    svg .body, svg .far, svg .arm { fill: Canvas; stroke: CanvasText; stroke-width: 1; opacity: 1; }
    svg .tube, svg .post, svg .wheel, svg .plate { stroke: CanvasText; }
  }
`
