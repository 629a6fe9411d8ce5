import { css } from 'lit'

/** What all fields share: a label above, answers as large surfaces with the native control inside, words below. */
export const fieldStyles = css`
  :host { display: block; }
  fieldset { border: 0; margin: 0; padding: 0; min-inline-size: 0; }
  legend, .label { display: block; padding: 0; font-weight: 600; margin-block-end: var(--space-2); }
  .answers { display: grid; gap: var(--space-2); grid-template-columns: repeat(auto-fit, minmax(min(100%, 9.5rem), 1fr)); }
  .answers.hinted { grid-template-columns: repeat(auto-fit, minmax(min(100%, 15rem), 1fr)); }
  .answer {
    display: grid; grid-template-columns: 1.5rem 1fr; gap: 0 var(--space-3); align-items: center; align-content: center;
    min-block-size: var(--target); padding: var(--space-2) var(--space-3); cursor: pointer;
    background: var(--sheet); border: 2px solid var(--line); border-radius: var(--radius);
  }
  .answer input { margin: 0; grid-row: 1; }
  .answer .hint { grid-column: 2; }
  .answer:has(input:checked) { border-color: var(--accent); background: var(--accent-soft); }
  .answer:has(input:checked) .name { font-weight: 700; }
  .answer:has(input:focus-visible) { outline: 3px solid var(--accent); outline-offset: 2px; }
  .answer input:focus-visible { outline: none; }
  .hint { font-size: var(--text-small); color: var(--ink-quiet); }
  .error { margin-block-start: var(--space-2); }
  .below { margin-block-start: var(--space-2); }
`
