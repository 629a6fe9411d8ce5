import { describe, expect, it } from 'vitest'
import { languageOfBrowser, preferencesIn } from '../../../components/app/preferences.ts'
import { routeOf } from '../../../components/app/routes.ts'

const memory = () => {
  const kept = new Map<string, string>()
  return {
    kept,
    store: {
      getItem: (name: string) => kept.get(name) ?? null,
      setItem: (name: string, value: string) => void kept.set(name, value),
    },
  }
}

describe('what a device remembers outside a casebook', () => {
  it('is found again', () => {
    const { store } = memory()
    preferencesIn(store).keepLanguage('ar')
    preferencesIn(store).keepIdleMinutes(5)
    preferencesIn(store).keepPractice(true)
    const again = preferencesIn(store)
    expect([again.language(), again.idleMinutes(), again.lastOpen()]).toEqual(['ar', 5, 'practice'])
  })

  it('is passed over when it makes no sense', () => {
    const { store, kept } = memory()
    kept.set('outspoke language', 'klingon')
    kept.set('outspoke idle minutes', '-1')
    expect([preferencesIn(store).language(), preferencesIn(store).idleMinutes()]).toEqual([null, 10])
  })

  it('is missing, and nothing breaks, where the browser keeps nothing', () => {
    const refuse = (): never => {
      throw new Error('blocked')
    }
    const preferences = preferencesIn({ getItem: refuse, setItem: refuse })
    preferences.keepLanguage('fr')
    expect([preferences.language(), preferences.lastOpen()]).toEqual([null, null])
  })
})

describe('the language of the browser', () => {
  it('is the first one that the app speaks, whatever the country', () => {
    expect(languageOfBrowser(['de-DE', 'fr-CA', 'es'])).toBe('fr')
    expect(languageOfBrowser(['AR-eg'])).toBe('ar')
    expect(languageOfBrowser(['de', 'zu'])).toBe('en')
    expect(languageOfBrowser([])).toBe('en')
  })
})

describe('an address', () => {
  it.each(['', '#', '#/', '#/nowhere', '#/case', '#/case/not-an-id', '#/print/money'])('"%s" is the list', hash => {
    expect(routeOf(hash)).toEqual({ page: 'people' })
  })
})
