import { css, html, LitElement, nothing, type TemplateResult } from 'lit'
import type { Catalogue, ChairModel } from '../../../src/chair/chair-model.ts'
import type { SetUp } from '../../../src/chair/set-up.ts'
import type { Setting } from '../../../src/fitting/reason.ts'
import type { Settings } from '../../../src/fitting/settings.ts'
import { SpeechController } from '../../controllers/speech-controller.ts'
import { reasonWords } from '../../fit/reason-words.ts'
import '../../fit/spoke-the-sum.ts'
import { base } from '../../styles/tokens.ts'
import { currentSpeech, t } from '../../text/text.ts'
import { partStyles } from '../part-styles.ts'
import { sayFields } from '../say-hold.ts'
import { modelIn, sayAlsoServes, sayMm, saySettingValue } from '../set-up-words.ts'

const SHOWN = [
  'seatWidth',
  'seatDepth',
  'seatHeight',
  'axle',
  'backHeight',
  'cushion',
  'footrestLeft',
  'footrestRight',
  'armrest',
] as const satisfies readonly (keyof Settings)[]

/** Which part of a set-up a setting is, to tell those set by hand. */
const PART_OF: { readonly [Name in keyof Settings]?: keyof SetUp } = {
  seatHeight: 'seatHeight',
  axle: 'axle',
  backHeight: 'backHeight',
  footrestLeft: 'footrestLeftMm',
  footrestRight: 'footrestRightMm',
  armrest: 'armrestMm',
}

/** Each setting of one set-up with its value, the reason in a line, and the way to the sum. */
export class SpokeSetUpSettings extends LitElement {
  static override styles = [
    base,
    partStyles,
    css`
      .number.small { font-size: var(--text-body); }
      .words { color: var(--ink-quiet); }
    `,
  ]
  static override properties = {
    settings: { attribute: false },
    catalogue: { attribute: false },
    chair: {},
    pinned: { attribute: false },
  }
  declare settings: Settings | undefined
  declare catalogue: Catalogue | undefined
  declare chair: string
  declare pinned: readonly (keyof SetUp)[]

  constructor() {
    super()
    this.chair = ''
    this.pinned = []
    new SpeechController(this)
  }

  override render(): TemplateResult | typeof nothing {
    const { settings, catalogue } = this
    if (!settings || !catalogue) return nothing
    const model = modelIn(catalogue, this.chair)
    return html`<div class="lines">${SHOWN.map(name => this.#line(name, settings[name], model))}</div>`
  }

  #line(name: (typeof SHOWN)[number], setting: Setting, model: ChairModel | undefined): TemplateResult {
    const part = PART_OF[name]
    const byHand = part !== undefined && this.pinned.includes(part)
    const also = sayAlsoServes(model, name, setting)
    const reasons = setting.type === 'missing' ? [] : setting.reasons
    return html`<div class="line">
      <div class="head">
        <span>${t(`fit.${name}`)} ${byHand ? html`<span class="mark still">${t('choosing.pinned')}</span>` : nothing}</span>
        ${this.#value(name, setting, model)}
      </div>
      ${reasons.map(
        reason => html`<p class="reason">${reasonWords(reason) ?? nothing}</p>
          <spoke-the-sum .reason=${reason} name=${t(`fit.${name}`)}></spoke-the-sum>`,
      )}
      ${also.length > 0 ? html`<p class="reason">${t('choosing.alsoServes', { values: currentSpeech().list(also) })}</p>` : nothing}
    </div>`
  }

  #value(name: keyof Settings, setting: Setting, model: ChairModel | undefined): TemplateResult {
    switch (setting.type) {
      case 'missing':
        return html`<span class="words">${t('choosing.settingMissing', { fields: sayFields(setting.needs) })}</span>`
      case 'outOfReach':
        return html`<span class="number small">${t('choosing.outOfReach', {
          wanted: sayMm(setting.wanted),
          nearest: saySettingValue(model, name, setting.nearest),
        })}</span>`
      case 'judge':
        return html`<span
          ><span class="number">${saySettingValue(model, name, setting.value)}</span>
          <span class="mark calls">${t('choosing.judge')}</span></span
        >`
      case 'recommended':
        return html`<span class="number ${name === 'cushion' || name === 'seatHeight' ? 'small' : ''}"
          >${saySettingValue(model, name, setting.value)}</span
        >`
    }
  }
}

customElements.define('spoke-set-up-settings', SpokeSetUpSettings)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-set-up-settings': SpokeSetUpSettings
  }
}
