import { preferencesIn } from '../../../components/app/preferences.ts'
import { Session, type SessionPorts } from '../../../components/app/session.ts'
import '../../../components/app/spoke-app.ts'
import type { SpokeApp } from '../../../components/app/spoke-app.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { openDevice, openPractice } from '../../../sync/storage/open-device.ts'
import { secondPlace } from '../../../sync/storage/second-place.ts'

export const TODAY = toCalendarDate('2026-11-25')

const remove = (name: string, place: IDBFactory = indexedDB): Promise<void> =>
  new Promise((resolve, reject) => {
    const removal = place.deleteDatabase(name)
    removal.onsuccess = () => resolve()
    removal.onerror = () => reject(removal.error)
  })

export interface TestApp {
  readonly app: SpokeApp
  readonly session: Session
  /** The same device after the page was loaded anew. */
  reload(): Promise<TestApp>
  /** The same device in another window, this one staying open. */
  beside(): Promise<TestApp>
  /** The same device after the browser has deleted one copy of its store, or both. */
  reloadWithout(lost: 'first' | 'both'): Promise<TestApp>
  /** Closes everything and removes what was stored. */
  end(): Promise<void>
}

let made = 0

/** The whole app on this browser's own storage, in databases of their own. */
export const openApp = async (changed: Partial<SessionPorts> = {}): Promise<TestApp> => {
  made += 1
  return openOn(`app-test-${Date.now()}-${made}`, new Map(), changed)
}

const openOn = async (name: string, kept: Map<string, string>, changed: Partial<SessionPorts>): Promise<TestApp> => {
  const practiceName = `${name}-practice`
  const preferences = preferencesIn({
    getItem: key => kept.get(key) ?? null,
    setItem: (key, value) => void kept.set(key, value),
  })
  const removePractice = async (): Promise<void> => {
    await remove(practiceName)
    await remove(`${practiceName}-catalogue`)
  }
  const session = new Session({
    mayHaveDevice: async () => true,
    openDevice: () => openDevice({ indexedDB, second: secondPlace, name }),
    openPractice: () => openPractice({ indexedDB, name: practiceName }),
    removePractice,
    loadEngine: () => import('../../../components/app/engine.ts'),
    loadPractice: () => import('../../../demo/practice-trip.ts'),
    isSecure: true,
    wasPractice: async () => preferences.lastOpen() === 'practice',
    keepPractice: isPractice => preferences.keepPractice(isPractice),
    hadCasebook: () => preferences.hadCasebook(),
    keepHadCasebook: () => preferences.keepHadCasebook(),
    clock: () => Date.parse(`${TODAY}T09:00:00Z`),
    today: () => TODAY,
    ...changed,
  })
  const app = document.createElement('spoke-app')
  app.session = session
  app.preferences = preferences
  document.body.append(app)
  await session.start()
  await app.updateComplete
  const close = (): void => {
    session.device?.close()
    app.remove()
  }
  return {
    app,
    session,
    reload: () => {
      close()
      return openOn(name, kept, changed)
    },
    reloadWithout: async lost => {
      close()
      await remove(name)
      if (lost === 'both') await remove(name, await secondPlace())
      return openOn(name, kept, changed)
    },
    beside: () => openOn(name, kept, changed),
    end: async () => {
      close()
      location.hash = ''
      await removePractice()
      await remove(name)
      await remove(name, await secondPlace())
      await remove(`${name}-catalogue`)
    },
  }
}
