import { css } from 'lit'

/** The case as a page of a notebook: one column on a phone; on wide screens the parts on one side, the open one beside. */
export const caseStyles = css`
  :host { container: case / inline-size; }
  .page { max-inline-size: 82rem; margin-inline: auto; }
  h1 { overflow-wrap: anywhere; hyphens: auto; }
  header { padding: var(--space-5) var(--space-4) var(--space-3); }
  header p { color: var(--ink-quiet); margin-block-start: var(--space-1); }
  header p.other { color: var(--ink); }
  .other::before { content: ''; display: inline-block; inline-size: 0.6em; block-size: 0.6em; margin-inline-end: 0.4em; border-radius: 50%; background: var(--accent); }
  .waits { margin-block-end: var(--space-4); padding-inline: var(--space-4); }
  .waits h2 { font-size: var(--text-body); }
  .waits li { margin-block-start: var(--space-2); }
  .waits a { color: inherit; display: inline-block; padding-block: var(--space-2); }
  .next { padding: 0 var(--space-4) var(--space-5); }
  .next button { text-align: start; display: grid; gap: var(--space-1); padding: var(--space-3) var(--space-4); }
  .next .word { font-size: var(--text-small); font-weight: 400; }
  .next .what { font-size: var(--text-number); line-height: 1.3; }
  .rows { border-block-start: 1px solid var(--line); }
  .row { border-block-end: 1px solid var(--line); }
  /* What comes into the opened part must push away what is below it, not what was tapped. */
  .row:not(.open) { overflow-anchor: none; content-visibility: auto; contain-intrinsic-block-size: auto 4.25rem; }
  .row > h2 { display: flex; font: inherit; }
  .row > h2 > button {
    inline-size: 100%; display: flex; flex-wrap: wrap; gap: 0 var(--space-3); align-items: baseline; align-content: center;
    text-align: start; border: 0; border-radius: 0; color: var(--ink); font-weight: 400;
    padding: var(--space-3) var(--space-4); min-block-size: 4.25rem;
  }
  .row > h2 > button:hover { background: var(--sheet); }
  .row > h2 > button:focus-visible { outline-offset: -3px; }
  .row .name { color: var(--ink-quiet); font-size: var(--text-small); flex: 1 1 auto; min-inline-size: 0; hyphens: auto; overflow-wrap: anywhere; }
  .row .left { color: var(--ink-quiet); font-size: var(--text-small); }
  .row .left.done { color: var(--accent); font-weight: 700; }
  .papers { padding: var(--space-3) var(--space-4) var(--space-5); }
  .papers a { display: inline-flex; align-items: center; min-block-size: var(--target); }
  .row .result { flex-basis: 100%; }
  .row .calls { font-weight: 700; }
  .row .warn { color: var(--warn); }
  .row .danger { color: var(--danger); }
  .row .typed { flex-basis: 100%; color: var(--warn); font-weight: 700; font-size: var(--text-small); }
  .row.open > h2 > button { background: var(--sheet); box-shadow: inset 4px 0 0 var(--accent); }
  .row .news { flex-basis: 100%; color: var(--accent); font-weight: 700; animation: came-in 2.4s ease-out; }
  @keyframes came-in { from { background: var(--accent-soft); box-shadow: 0 0 0 0.4em var(--accent-soft); } }
  .row.open .name { color: var(--accent); font-weight: 700; font-size: var(--text-title); }
  .inside { padding: var(--space-2) var(--space-4) var(--space-6); background: var(--sheet); }
  .inside:focus { outline: none; }
  :host(:dir(rtl)) .row.open > h2 > button { box-shadow: inset -4px 0 0 var(--accent); }
  .state { padding: var(--space-5) var(--space-4); }

  @container case (min-inline-size: 56rem) {
    .page.split { display: grid; grid-template-columns: minmax(20rem, 26rem) 1fr; align-items: start; }
    .page.split > :first-child { position: sticky; inset-block-start: 0; max-block-size: 100dvh; overflow-y: auto; }
    .page.split > .inside { padding: var(--space-5); border-inline-start: 1px solid var(--line); min-block-size: 100dvh; }
    .inside > .title { font-size: var(--text-title); font-weight: 700; margin-block-end: var(--space-4); }
  }
`
