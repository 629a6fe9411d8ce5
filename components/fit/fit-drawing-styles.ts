import { css } from 'lit'

/** One column on a phone in the order of attention; two or three where the element is wide enough. */
export const fitDrawingStyles = css`
      :host { container-type: inline-size; }
      .fit { display: flex; flex-direction: column; gap: var(--space-4); }
      .column { display: contents; }
      .side { order: 1; } .stands { order: 2; } .settings { order: 3; } .numbers { order: 4; } .rear { order: 5; } .following { order: 6; }
      /* What is off the screen is neither laid out nor painted while a setting moves; it stays in the tree for screen readers. */
      .numbers, .following { content-visibility: auto; contain-intrinsic-block-size: auto 32rem; overflow-clip-margin: 8px; }
      .side spoke-side-view { inline-size: 100%; max-inline-size: 46rem; margin-inline: auto; }
      .rear spoke-rear-view { inline-size: 100%; max-inline-size: 24rem; margin-inline: auto; }
      .stands { min-block-size: 5.75rem; }
      .legend { font-size: var(--text-small); color: var(--ink-quiet); margin-block-start: var(--space-2); }
      .stands.kept { border-color: var(--accent); }
      .actions { display: grid; gap: var(--space-3); margin-block-start: var(--space-4); }
      dl { display: grid; gap: 0; }
      .number-row { display: grid; grid-template-columns: minmax(0, 1fr) auto; gap: 0 var(--space-4); align-items: baseline; padding-block: var(--space-2); border-block-end: 1px solid var(--line); }
      dt, dd { overflow-wrap: anywhere; }
      dd.value { font-size: var(--text-number); font-weight: 700; font-variant-numeric: tabular-nums; text-align: end; border-radius: var(--radius-small); }
      dd.note { grid-column: 1 / -1; color: var(--ink-quiet); }
      .error-of { font-size: var(--text-small); font-weight: 400; color: var(--ink-quiet); }
      .broken dd.value { color: var(--danger); }
      .broken dt { font-weight: 700; color: var(--danger); }
      @container (min-width: 44rem) {
        .column { display: flex; flex-direction: column; gap: var(--space-4); }
        .fit { display: grid; align-items: start; column-gap: var(--space-6); grid-template-columns: minmax(0, 1.35fr) minmax(0, 1fr);
          grid-template-rows: auto 1fr; grid-template-areas: 'drawn settings' 'numbers settings'; }
        .drawn { grid-area: drawn; } .set { grid-area: settings; } .numbers { grid-area: numbers; }
      }
      @container (min-width: 76rem) {
        .fit { grid-template-columns: minmax(0, 1.5fr) minmax(0, 1fr) minmax(0, 1fr); grid-template-rows: auto; grid-template-areas: 'drawn settings numbers'; }
      }
    `
