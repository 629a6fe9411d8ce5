import { languageOfBrowser, preferencesIn } from '../../components/app/preferences.ts'
import { tokensText } from '../../components/styles/tokens.ts'
import { changeLanguage } from '../../components/text/text.ts'

/** What every page needs before it shows anything: colours, and the language in which the app was read last. */
export const beginPage = async (): Promise<void> => {
  const tokens = new CSSStyleSheet()
  tokens.replaceSync(tokensText)
  document.adoptedStyleSheets = [tokens]
  await changeLanguage(preferencesIn(localStorage).language() ?? languageOfBrowser(navigator.languages))
}
