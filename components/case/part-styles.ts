import { css } from 'lit'

/** How the parts of a case look inside: quiet rows, large numbers, the reason below, the action at the end. */
export const partStyles = css`
  :host { display: block; container: part / inline-size; }
  :is(.block, spoke-chosen, spoke-in-the-way) + .block { margin-block-start: var(--space-6); }
  .block > h2, .block > h3 { margin-block-end: var(--space-2); }
  .lead { color: var(--ink-quiet); margin-block-end: var(--space-3); max-inline-size: 42rem; }
  .lines + .block { margin-block-start: var(--space-4); }
  .lines { border-block-start: 1px solid var(--line); }
  .line { border-block-end: 1px solid var(--line); padding-block: var(--space-3); }
  .line:has(> h4 > .opener) { padding-block: 0; }
  .line .head { display: flex; flex-wrap: wrap; gap: 0 var(--space-4); align-items: baseline; justify-content: space-between; }
  .line .head > :first-child { min-inline-size: 0; overflow-wrap: anywhere; }
  .line .head .number { margin-inline-start: auto; text-align: end; overflow-wrap: anywhere; }
  .line .reason { color: var(--ink-quiet); overflow-wrap: anywhere; }
  .line p + p { margin-block-start: var(--space-1); }
  .mark {
    display: inline-block; padding: 0.1rem var(--space-2); border-radius: var(--radius-small);
    font-weight: 700; font-size: var(--text-small); border: 1px solid currentColor;
  }
  .mark.calls { color: var(--warn); background: var(--warn-soft); }
  .mark.bad { color: var(--danger); background: var(--danger-soft); }
  .mark.good { color: var(--accent); background: var(--accent-soft); }
  .mark.still { color: var(--ink-quiet); }
  .actions { display: flex; flex-wrap: wrap; gap: var(--space-2); margin-block-start: var(--space-3); }
  .actions button { flex: 1 1 9rem; }
  .actions button.quiet { flex: 0 1 auto; }
  .form { display: grid; gap: var(--space-4); margin-block-start: var(--space-3); }
  .form > * { min-inline-size: 0; }
  .inner { border-inline-start: 3px solid var(--line); padding-inline-start: var(--space-4); margin-block: var(--space-3); }
  details > summary {
    min-block-size: var(--target); display: flex; align-items: center; gap: var(--space-2); cursor: pointer;
    color: var(--accent); font-weight: 600; list-style: none;
  }
  details > summary::-webkit-details-marker { display: none; }
  details > summary::before { content: '+'; font-weight: 700; inline-size: 1ch; text-align: center; }
  details[open] > summary::before { content: '–'; }
  .opener {
    display: block; inline-size: 100%; text-align: start; border: 0; border-radius: 0; color: var(--ink); font-weight: 400;
    padding: var(--space-3) 0; min-block-size: 4rem;
  }
  .opener:focus-visible { outline-offset: -3px; }
  .opener > span:not(.head) { display: block; }
  .opener .name { font-size: var(--text-number); font-weight: 700; line-height: 1.3; }
  a.go { display: inline-flex; align-items: center; min-block-size: var(--target); }
  .notice > a.go { display: flex; inline-size: fit-content; }
  .notice + :is(p, div, section, details) { margin-block-start: var(--space-4); }
  .notice ul { list-style: none; }
  .notice li + li { margin-block-start: var(--space-2); }
  .notice .target { min-block-size: var(--target); display: inline-flex; align-items: center; color: inherit; }
  .facts { display: grid; gap: var(--space-1) var(--space-4); }
  h4 { margin: 0; font-size: inherit; font-weight: inherit; }
  .answers.tiny { grid-template-columns: repeat(auto-fit, minmax(3.75rem, 1fr)); }
  .answers.tiny .answer { grid-template-columns: auto; justify-items: center; padding: var(--space-1); gap: 0; }
  .answers.tiny .answer input { grid-row: auto; }
  .saved { margin-block: var(--space-3); color: var(--accent); font-weight: 600; }
`
