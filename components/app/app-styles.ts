import { css } from 'lit'

/** The frame: pages under each other on a phone with the tabs at the thumb; list and case side by side where there is room. */
export const appStyles = css`
  /* Nothing outside the frame: what is placed in a pane scrolls with it and never makes the page itself longer. */
  :host { position: relative; overflow: clip; block-size: 100dvh; container: app / size; background: var(--paper); }
  .frame { block-size: 100%; display: grid; grid-template-rows: auto minmax(0, 1fr) auto; }
  .strips:empty { display: none; }
  /* Said row by row: strips that are not there must not move the others up. */
  main { grid-row: 2; }
  nav { grid-row: 3; }
  .strip {
    display: flex; flex-wrap: wrap; align-items: center; justify-content: space-between; gap: 0 var(--space-1);
    padding-block: 0; padding-inline: var(--space-4) var(--space-2); background: var(--warn-soft); color: var(--warn); font-size: var(--text-small);
    border-block-end: 1px solid var(--line);
  }
  .strip.news { background: var(--accent-soft); color: var(--ink); }
  .strip button.quiet { color: inherit; min-block-size: var(--target); margin-inline-start: auto; }
  @media (max-width: 599px) { .strip .wide { display: none; } }
  main { min-block-size: 0; display: grid; grid-template-columns: minmax(0, 1fr); position: relative; }
  .pane, .door { position: relative; }
  .pane { min-inline-size: 0; overflow: auto; overscroll-behavior: contain; scroll-padding-block: var(--space-5); }
  .pane:focus { outline: none; }
  .door { overflow: auto; display: grid; align-content: start; }
  nav { background: var(--sheet); border-block-start: 1px solid var(--line); padding-block-end: env(safe-area-inset-bottom); }
  nav ul { display: flex; flex-wrap: wrap; }
  nav li { flex: 1 1 auto; }
  nav a {
    display: grid; place-items: center; min-block-size: 56px; padding: var(--space-2) var(--space-1);
    border-block-start: 4px solid transparent; margin-block-start: -1px;
    color: var(--ink-quiet); text-decoration: none; font-weight: 500;
  }
  nav a[aria-current='page'] { border-color: var(--accent); color: var(--accent); font-weight: 700; }
  nav a:focus-visible { outline-offset: -3px; }
  .waiting { align-content: start; padding: var(--space-6) var(--space-4); max-inline-size: 32rem; margin-inline: auto; inline-size: 100%; }
  .blank { padding: var(--space-6) var(--space-5); color: var(--ink-quiet); }
  .blank.choose { block-size: 100%; display: grid; place-content: center; }
  progress { inline-size: 100%; block-size: var(--space-3); accent-color: var(--accent); }

  @media (max-width: 999px) {
    .pane.aside { display: none; }
  }
  @media (min-width: 1000px) {
    .frame { grid-template-rows: auto auto minmax(0, 1fr); }
    nav { grid-row: 1; border-block: 0 1px solid var(--line); border-block-start: 0; border-block-end: 1px solid var(--line); padding-inline: var(--space-4); }
    nav ul { gap: var(--space-2); }
    nav li { flex: 0 0 auto; }
    nav a { border-block-start: 0; border-block-end: 4px solid transparent; margin: 0 0 -1px; min-block-size: 52px; padding-inline: var(--space-3); }
    .strips { grid-row: 2; }
    main { grid-row: 3; }
    main.open { grid-template-columns: minmax(22rem, 27rem) minmax(0, 1fr); }
    .pane.list { border-inline-end: 1px solid var(--line); }
  }
  /* Five tabs in one row, in every language, on the narrowest phone. */
  @container app (max-inline-size: 24rem) {
    nav a { font-size: var(--text-small); }
  }
  /* Large letters on a small screen, or a phone held sideways: everything scrolls, the tabs stand before it. */
  @container app (max-inline-size: 17rem) or (max-block-size: 26rem) {
    .frame { position: relative; display: flex; flex-direction: column; overflow: auto; }
    .frame > * { flex: none; }
    main, main.open { display: block; }
    .pane { overflow: visible; }
    nav { order: -1; border-block: 0; border-block-end: 1px solid var(--line); }
    nav a { min-block-size: var(--target); padding-block: 0; }
  }
  @media print {
    :host { container-type: normal; block-size: auto; overflow: visible; background: none; }
    .frame { display: block; block-size: auto; }
    nav, .pane.list, .strip.news, .strip button { display: none; }
    main, main.open { display: block; }
    .pane { overflow: visible; }
  }
`
