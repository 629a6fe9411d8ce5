import { css } from 'lit'

/** Questions as a page that fills up: the question quiet once it is answered, the answer plain below it. */
export const questionsStyles = css`
  :host { max-inline-size: 46rem; }
  .group + .group { border-block-start: 1px solid var(--line); }
  /* What comes into the opened question must push away what is below it, not what was tapped. */
  .group:not(.open) { overflow-anchor: none; }
  h3 { margin: 0; font: inherit; }
  h3 button {
    inline-size: 100%; display: grid; gap: var(--space-1); text-align: start; border: 0; border-radius: 0;
    padding: var(--space-3) 0; color: var(--ink); font-weight: 400; min-block-size: 3.5rem; align-content: center;
  }
  .ask { font-weight: 700; }
  .open .ask { font-size: var(--text-number); }
  .group:not(.open) .ask:not(:only-child) { color: var(--ink-quiet); font-weight: 400; font-size: var(--text-small); }
  .answer { font-weight: 400; }
  .lacks { color: var(--ink-quiet); }
  .typed { color: var(--warn); font-weight: 700; }
  .saved { color: var(--accent); font-weight: 700; }
`
