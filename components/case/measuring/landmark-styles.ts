import { css } from 'lit'

/** Drawing and how on one side, reading and keys on the other; one above the other on a phone. */
export const landmarkStyles = css`
  :host { container: landmark / inline-size; }
  h3 { margin: 0; font-size: var(--text-title); line-height: 1.25; grid-column: 1 / -1; }
  h4 { margin: 0; font-size: var(--text-small); color: var(--ink-quiet); font-weight: 400; }
  .landmark { display: grid; gap: var(--space-3); }
  .place { display: grid; grid-template-columns: minmax(7.5rem, 2fr) 3fr; gap: var(--space-2) var(--space-4); align-items: center; }
  .figure { background: var(--sheet); max-inline-size: 22rem; }
  .taking > * + *, .review > * + * { margin-block-start: var(--space-3); }
  /* Under the thumb, also where the words above are long. */
  [slot='enter'] { position: sticky; inset-block-end: var(--space-2); z-index: 1; margin-block-start: var(--space-3); min-block-size: 56px; }
  .review { outline: none; }
  .review button { inline-size: 100%; }
  .review button.quiet { inline-size: auto; }
  .review .typed { font-size: var(--text-large); font-weight: 700; font-variant-numeric: tabular-nums; }
  .earlier li { padding-block: var(--space-1); }
  .earlier .number { margin-inline-end: var(--space-2); }
  @container landmark (max-inline-size: 16rem) { .place { grid-template-columns: 1fr; } }
  @container landmark (min-inline-size: 38rem) {
    .landmark { grid-template-columns: 1fr minmax(18rem, 24rem); align-items: start; gap: var(--space-5); }
    .place { grid-template-columns: 1fr; }
    .place .how { font-size: var(--text-number); line-height: 1.4; }
  }
`
