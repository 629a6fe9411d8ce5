import { css } from 'lit'

export const doorStyles = css`
  .door { max-inline-size: 34rem; margin-inline: auto; padding: var(--space-6) var(--space-4); inline-size: 100%; }
  .door > * + * { margin-block-start: var(--space-4); }
  .wheel { inline-size: 6rem; block-size: 6rem; display: block; }
  .wheel circle, .wheel path { fill: none; stroke: var(--accent); }
  .tagline { font-size: var(--text-number); line-height: 1.35; }
  .choice > p { color: var(--ink-quiet); margin-block-start: var(--space-1); }
  .choice + .choice { margin-block-start: var(--space-5); }
  .choice button:not(.main) { inline-size: 100%; }
`
