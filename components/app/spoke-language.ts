import { html, LitElement, type TemplateResult } from 'lit'
import { SpeechController } from '../controllers/speech-controller.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { changeLanguage, currentSpeech, LANGUAGES, type Language, t } from '../text/text.ts'
import { preferencesIn } from './preferences.ts'

/** Each language in its own words: whoever opened the wrong one finds the way back. */
const OWN_NAMES: Readonly<Record<Language, string>> = { en: 'English', es: 'Español', fr: 'Français', ar: 'العربية' }

/** The language of the app, on this device. */
export class SpokeLanguage extends LitElement {
  static override styles = [base, formStyles]

  constructor() {
    super()
    new SpeechController(this)
  }

  readonly #handleChange = async (event: Event): Promise<void> => {
    const language = LANGUAGES.find(one => one === (event.target as HTMLSelectElement).value)
    if (!language) return
    preferencesIn(localStorage).keepLanguage(language)
    await changeLanguage(language)
  }

  override render(): TemplateResult {
    const { language } = currentSpeech()
    return html`<div class="question">
      <label for="language">${t('settings.language')}</label>
      <select id="language" @change=${this.#handleChange}>
        ${LANGUAGES.map(
          one => html`<option value=${one} lang=${one} .selected=${one === language}>${OWN_NAMES[one]}</option>`,
        )}
      </select>
    </div>`
  }
}

customElements.define('spoke-language', SpokeLanguage)
