import { css } from 'lit'

/** Values large, side by side where there is room; what each would change below; the ways to end it within the thumb's reach. */
export const differenceStyles = css`
  .options { display: grid; gap: var(--space-3); grid-template-columns: repeat(auto-fit, minmax(min(100%, 9rem), 1fr)); }
  .option { padding: var(--space-3) var(--space-4); background: var(--paper); border: 2px solid var(--line); border-radius: var(--radius); min-inline-size: 0; }
  .option .value { font-size: 2.125rem; line-height: 1.15; font-weight: 700; font-variant-numeric: tabular-nums; overflow-wrap: anywhere; }
  .option .value.long { font-size: var(--text-number); }
  .option .head { margin-block-start: var(--space-2); overflow-wrap: anywhere; }
  .option .head p { color: var(--ink-quiet); }
  .option .head .who { color: var(--ink); font-weight: 600; }
  .option .head .mark { color: var(--warn); margin-block-start: var(--space-1); }
  .notice { margin-block-start: var(--space-4); }
  .notice p + p { margin-block-start: var(--space-1); }
  .ways { display: grid; gap: var(--space-3); margin-block-start: var(--space-4); }
  .settle { display: grid; gap: var(--space-3); margin-block-start: var(--space-4); padding-block-start: var(--space-4); border-block-start: 1px solid var(--line); }
  .settle .actions .main { flex-basis: 100%; }
  .settle .hint { margin-block-end: var(--space-2); }
  .settle:focus { outline: none; }
  details { margin-block-start: var(--space-2); }
  dl { border-block-start: 1px solid var(--line); }
  .change { padding-block: var(--space-2); border-block-end: 1px solid var(--line); }
  .change dt { font-weight: 600; }
  .change dd { font-variant-numeric: tabular-nums; }
  .meanwhile { margin-block-start: var(--space-4); }
  .meanwhile h3 { color: var(--ink-quiet); margin-block-end: var(--space-1); }
  .meanwhile .row { display: flex; flex-wrap: wrap; justify-content: space-between; align-items: baseline; gap: 0 var(--space-4); }
`
