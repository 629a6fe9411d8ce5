import { css } from 'lit'

/** Rules of the page itself: they hold for the whole document and cannot stand in an element. On while paper is shown. */
export const PAGE_RULES = `
@page { size: A4; margin: 14mm 15mm 15mm; }
@media print { html, body { background: white; } }
`

/** A sheet: black on white, on screen as on paper; nothing that belongs together is torn apart by the end of a page. */
export const sheetStyles = css`
  :host { display: block; container: sheet / inline-size; background: var(--paper); color: var(--ink); }
  .sheet { max-inline-size: 190mm; margin-inline: auto; padding: var(--space-5) var(--space-4); overflow-wrap: anywhere; }
  .top { display: flex; flex-wrap: wrap; justify-content: space-between; align-items: end; gap: var(--space-1) var(--space-5); padding-block-end: var(--space-3); border-block-end: 2px solid var(--ink); }
  .top > * { min-inline-size: 0; }
  .kind { color: var(--ink-quiet); }
  h1 { font-size: 1.75em; }
  h2 { font-size: 1.2em; margin-block: 1.4em 0.4em; break-after: avoid; }
  h3 { font-size: 1em; margin-block: 0.9em 0.2em; break-after: avoid; }
  h2 + h3 { margin-block-start: 0.3em; }
  p { orphans: 3; widows: 3; }
  .whole, li, .row { break-inside: avoid; }
  .figure { font-weight: 700; font-variant-numeric: tabular-nums; }
  .blank { display: inline-block; inline-size: 9em; max-inline-size: 100%; border-block-end: 1px solid var(--ink); min-block-size: 1.3em; }
  .ticks > li { display: grid; grid-template-columns: 1.5em minmax(0, 1fr); gap: 0 0.5em; padding-block: 0.45em; border-block-end: 1px solid var(--line); }
  .ticks.half { columns: 2 15rem; column-gap: 2em; }
  .box { inline-size: 1.1em; block-size: 1.1em; border: 1.5px solid var(--ink); margin-block-start: 0.15em; font-weight: 700; line-height: 1; display: grid; place-items: center; }
  .strong { font-weight: 700; }
  .small { font-size: 0.88em; }
  .quiet { color: var(--ink-quiet); }
  .rows { border-block-start: 1px solid var(--line); }
  .row { display: grid; grid-template-columns: minmax(9em, 2fr) minmax(0, 5fr); gap: 0 1em; padding-block: 0.25em; border-block-end: 1px solid var(--line); }
  .rows.half { columns: 2 17rem; column-gap: 2em; }
  .half > * { break-inside: avoid; }
  .two { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 16rem), 1fr)); gap: 0 2em; align-items: start; }
  .two > * { break-inside: avoid; }
  .row.three { grid-template-columns: minmax(9em, 2fr) minmax(0, 2fr) minmax(0, 2fr); align-items: baseline; }
  .said { display: none; }
  .rows + p { margin-block-start: 0.5em; }
  .row dd { text-align: -webkit-match-parent; text-align: match-parent; }
  .row dt { color: var(--ink-quiet); }
  .top + ul { margin-block-start: 0.8em; }
  .foot { break-inside: avoid; break-before: avoid; margin-block-start: 1.6em; padding-block-start: 0.5em; border-block-start: 2px solid var(--ink); }
  .foot p + p { margin-block-start: 0.3em; }
  .framed { border: 2px solid var(--ink); border-radius: var(--radius-small); padding: 0.6em 0.9em; margin-block: 0.8em; break-inside: avoid; }
  .framed h2 { margin-block-start: 0; }
  @container sheet (max-inline-size: 30rem) {
    .row, .row.three { grid-template-columns: minmax(0, 1fr); }
    .row dd { font-weight: 600; }
    .heads { display: none; }
    .said { display: inline; font-weight: 400; color: var(--ink-quiet); }
  }
  @media print {
    .sheet { padding: 0; max-inline-size: none; font-size: 10pt; line-height: 1.32; }
    .ticks > li { padding-block: 0.3em; }
    .foot { margin-block-start: 0.9em; }
    h2 { margin-block-start: 1.1em; }
    h1 { font-size: 18pt; }
  }
`
