import { css, html, nothing, type TemplateResult } from 'lit'
import { outsidePressureKPa } from '../../src/gas-law.ts'
import type { BuildStep } from '../../src/preparation/build-sheet.ts'
import { type AirState, fillPressure, type TyrePressure } from '../../src/preparation/tyres.ts'
import { SOURCES } from '../../src/sources.ts'
import { numberControl } from '../case/answers.ts'
import { CasePart, type PartFacts } from '../case/case-part.ts'
import { readTyped } from '../fields/typed-number.ts'
import { sayNumber } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'
import {
  fillPlaces,
  isPossiblePlace,
  keepFillPlace,
  PLACE_PARTS,
  type PlacePart,
  type Places,
  possiblePlace,
} from './fill-places.ts'
import { pressureWords } from './sheet-words.ts'

type Pneumatic = Extract<TyrePressure, { readonly type: 'pneumatic' }>
type Air = { readonly here: AirState; readonly there: AirState }

const ZERO_CELSIUS_K = 273.15
const kPa = (value: number): string => sayNumber(value, 'kPa', 0)

const placeValue = (places: Places, part: PlacePart): number | undefined => {
  const value = readTyped(places[part] ?? '')
  return value !== undefined && isPossiblePlace(part, value) ? value : undefined
}

/** Undefined until all four are typed and possible. */
const airOf = (places: Places): Air | undefined => {
  const [hereCelsius, hereAltitudeM, thereCelsius, thereAltitudeM] = PLACE_PARTS.map(part => placeValue(places, part))
  return hereCelsius === undefined ||
    hereAltitudeM === undefined ||
    thereCelsius === undefined ||
    thereAltitudeM === undefined
    ? undefined
    : {
        here: { celsius: hereCelsius, altitudeM: hereAltitudeM },
        there: { celsius: thereCelsius, altitudeM: thereAltitudeM },
      }
}

/**
 * Pumped in a cold valley and used on a hot pass: what the gauge must show here for the tyre to stand right there. What it
 * takes for given is typed in sight; the printed limit goes before the answer.
 */
export class SpokeFillPressure extends CasePart {
  static override styles = [
    ...CasePart.styles,
    css`
      .places { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 15rem), 1fr)); gap: var(--space-3) var(--space-5); margin-block: var(--space-3); }
      .places fieldset { border: 0; margin: 0; padding: 0; min-inline-size: 0; }
      .pair { display: grid; grid-template-columns: repeat(auto-fit, minmax(min(100%, 8.5rem), 1fr)); gap: var(--space-3); align-items: end; }
      .worked { font-variant-numeric: tabular-nums; overflow-wrap: anywhere; }
    `,
  ]
  static override properties = { ...CasePart.properties, pressures: { attribute: false } }
  declare pressures: BuildStep['pressures']

  #type(part: PlacePart, text: string, { app }: PartFacts): void {
    keepFillPlace(app.casebook, part, text)
    this.requestUpdate()
  }

  protected override renderPart(facts: PartFacts): TemplateResult {
    const { pressures } = this
    if (!pressures || (pressures.rear.type === 'solid' && pressures.caster.type === 'solid')) return html`${nothing}`
    const places = fillPlaces(facts.app.casebook)
    const air = airOf(places)
    return html`<details>
      <summary>${t('preparing.fill')}</summary>
      <p class="reason">${t('preparing.fillLead')}</p>
      <div class="places">
        ${this.#renderPlace('preparing.fillHere', ['hereCelsius', 'hereAltitudeM'], places, facts)}
        ${this.#renderPlace('preparing.fillThere', ['thereCelsius', 'thereAltitudeM'], places, facts)}
      </div>
      <div class="lines" role="status">
        ${
          air
            ? html`${this.#renderTyre(t('preparing.pressureRear'), pressures.rear, air)}
              ${this.#renderTyre(t('preparing.pressureCaster'), pressures.caster, air)}`
            : html`<p class="reason">${t('preparing.fillNeeds')}</p>`
        }
      </div>
      ${air ? html`<p class="reason">${t('preparing.fillAssumes')}</p>` : nothing}
    </details>`
  }

  #renderPlace(
    title: 'preparing.fillHere' | 'preparing.fillThere',
    parts: readonly PlacePart[],
    places: Places,
    facts: PartFacts,
  ): TemplateResult {
    return html`<fieldset>
      <legend>${t(title)}</legend>
      <div class="pair">
        ${parts.map(part => {
          const text = places[part] ?? ''
          const [least, most] = possiblePlace(part)
          const wrong = text.trim() !== '' && placeValue(places, part) === undefined
          const bounds = { least: currentSpeech().number(least), most: currentSpeech().number(most) }
          return numberControl({
            id: part,
            label: t(part.endsWith('Celsius') ? 'followUp.celsius' : 'followUp.altitude'),
            value: text,
            change: typed => this.#type(part, typed, facts),
            error: wrong ? t('preparing.fillWrong', bounds) : undefined,
          })
        })}
      </div>
    </fieldset>`
  }

  #renderTyre(name: string, pressure: TyrePressure, air: Air): TemplateResult | typeof nothing {
    if (pressure.type === 'solid') return nothing
    const { sidewallLeastKPa, sidewallMostKPa } = pressure.reason.inputs
    const sidewall = { minKPa: Number(sidewallLeastKPa), maxKPa: Number(sidewallMostKPa) }
    const { hereKPa, thereKPa, limitedBy } = fillPressure(sidewall, pressure.targetKPa, air.here, air.there)
    const words = { there: kPa(thereKPa), target: kPa(pressure.targetKPa), most: kPa(sidewall.maxKPa) }
    return html`<div class="line">
      <div class="head"><span>${name}</span><span class="number">${pressureWords(hereKPa)}</span></div>
      <p class="reason">${t(`preparing.fill ${limitedBy}`, words)}</p>
      ${limitedBy === 'nothing' ? this.#renderSum(name, pressure, air, hereKPa) : nothing}
    </div>`
  }

  #renderSum(name: string, { targetKPa }: Pneumatic, { here, there }: Air, hereKPa: number): TemplateResult {
    const say = (value: number, decimals = 1): string => currentSpeech().number(value, decimals)
    const outside = { here: outsidePressureKPa(here.altitudeM), there: outsidePressureKPa(there.altitudeM) }
    const kelvin = { here: here.celsius + ZERO_CELSIUS_K, there: there.celsius + ZERO_CELSIUS_K }
    return html`<details>
      <summary>${t('preparing.fillSum')}<span class="unseen">: ${name}</span></summary>
      <p class="reason">${t('preparing.fillOutside', { here: sayNumber(outside.here, 'kPa'), there: sayNumber(outside.there, 'kPa') })}</p>
      <p class="worked" dir="ltr">
        (${say(targetKPa)} + ${say(outside.there)}) × ${say(kelvin.here, 2)} / ${say(kelvin.there, 2)} − ${say(outside.here)} =
        ${say(hereKPa)} kPa
      </p>
      <p class="reason">${t('preparing.fillSource', { source: SOURCES['gas-law'].title })}</p>
    </details>`
  }
}

customElements.define('spoke-fill-pressure', SpokeFillPressure)

declare global {
  interface HTMLElementTagNameMap {
    'spoke-fill-pressure': SpokeFillPressure
  }
}
