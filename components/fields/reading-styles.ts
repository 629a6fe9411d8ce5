import { css } from 'lit'

/** The reading large, its unit as a switch beside it, keys that a glove hits. */
export const readingStyles = css`
  .line { display: flex; flex-wrap: wrap; gap: var(--space-2); align-items: stretch; }
  .entry { flex: 1 1 9rem; min-inline-size: 0; }
  .entry input { block-size: 100%; min-block-size: 56px; font-size: var(--text-large); }
  .weighing { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 8.5rem), 1fr)); gap: var(--space-3); align-items: end; }
  .weighed .label { font-size: var(--text-small); font-weight: 400; }
  .weighed input { min-block-size: 56px; font-size: var(--text-large); }
  .weighed.now input { border-color: var(--accent); box-shadow: inset 0 -4px 0 var(--accent); }
  .sum { margin-block-start: var(--space-2); align-items: center; }
  .sum .own { flex: 1 1 9rem; margin: 0; }
  .own { min-block-size: 1.5em; margin-block-start: var(--space-2); font-weight: 600; font-variant-numeric: tabular-nums; }
  .units { display: flex; flex: 0 1 auto; }
  .units label { flex: 1 1 0; min-inline-size: 48px; }
  .units label, .methods label { position: relative; display: grid; cursor: pointer; }
  .units input, .methods input { position: absolute; inset: 0; inline-size: 100%; block-size: 100%; margin: 0; opacity: 0; cursor: pointer; }
  .units span, .methods span {
    display: grid; place-items: center; min-inline-size: 48px; min-block-size: 56px; padding-inline: 6px;
    border: 2px solid var(--line); background: var(--sheet);
  }
  .units label + label span { border-inline-start-width: 0; }
  .units label:first-of-type span { border-start-start-radius: var(--radius); border-end-start-radius: var(--radius); }
  .units label:last-of-type span { border-start-end-radius: var(--radius); border-end-end-radius: var(--radius); }
  .units input:checked + span, .methods input:checked + span {
    background: var(--accent-soft); border-color: var(--accent); font-weight: 700;
    box-shadow: inset 0 -4px 0 var(--accent);
  }
  .units input:focus-visible + span, .methods input:focus-visible + span { outline: 3px solid var(--accent); outline-offset: 2px; z-index: 1; }
  .line > .unit { align-self: center; }
  .methods { display: flex; flex-wrap: wrap; gap: var(--space-2); margin-block-start: var(--space-3); }
  .methods span { min-block-size: var(--target); padding-inline: var(--space-3); border-radius: var(--radius); }
  .methods .hint { flex-basis: 100%; }
  .pad { display: grid; grid-template-columns: repeat(3, 1fr); gap: var(--space-2); margin-block-start: var(--space-3); }
  .pad button {
    min-block-size: 52px; padding: 0; font-size: var(--text-title); font-weight: 600; color: var(--ink);
    border-color: var(--line); background: var(--sheet); font-variant-numeric: tabular-nums; touch-action: manipulation;
  }
  .pad button:active { background: var(--accent-soft); border-color: var(--accent); }
`
