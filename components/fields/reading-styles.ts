import { css } from 'lit'

/** The reading large, its unit as a switch beside it, keys that a glove hits. */
export const readingStyles = css`
  .line { display: flex; flex-wrap: wrap; gap: var(--space-2); align-items: stretch; }
  .entry { position: relative; flex: 1 1 9rem; min-inline-size: 0; }
  .entry input { block-size: 100%; min-block-size: 56px; font-size: var(--text-large); padding-inline-end: 7.5rem; }
  .entry .own {
    position: absolute; inset-inline-end: var(--space-3); inset-block: 0; display: grid; align-items: center;
    pointer-events: none; font-variant-numeric: tabular-nums;
  }
  .units { display: flex; }
  .units label, .methods label { position: relative; display: grid; cursor: pointer; }
  .units input, .methods input { position: absolute; inset: 0; inline-size: 100%; block-size: 100%; margin: 0; opacity: 0; cursor: pointer; }
  .units span, .methods span {
    display: grid; place-items: center; min-inline-size: 3.25rem; min-block-size: 56px; padding-inline: var(--space-2);
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
    min-block-size: 56px; padding: 0; font-size: var(--text-title); font-weight: 600; color: var(--ink);
    border-color: var(--line); background: var(--sheet); font-variant-numeric: tabular-nums; touch-action: manipulation;
  }
  .pad button:active { background: var(--accent-soft); border-color: var(--accent); }
`
