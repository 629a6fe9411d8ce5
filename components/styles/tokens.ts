import { type CSSResult, css, unsafeCSS } from 'lit'

/**
 * All colour, type and space of the app. Warm paper, dark ink, one deep accent; colour is spent on what needs a hand.
 * Every pair that text is set in is contrast-tested (tests/components/contrast): body text 7:1, large text and signs 4.5:1.
 */
export const LIGHT = {
  paper: '#fbfaf5',
  sheet: '#ffffff',
  ink: '#111c1a',
  inkQuiet: '#434d4a',
  line: '#d3d6cd',
  accent: '#0b535f',
  onAccent: '#ffffff',
  accentSoft: '#dbeaeb',
  warn: '#6b3a00',
  warnSoft: '#fdefd9',
  danger: '#84122c',
  dangerSoft: '#fbe6ea',
  bodyFill: '#cfd8d3',
} as const

export const DARK = {
  paper: '#151a19',
  sheet: '#1d2322',
  ink: '#f2f4ef',
  inkQuiet: '#bcc5c1',
  line: '#3b4542',
  accent: '#8fd3d9',
  onAccent: '#0b2226',
  accentSoft: '#1a373b',
  warn: '#f4c98b',
  warnSoft: '#3b2c17',
  danger: '#ffb0bd',
  dangerSoft: '#46202a',
  bodyFill: '#3f4b47',
} as const

/** Print: black on white whatever the screen is set to; no meaning rests on a colour, so none is needed. */
export const PAPER = {
  paper: '#ffffff',
  sheet: '#ffffff',
  ink: '#000000',
  inkQuiet: '#333333',
  line: '#8c8c8c',
  accent: '#000000',
  onAccent: '#ffffff',
  accentSoft: '#ededed',
  warn: '#000000',
  warnSoft: '#ffffff',
  danger: '#000000',
  dangerSoft: '#ffffff',
  bodyFill: '#dedede',
} as const

export type ColourName = keyof typeof LIGHT

const kebab = (name: string): string => name.replace(/[A-Z]/g, letter => `-${letter.toLowerCase()}`)
const declarations = (colours: Readonly<Record<string, string>>): string =>
  Object.entries(colours)
    .map(([name, value]) => `--${kebab(name)}: ${value};`)
    .join(' ')

/** Goes into the page once: elements read the properties through their shadow roots. */
export const tokensText = `
:root {
  color-scheme: light dark;
  ${declarations(LIGHT)}
  --font: system-ui, "Noto Sans", "Noto Sans Arabic", sans-serif;
  --text-small: 1rem; --text-body: 1.0625rem; --text-number: 1.3125rem; --text-title: 1.375rem; --text-large: 1.75rem;
  --space-1: 0.25rem; --space-2: 0.5rem; --space-3: 0.75rem; --space-4: 1rem; --space-5: 1.5rem; --space-6: 2.5rem;
  --radius-small: 4px; --radius: 8px;
  --target: 48px;
  --quick: 160ms;
}
@media (prefers-color-scheme: dark) { :root { ${declarations(DARK)} } }
@media (prefers-reduced-motion: reduce) { :root { --quick: 0ms; } }
html { font-size: 100%; background: var(--paper); color: var(--ink); font-family: var(--font); -webkit-tap-highlight-color: transparent; }
body { margin: 0; font-size: var(--text-body); line-height: 1.45; }
`

/** Set on what is to be printed: it looks on screen as it will on paper. */
export const paperColours: CSSResult = unsafeCSS(
  `:host { color-scheme: light; background: var(--paper); ${declarations(PAPER)} }`,
)

/** What every element starts from: native controls that look alike, can be hit with a glove and show their focus. */
export const base = css`
  :host { display: block; color: var(--ink); font: inherit; }
  :host([hidden]) { display: none; }
  *, *::before, *::after { box-sizing: border-box; }
  h1, h2, h3, p, dl, dd, ul, ol { margin: 0; padding: 0; }
  ul, ol { list-style: none; }
  h1 { font-size: var(--text-large); line-height: 1.2; }
  h2 { font-size: var(--text-title); line-height: 1.25; }
  h3 { font-size: var(--text-body); }
  a { color: var(--accent); text-underline-offset: 0.2em; }
  button, input, select, textarea { font: inherit; color: inherit; }
  button, select, input:not([type='checkbox']):not([type='radio']) { min-block-size: var(--target); }
  input, select, textarea {
    inline-size: 100%; padding: var(--space-2) var(--space-3); background: var(--sheet);
    border: 2px solid var(--ink-quiet); border-radius: var(--radius);
  }
  input[type='checkbox'], input[type='radio'] { inline-size: 1.5rem; block-size: 1.5rem; accent-color: var(--accent); }
  button {
    padding: var(--space-2) var(--space-4); border: 2px solid var(--accent); border-radius: var(--radius);
    background: transparent; color: var(--accent); font-weight: 600; cursor: pointer;
  }
  button.main { background: var(--accent); color: var(--on-accent); inline-size: 100%; }
  button.quiet { border-color: transparent; text-decoration: underline; text-underline-offset: 0.2em; padding-inline: var(--space-2); }
  /* Said by the app itself, in its own colours, in place of the grey flash of the browser. */
  button:active, summary:active, a:active { background-color: var(--accent-soft); }
  button.main:active { background-color: color-mix(in srgb, var(--accent) 80%, var(--ink)); }
  :focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
  .quiet { color: var(--ink-quiet); }
  .number { font-size: var(--text-number); font-weight: 700; font-variant-numeric: tabular-nums; }
  .unit { font-size: var(--text-small); color: var(--ink-quiet); font-weight: 400; }
  .stack > * + * { margin-block-start: var(--space-3); }
  .notice { padding: var(--space-3) var(--space-4); border-inline-start: 6px solid var(--line); background: var(--sheet); }
  .notice.warn { border-color: var(--warn); background: var(--warn-soft); }
  .notice.danger { border-color: var(--danger); background: var(--danger-soft); }
  .notice.danger h2, .notice.danger strong { color: var(--danger); }
  .error { color: var(--danger); font-weight: 600; }
  .unseen { position: absolute; inline-size: 1px; block-size: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
  @media (prefers-reduced-motion: reduce) { *, *::before, *::after { transition: none !important; animation: none !important; } }
`
