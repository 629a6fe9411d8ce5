import { css } from 'lit'

export const peopleStyles = css`
  :host { padding-block-end: 6rem; }
  header { padding: var(--space-4) min(var(--space-4), 4vw) var(--space-3); }
  header p { margin-block-start: var(--space-1); }
  .day { display: inline-flex; align-items: center; min-block-size: var(--target); }
  .search { padding: 0 min(var(--space-4), 4vw) var(--space-3); }
  .search input::placeholder { color: var(--ink-quiet); opacity: 1; }
  h1 { overflow-wrap: anywhere; }
  h2 { font-size: var(--text-body); color: var(--ink-quiet); padding: var(--space-5) var(--space-4) var(--space-2); }
  .alarm { margin: var(--space-2) min(var(--space-4), 4vw) 0; }
  .alarm h2 { padding: 0; font-size: var(--text-number); }
  .person { content-visibility: auto; contain-intrinsic-size: auto 5.25rem; border-block-end: 1px solid var(--line); }
  .person a {
    display: grid; grid-template-columns: auto minmax(0, 1fr); gap: 0 var(--space-4); align-items: start;
    padding: var(--space-3) min(var(--space-4), 4vw); min-block-size: var(--target); color: var(--ink); text-decoration: none;
  }
  .person a:focus-visible { outline-offset: -3px; }
  .person a[aria-current] { background: var(--accent-soft); }
  .ring { inline-size: 2.5rem; block-size: 2.5rem; margin-block-start: 0.2rem; }
  .ring circle { fill: none; stroke: var(--line); stroke-width: 5; }
  .ring .done { stroke: var(--accent); }
  .who { font-size: var(--text-number); font-weight: 700; line-height: 1.3; overflow-wrap: anywhere; }
  .what { color: var(--ink-quiet); overflow-wrap: anywhere; }
  .needs-hand .what { color: var(--ink); font-weight: 600; }
  .late .what { color: var(--warn); font-weight: 600; }
  .typed { color: var(--warn); font-weight: 700; font-size: var(--text-small); }
  .where { color: var(--ink-quiet); font-weight: 400; }
  .changed a { animation: changed 2.4s ease-out; }
  @keyframes changed { from { background: var(--accent-soft); } }
  .none, .empty { padding: var(--space-5) var(--space-4); }
  .problem { margin: var(--space-2) var(--space-3); }
  .more { padding: var(--space-4); }
  .new {
    position: sticky; inset-block-end: var(--space-3); display: grid; justify-content: end; padding-inline: min(var(--space-4), 4vw);
    margin-block-start: var(--space-4); pointer-events: none;
  }
  .new a {
    pointer-events: auto; display: grid; place-items: center; min-block-size: 52px; padding-inline: min(var(--space-4), 4vw);
    background: var(--accent); color: var(--on-accent); border-radius: var(--radius); font-weight: 700; text-decoration: none; text-align: center;
    box-shadow: 0 1px 6px rgb(0 0 0 / 0.35);
  }
  @media print { .new, .search { display: none; } }
`
