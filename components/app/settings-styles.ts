import { css } from 'lit'

/** Rows that say how something stands, and open under the finger. */
export const settingsStyles = css`
  .row { border-block-start: 1px solid var(--line); }
  .page > .row { margin-block-start: 0; }
  .page > .row:first-of-type { margin-block-start: var(--space-5); }
  .page > .go + .row { margin-block-start: 0; }
  summary, .go {
    display: grid; grid-template-columns: minmax(0, 1fr) auto; gap: 0 var(--space-3); align-items: center;
    padding-block: var(--space-3); min-block-size: var(--target); cursor: pointer; list-style: none;
  }
  summary::-webkit-details-marker { display: none; }
  .go { text-decoration: none; color: inherit; }
  .go::after {
    content: ''; grid-area: 1 / 2 / 3; inline-size: 0.6rem; block-size: 0.6rem; border: solid var(--ink-quiet); border-width: 3px 3px 0 0;
    rotate: 45deg; margin-inline-end: var(--space-2);
  }
  .go:dir(rtl)::after { rotate: -135deg; }
  .go strong { font-size: var(--text-number); }
  summary h2 { font-size: var(--text-number); }
  summary::after {
    content: ''; grid-area: 1 / 2 / 3; inline-size: 0.6rem; block-size: 0.6rem; border: solid var(--ink-quiet); border-width: 0 3px 3px 0;
    rotate: 45deg; margin-inline-end: var(--space-2); translate: 0 -25%;
  }
  [open] > summary::after { rotate: 225deg; translate: 0 25%; }
  .result { grid-column: 1; color: var(--ink-quiet); }
  .inside { padding-block: var(--space-2) var(--space-5); }
`
