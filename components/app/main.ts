import '../../sync/content-rules.ts'
import { calendarDateSchema } from '../../src/calendar-date.ts'
import { success } from '../../src/result.ts'
import { CASES_DATABASE, PRACTICE_DATABASE } from '../../sync/storage/database-names.ts'
import { hasSecondPlace } from '../../sync/storage/second-place.ts'
import { tokensText } from '../styles/tokens.ts'
import { changeLanguage } from '../text/text.ts'
import { languageOfBrowser, preferencesIn } from './preferences.ts'
import { appWorker } from './service-worker.ts'
import { Session } from './session.ts'
import './spoke-app.ts'

/** The composition root: the only place that picks storage, clock, calendar and what practice is made of. */
const today = () => {
  const now = new Date()
  const two = (part: number): string => String(part).padStart(2, '0')
  return calendarDateSchema.parse(`${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`)
}

const removeDatabase = (name: string): Promise<void> =>
  new Promise((resolve, reject) => {
    const removal = indexedDB.deleteDatabase(name)
    removal.onsuccess = () => resolve()
    removal.onerror = () => reject(removal.error ?? new Error(`the store ${name} could not be removed`))
  })

const loadEngine = () => import('./engine.ts')
const preferences = preferencesIn(localStorage)
/** Asked once: practice puts something in the place of what is missing. */
const isSecure = isSecureContext && globalThis.crypto?.subtle !== undefined

/** Undefined where the browser cannot list its databases. */
const holds = async (database: string): Promise<boolean | undefined> =>
  (await indexedDB.databases?.())?.some(({ name }) => name === database)
const mayHaveDevice = async (): Promise<boolean> =>
  preferences.hadCasebook() || (await hasSecondPlace()) || ((await holds(CASES_DATABASE)) ?? true)

const session = new Session({
  mayHaveDevice,
  openDevice: async () => {
    const { openDevice, secondPlace } = await loadEngine()
    return openDevice({ indexedDB, second: secondPlace, name: CASES_DATABASE })
  },
  openPractice: async () => {
    if (!isSecure) return success(await (await import('../../demo/plain-practice.ts')).openPlainPractice())
    const { openPractice } = await loadEngine()
    return openPractice({ indexedDB, name: PRACTICE_DATABASE })
  },
  removePractice: async () => {
    if (!isSecure) return
    await removeDatabase(PRACTICE_DATABASE)
    await removeDatabase(`${PRACTICE_DATABASE}-catalogue`)
  },
  loadEngine,
  loadPractice: () => import('../../demo/practice-trip.ts'),
  isSecure,
  // A browser that is killed forgets what it was told in its last seconds, but not a store.
  wasPractice: async () => {
    const last = preferences.lastOpen()
    return last === null ? !(await mayHaveDevice()) && (await holds(PRACTICE_DATABASE)) === true : last === 'practice'
  },
  keepPractice: isPractice => preferences.keepPractice(isPractice),
  hadCasebook: () => preferences.hadCasebook(),
  keepHadCasebook: () => preferences.keepHadCasebook(),
  hub: {
    place: location,
    ...(navigator.locks ? { locks: navigator.locks } : {}),
    loadHub: () => import('./hub-engine.ts'),
  },
  clock: () => Date.now(),
  today,
})

const tokens = new CSSStyleSheet()
tokens.replaceSync(tokensText)
document.adoptedStyleSheets = [tokens]
await changeLanguage(preferences.language() ?? languageOfBrowser(navigator.languages))

const app = document.createElement('spoke-app')
app.session = session
app.preferences = preferences
document.body.append(app)
void appWorker.start()
void session.start()
