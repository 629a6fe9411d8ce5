import { css } from 'lit'

/** Rows that read like sentences; what cannot be undone stands apart, with everything that it does. */
export const crewStyles = css`
  .page > h2 { margin-block-start: var(--space-6); }
  .member strong { font-size: var(--text-number); overflow-wrap: anywhere; }
  .member.struck strong { font-weight: 400; text-decoration: line-through; }
  .inside > spoke-strike { margin-block-start: var(--space-5); }
  .sure { border-inline-start: 6px solid var(--danger); padding-inline-start: var(--space-4); }
  .sure ul { list-style: disc; padding-inline-start: var(--space-4); }
  .sure li + li { margin-block-start: var(--space-2); }
  button.danger { border-color: var(--danger); color: var(--danger); }
  button.danger.main { background: var(--danger-soft); }
  button.danger:active { background: var(--danger-soft); }
  .entry { padding-block: var(--space-2); border-block-start: 1px solid var(--line); }
  .entry:first-child { border-block-start: 0; }
  .entry .pick + p { padding-inline-start: calc(1.5rem + var(--space-3)); }
  .here { margin-block-start: var(--space-3); }
  .look { display: inline-flex; align-items: center; min-block-size: var(--target); }
  .case + .case { margin-block-start: var(--space-5); }
`
