import { css } from 'lit'

/** One big thing at a time: what to do, the code or the picture, and the one way on. */
export const meetingStyles = css`
  slot { display: block; }
  .wide { inline-size: 100%; }
  .choice .hint { margin-block-start: var(--space-2); }
  .step { color: var(--ink-quiet); font-weight: 600; }
  .frame { inline-size: min(100%, 56dvh); min-inline-size: min(100%, 15rem); aspect-ratio: 1; margin-inline: auto; border-radius: var(--radius); overflow: hidden; }
  .frame.blank { display: grid; place-content: center; padding: var(--space-4); border: 2px dashed var(--line); text-align: center; color: var(--ink-quiet); }
  .code { border: 1px solid var(--line); }
  .code svg { display: block; inline-size: 100%; block-size: 100%; }
  video { display: block; inline-size: 100%; block-size: 100%; object-fit: cover; background: var(--body-fill); }
  summary { min-block-size: var(--target); display: flex; align-items: center; color: var(--accent); font-weight: 600; text-decoration: underline; text-underline-offset: 0.2em; cursor: pointer; }
  details > * + * { margin-block-start: var(--space-3); }
  textarea { min-block-size: 6rem; resize: vertical; overflow-wrap: anywhere; direction: ltr; }
  progress { inline-size: 100%; block-size: 0.75rem; accent-color: var(--accent); }
`
