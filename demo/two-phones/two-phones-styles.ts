import { css } from 'lit'

/** Side by side with the line between them where there is room, one below the other where there is not. */
export const twoPhonesStyles = css`
  :host { max-inline-size: 76rem; margin-inline: auto; padding: var(--space-4); }
  header { max-inline-size: 60rem; margin-block-end: var(--space-5); }
  .table { display: grid; gap: var(--space-5); }
  figure { margin: 0; display: grid; gap: var(--space-2); }
  figcaption { font-weight: 700; }
  iframe {
    inline-size: 100%; block-size: min(46rem, 82vh); border: 2px solid var(--ink-quiet);
    border-radius: var(--space-5); background: var(--paper);
  }
  .line { display: grid; gap: var(--space-5); align-content: start; }
  fieldset { border: 0; margin: 0; padding: 0; min-inline-size: 0; }
  legend { font-size: var(--text-title); font-weight: 700; padding: 0; margin-block-end: var(--space-2); }
  label {
    display: grid; grid-template-columns: auto 1fr; column-gap: var(--space-3); align-items: center;
    min-block-size: var(--target); cursor: pointer;
  }
  label b { display: block; }
  .now { border-inline-start: 6px solid var(--accent); padding-inline-start: var(--space-4); }
  .cable { block-size: 4px; margin-block: var(--space-2) var(--space-3); background: var(--accent); }
  .cable.slow { background: repeating-linear-gradient(90deg, var(--accent) 0 10px, transparent 10px 18px); }
  .cable.cut { background: linear-gradient(90deg, var(--ink-quiet) 0 38%, transparent 38% 62%, var(--ink-quiet) 62%); }
  @media (min-width: 60rem) {
    .table { grid-template-columns: minmax(20rem, 26rem) 1fr minmax(20rem, 26rem); }
    .line { padding-block-start: var(--space-5); }
  }
`
