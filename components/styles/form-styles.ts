import { css } from 'lit'

/** Forms outside a case: one question under the other, the words of an error beside what they are about. */
export const formStyles = css`
  .page { max-inline-size: 38rem; margin-inline: auto; padding: var(--space-4) min(var(--space-4), 4vw); padding-block-end: var(--space-6); overflow-wrap: anywhere; }
  .page button { max-inline-size: 100%; }
  .page > * + * { margin-block-start: var(--space-4); }
  .question label, legend { display: block; font-weight: 600; margin-block-end: var(--space-1); padding: 0; }
  .hint { font-size: var(--text-small); color: var(--ink-quiet); margin-block-end: var(--space-1); }
  fieldset { border: 0; margin: 0; padding: 0; min-inline-size: 0; }
  .pick { display: flex; gap: var(--space-3); align-items: center; min-block-size: var(--target); }
  .pick input { flex: none; }
  .question .pick label { font-weight: 400; margin: 0; flex: 1; min-block-size: var(--target); display: flex; align-items: center; }
  .question p.error { margin-block-start: var(--space-1); }
  .error::before { content: '! '; }
  [aria-invalid='true'] { border-color: var(--danger); }
  .pair { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(14rem, 100%), 1fr)); gap: var(--space-4); }
  .actions { display: flex; flex-wrap: wrap; gap: var(--space-3); align-items: center; }
  .block { border-block-start: 1px solid var(--line); padding-block-start: var(--space-4); }
`
