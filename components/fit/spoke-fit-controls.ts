import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import { live } from 'lit/directives/live.js'
import { footrestValues } from '../../src/fitting/wanted.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { base } from '../styles/tokens.ts'
import { t } from '../text/text.ts'
import { movedStyles } from './moved-styles.ts'
import { settingMoved } from './setting-moved.ts'
import { axleWords, FOLLOWING, MOVABLE, type SettingName, settingRow } from './setting-rows.ts'
import './spoke-the-sum.ts'
import type { Fitted } from './trial.ts'

/** Every setting with its reason and the way to its sum; axle, cushion and footrests with a control. */
export class SpokeFitControls extends LitElement {
  static override styles = [
    base,
    movedStyles,
    css`
      .setting { padding-block: var(--space-3); border-block-end: 1px solid var(--line); }
      .setting:first-child { padding-block-start: 0; }
      .top { display: flex; flex-wrap: wrap; align-items: baseline; justify-content: space-between; gap: 0 var(--space-4); }
      .top .value { margin-inline-start: auto; text-align: end; }
      .value { font-size: var(--text-number); font-weight: 700; font-variant-numeric: tabular-nums; border-radius: var(--radius-small); }
      .why { color: var(--ink-quiet); }
      select { margin-block: var(--space-1); }
      spoke-the-sum { margin-block: -0.35rem -0.6rem; }
      .ends { display: flex; justify-content: space-between; color: var(--ink-quiet); font-size: var(--text-small); margin-block-start: -0.5rem; }
      input[type='range'] {
        appearance: none; display: block; inline-size: 100%; block-size: var(--target); min-block-size: var(--target);
        padding: 0; margin: 0; border: 0; background: transparent; cursor: pointer; touch-action: pan-y;
      }
      input[type='range']::-webkit-slider-runnable-track { block-size: 6px; border-radius: 3px; background: var(--ink-quiet); }
      input[type='range']::-webkit-slider-thumb {
        appearance: none; inline-size: 32px; block-size: 32px; margin-block-start: -13px; border-radius: 50%;
        background: var(--accent); border: 3px solid var(--sheet); box-shadow: 0 0 0 2px var(--accent);
      }
      input[type='range']::-moz-range-track { block-size: 6px; border-radius: 3px; background: var(--ink-quiet); }
      input[type='range']::-moz-range-thumb { inline-size: 28px; block-size: 28px; border-radius: 50%; background: var(--accent); border: 3px solid var(--sheet); }
    `,
  ]

  static override properties = {
    fitted: { attribute: false },
    movedKeys: { attribute: false },
    changedKeys: { attribute: false },
    turn: { attribute: false },
    stands: { attribute: false },
    only: { type: String },
  }

  declare fitted: Fitted | undefined
  /** Settings moved by hand, not saved. */
  declare movedKeys: ReadonlySet<SettingName>
  /** Settings whose value the last move changed. */
  declare changedKeys: ReadonlySet<string>
  /** Counts the moves, so that a value changed twice marks itself twice. */
  declare turn: number
  /** What stands in the way, in words: told with every control. */
  declare stands: string
  declare only: 'movable' | 'following'

  constructor() {
    super()
    new SpeechController(this)
    this.movedKeys = new Set()
    this.changedKeys = new Set()
    this.turn = 0
    this.stands = ''
    this.only = 'movable'
  }

  readonly #handleAxle = (event: Event): void => {
    const hole = this.fitted?.setUp.model.axlePositions[Number((event.target as HTMLInputElement).value)]
    if (hole) this.dispatchEvent(settingMoved({ setting: 'axle', value: hole.key }))
  }

  readonly #handleCushion = (event: Event): void => {
    this.dispatchEvent(settingMoved({ setting: 'cushion', value: (event.target as HTMLSelectElement).value }))
  }

  readonly #handleFootrest = (event: Event): void => {
    const input = event.target as HTMLInputElement
    const setting = input.id === 'footrestLeft' ? 'footrestLeft' : 'footrestRight'
    const value = this.#plates(setting)[Number(input.value)]
    if (value !== undefined) this.dispatchEvent(settingMoved({ setting, value }))
  }

  /** Off, then every length offered; a length set by hand between two steps stands among them. */
  #plates(setting: 'footrestLeft' | 'footrestRight'): readonly (number | null)[] {
    if (!this.fitted) return []
    const { setUp } = this.fitted
    const current = setting === 'footrestLeft' ? setUp.footrestLeftMm : setUp.footrestRightMm
    const lengths = new Set(footrestValues(setUp.model).filter(value => value !== null))
    if (current !== null) lengths.add(current)
    return [null, ...[...lengths].sort((a, b) => a - b)]
  }

  protected override render() {
    const { fitted } = this
    if (!fitted) return nothing
    const names = this.only === 'movable' ? MOVABLE : FOLLOWING
    return html`<div class="settings">
      <p id="stands" hidden>${this.stands}</p>
      ${names.map(name => this.#row(name, fitted))}
    </div>`
  }

  #row(name: SettingName, fitted: Fitted): TemplateResult {
    const { label, value, why, reason } = settingRow(name, fitted)
    const changed = this.changedKeys.has(name) ? ` changed-${this.turn % 2}` : ''
    const control = this.only === 'movable' ? this.#control(name, fitted, value) : nothing
    return html`<div class="setting">
      <div class="top">
        ${control === nothing ? html`<span>${label}</span>` : html`<label for=${name}>${label}</label>`}
        ${name === 'cushion' && control !== nothing ? nothing : html`<span class=${`value${changed}`}>${value}</span>`}
      </div>
      ${control}
      <p class="why" id=${`why-${name}`}>${this.movedKeys.has(name) ? html`<strong>${t('fit.moved')}</strong>${why === '' ? '' : ' · '}` : nothing}${why}</p>
      ${reason ? html`<spoke-the-sum .reason=${reason} name=${label}></spoke-the-sum>` : nothing}
    </div>`
  }

  #control(name: SettingName, fitted: Fitted, words: string): TemplateResult | typeof nothing {
    const { model, cushion, axle } = fitted.setUp
    if (name === 'axle') {
      if (model.axlePositions.length < 2) return nothing
      return this.#range(name, model.axlePositions.length, model.axlePositions.indexOf(axle), axleWords(fitted.setUp), [
        t('fit.rearmost'),
        t('fit.foremost'),
      ])
    }
    if (name === 'footrestLeft' || name === 'footrestRight') {
      const plates = this.#plates(name)
      const value = name === 'footrestLeft' ? fitted.setUp.footrestLeftMm : fitted.setUp.footrestRightMm
      return this.#range(name, plates.length, plates.indexOf(value), words, [t('fit.off'), t('fit.longer')])
    }
    return html`<select id=${name} aria-describedby="why-cushion stands" @change=${this.#handleCushion}>
      ${model.cushions.map(one => html`<option value=${one.key} .selected=${live(one === cushion)}>${one.title}</option>`)}
    </select>`
  }

  #range(name: SettingName, count: number, index: number, words: string, ends: readonly [string, string]) {
    return html`<input id=${name} type="range" min="0" max=${count - 1} step="1" .value=${live(`${index}`)}
        aria-valuetext=${words} aria-describedby=${`why-${name} stands`}
        @input=${name === 'axle' ? this.#handleAxle : this.#handleFootrest} />
      <div class="ends" aria-hidden="true"><span>${ends[0]}</span><span>${ends[1]}</span></div>`
  }
}

customElements.define('spoke-fit-controls', SpokeFitControls)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-fit-controls': SpokeFitControls
  }
}
