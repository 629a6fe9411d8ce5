import { css } from 'lit'

/**
 * A value that the last move changed marks itself for a moment. Two names of one motion, so that changing again starts it
 * again. Without motion the mark stays until the next move.
 */
export const movedStyles = css`
  @keyframes changed-even { from { background: var(--accent-soft); box-shadow: 0 0 0 4px var(--accent-soft); } to { background: transparent; box-shadow: none; } }
  @keyframes changed-odd { from { background: var(--accent-soft); box-shadow: 0 0 0 4px var(--accent-soft); } to { background: transparent; box-shadow: none; } }
  .changed-0 { animation: changed-even 1.6s ease-out; }
  .changed-1 { animation: changed-odd 1.6s ease-out; }
  @media (prefers-reduced-motion: reduce) {
    .changed-0, .changed-1 { background: var(--accent-soft); box-shadow: 0 0 0 4px var(--accent-soft); }
  }
`
