import { css } from 'lit'

/** What is measured now above, all measures as a table of two columns below. */
export const measuringStyles = css`
  .now { outline: none; scroll-margin-block-start: var(--space-3); }
  .now > * + * { margin-block-start: var(--space-4); }
  .saved { display: flex; flex-wrap: wrap; padding-inline: var(--space-3); gap: 0 var(--space-3); align-items: center; padding-block: 0; }
  .saved p { flex: 1 1 7rem; line-height: 1.35; }
  .saved + spoke-landmark { margin-block-start: var(--space-2); }
  .notice.good { border-color: var(--accent); background: var(--accent-soft); }
  .notice button { margin-inline-start: calc(-1 * var(--space-2)); }
  :host { container: measuring / inline-size; }
  .lists { margin-block-start: var(--space-6); display: grid; gap: var(--space-5) var(--space-6); }
  @container measuring (min-inline-size: 44rem) { .lists { grid-template-columns: 1fr 1fr; align-items: start; } }
  /* Below the screen most of the time: neither laid out nor painted while a reading is saved. */
  .all { content-visibility: auto; contain-intrinsic-block-size: auto 40rem; overflow-clip-margin: 8px; }
  .all h3 { margin: 0; font-size: var(--text-body); }
  .all .usual { color: var(--ink-quiet); font-size: var(--text-small); }
  .all ul { margin-block-start: var(--space-3); border-block-start: 1px solid var(--line); }
  .all li { border-block-end: 1px solid var(--line); }
  .all button {
    inline-size: 100%; display: flex; flex-wrap: wrap; gap: 0 var(--space-3); align-items: baseline;
    text-align: start; border: 0; border-radius: 0; padding: var(--space-2) 0; color: var(--ink); font-weight: 400;
    min-block-size: 3.25rem; align-content: center;
  }
  .all .name { flex: 1 1 8rem; min-inline-size: 0; }
  .all .value { text-align: end; }
  .all .differs { font-weight: 700; color: var(--warn); }
  .all .more { flex-basis: 100%; color: var(--ink-quiet); font-size: var(--text-small); }
  .all .more:empty { display: none; }
  .all .doubt { flex-basis: 100%; color: var(--warn); font-weight: 600; }
  .all .typed { color: var(--warn); font-weight: 700; }
  .all [aria-current] { border-inline-start: 4px solid var(--accent); padding-inline-start: var(--space-3); }
  .all [aria-current] .name { font-weight: 700; }
`
