import { css } from 'lit'

export const doorStyles = css`
  .door { max-inline-size: 34rem; margin-inline: auto; padding: var(--space-5) min(var(--space-4), 4vw) var(--space-6); inline-size: 100%; overflow-wrap: anywhere; }
  .door > * + * { margin-block-start: var(--space-4); }
  .top { display: flex; flex-wrap: wrap; align-items: center; justify-content: space-between; gap: var(--space-3); }
  .top spoke-language { flex: 0 1 11rem; }
  .wheel { inline-size: 6rem; block-size: 6rem; display: block; }
  .wheel circle, .wheel path { fill: none; stroke: var(--accent); }
  .tagline { font-size: var(--text-number); line-height: 1.35; }
  .choice > p { color: var(--ink-quiet); margin-block-start: var(--space-1); }
  .here { color: var(--ink-quiet); border-block-start: 1px solid var(--line); padding-block-start: var(--space-4); }
  summary { min-block-size: var(--target); display: flex; align-items: center; color: var(--accent); font-weight: 600; text-decoration: underline; text-underline-offset: 0.2em; cursor: pointer; }
  section.block > * + * { margin-block-start: var(--space-4); }
  .choice + .choice { margin-block-start: var(--space-5); }
  .choice button:not(.main) { inline-size: 100%; }
`
