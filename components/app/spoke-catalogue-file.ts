import { ContextConsumer } from '@lit/context'
import { html, LitElement, nothing, type TemplateResult } from 'lit'
import { type ChairModel, catalogueSchema } from '../../src/chair/chair-model.ts'
import { SpeechController } from '../controllers/speech-controller.ts'
import { whileWriting } from '../controllers/writing.ts'
import { formStyles } from '../styles/form-styles.ts'
import { base } from '../styles/tokens.ts'
import { en } from '../text/en/index.ts'
import { sayError, sayFailure } from '../text/say-failure.ts'
import { currentSpeech, type TextKey, t } from '../text/text.ts'
import { announce } from './announce.ts'
import { type AppCasebook, appContext } from './context.ts'

const MOST_ISSUES = 3
interface Issue {
  readonly path: readonly PropertyKey[]
  readonly code: string
  readonly message: string
}

/** What the casebook's catalogue holds, and adding to it from a file. A file that is not whole adds nothing. */
export class SpokeCatalogueFile extends LitElement {
  static override styles = [base, formStyles]
  static override properties = { error: { state: true }, done: { state: true } }
  declare error: string
  declare done: string

  readonly #app = new ContextConsumer(this, { context: appContext, subscribe: true })

  constructor() {
    super()
    this.error = ''
    this.done = ''
    new SpeechController(this)
  }

  readonly #handleFile = async (event: Event): Promise<void> => {
    const input = event.target as HTMLInputElement
    const [file] = input.files ?? []
    const casebook = this.#app.value?.casebook
    if (!file || !casebook) return
    this.done = ''
    this.error = ''
    const read = readCatalogue(await file.text())
    input.value = ''
    if (typeof read === 'string') {
      this.error = t('settings.catalogueUnreadable', { reason: read })
      return
    }
    this.error = await whileWriting(() => addModels(casebook, read.models))
    if (this.error) return
    this.done = t('settings.catalogueAdded', { count: read.models.length })
    announce(this.done)
  }

  override render(): TemplateResult {
    const models = this.#app.value?.casebook.context().catalogue.models ?? []
    return html`<div class="question">
      ${models.length > 0 ? html`<p class="quiet">${models.map(model => model.title).join(' · ')}</p>` : nothing}
      <label for="file">${t('settings.catalogueAdd')}</label>
      <input id="file" type="file" accept=".json,application/json" aria-describedby="file-error" @change=${this.#handleFile} />
      <p class="error" id="file-error" role="alert" ?hidden=${!this.error}>${this.error || nothing}</p>
      ${this.done ? html`<p class="notice">${this.done}</p>` : nothing}
    </div>`
  }
}

/** Empty words once all are saved, else what the store says. */
const addModels = async (casebook: AppCasebook, models: readonly ChairModel[]): Promise<string> => {
  for (const model of models) {
    const saved = await casebook.setModel(model.key, model)
    if (!saved.ok) return sayFailure(saved.failure)
  }
  return ''
}

/** Where a file is wrong and how: in English with all that the check says, else by its kind. */
const sayIssue = ({ path, code, message }: Issue): string => {
  const key = `issue.${code}`
  const known = Object.hasOwn(en.issue, code) ? (key as TextKey) : 'issue.other'
  return `${path.join('.')}: ${currentSpeech().language === 'en' ? message : t(known)}`
}

/** The catalogue, or in words why the text is none. */
const readCatalogue = (text: string) => {
  try {
    const read = catalogueSchema.safeParse(JSON.parse(text.replace(/^\uFEFF/, '')))
    if (read.success) return read.data
    const issues = read.error.issues.slice(0, MOST_ISSUES)
    return issues.map(sayIssue).join('; ')
  } catch (error) {
    return error instanceof SyntaxError ? t('settings.catalogueNotJson') : sayError(error)
  }
}

customElements.define('spoke-catalogue-file', SpokeCatalogueFile)
