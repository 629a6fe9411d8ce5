import { html, render } from 'lit'
import { tokensText } from '../styles/tokens.ts'
import { t } from '../text/text.ts'
import { appWorker } from './service-worker.ts'

const tokens = new CSSStyleSheet()
tokens.replaceSync(tokensText)
document.adoptedStyleSheets = [tokens]
render(html`<main><h1>${t('app.name')}</h1></main>`, document.body)
void appWorker.start()
