import { expect as axe } from '@open-wc/testing'
import { sendKeys, setViewport } from '@web/test-runner-commands'
import { afterEach, describe, expect, it } from 'vitest'
import { announce } from '../../../components/app/announce.ts'
import { watchIdle } from '../../../components/app/watch-over.ts'
import { changeLanguage } from '../../../components/text/text.ts'
import { handClock, MINUTE_MS } from '../../support/hand-clock.ts'
import { all, button, find, has, typeInto, until, wordsOf } from '../case/practice-case.ts'
import { field, found, go, PASSPHRASE, unlock } from './in-app.ts'
import { openApp, type TestApp } from './test-session.ts'

let open: TestApp | undefined
const opened = async (...changed: Parameters<typeof openApp>): Promise<TestApp> => {
  open = await openApp(...changed)
  return open
}
afterEach(async () => {
  await open?.end()
  open = undefined
  await setViewport({ width: 360, height: 740 })
  await changeLanguage('en')
})

const inPractice = async (): Promise<TestApp> => {
  const test = await opened()
  button(test.app, 'Try the practice trip').click()
  await until(test.app, () => has(test.app, 'li.person'))
  return test
}
const founded = async (): Promise<TestApp> => found(await opened())

describe('the first run', () => {
  it('offers the practice trip one tap away, is said to be practice everywhere, and passes the accessibility check', async () => {
    const test = await opened()
    await axe(test.app).to.be.accessible()
    button(test.app, 'Try the practice trip').click()
    await until(test.app, () => has(test.app, 'li.person'))
    for (const hash of ['#/people', '#/ready', '#/settings', '#/new-referral']) {
      location.hash = hash
      await test.app.updateComplete
      expect(wordsOf(find(test.app, '.strips'))).toContain('Practice, 15 May 2026')
    }
  })

  it('opens practice again after a reload, as it was left', async () => {
    const test = await inPractice()
    await go(test, '#/new-referral', '#name')
    typeInto(find<HTMLInputElement>(test.app, '#name'), 'Somebody New')
    button(test.app, 'Save and open').click()
    await until(test.app, () => location.hash.startsWith('#/case/'))
    location.hash = '#/people'
    open = await test.reload()
    await until(open.app, () => wordsOf(open?.app ?? document).includes('Somebody New'))
    expect(wordsOf(find(open.app, 'header'))).toContain('29 people')
  })

  it('offers practice alone where the browser gives no cryptography, and says why', async () => {
    const { app } = await opened({ isSecure: false })
    expect(wordsOf(app)).toContain(`${location.origin}\u2069 is not a secure address`)
    expect(wordsOf(app)).toContain('For real cases open the app at its https address')
    expect(all(app, 'button').map(wordsOf)).toEqual(['Try the practice trip'])
    await axe(app).to.be.accessible()
  })

  it('says so in words and offers to try again when the store cannot be opened', async () => {
    const message = 'This browser does not let the app store anything here. Nothing was changed.'
    let calls = 0
    let triedAgain = (): void => undefined
    const again = new Promise<void>(resolve => {
      triedAgain = resolve
    })
    const { app } = await opened({
      openDevice: async () => {
        calls += 1
        if (calls === 2) triedAgain()
        return { ok: false, failure: { type: 'storage-unavailable', message } }
      },
    })
    expect(wordsOf(app)).toContain(message)
    button(app, 'Try again').click()
    await again
    expect(calls).toBe(2)
  })

  it('begins afresh when practice was left half set out', async () => {
    const test = await opened({
      loadPractice: async () => ({
        ...(await import('../../../demo/practice-trip.ts')),
        setOutOnPracticeTrip: () => Promise.reject(new Error('the battery is empty')),
      }),
    })
    button(test.app, 'Try the practice trip').click()
    await until(test.app, () => wordsOf(test.app).includes('the battery is empty'))
  })
})

describe('the practice calendar', () => {
  it('moves on for practice alone, and the list follows', async () => {
    const test = await inPractice()
    await go(test, '#/settings', 'spoke-settings')
    button(test.app, 'Six weeks on').click()
    await until(test.app, () => wordsOf(find(test.app, '.strips')).includes('26 June 2026'))
    location.hash = '#/people'
    await until(test.app, () => wordsOf(find(test.app, 'spoke-people')).includes('follow-up: was due 25 Jun'))
  })
})

describe('a casebook', () => {
  it('is founded with crew, place, name and role, and is empty, locked and found again', async () => {
    const test = await founded()
    expect(wordsOf(find(test.app, 'header'))).toBe('Upper Kesse valley 0 people · River crew')
    const state = test.session.state
    if (state.at !== 'open') throw new Error(`it is ${state.at}`)
    const { casebook } = state.context
    expect(casebook.crew().members.get(casebook.device)).toMatchObject({ name: 'Wenna Dalmor', role: 'therapist' })

    open = await test.reload()
    expect(wordsOf(open.app)).toContain('Everything saved is safe and sealed.')
    await axe(open.app).to.be.accessible()
    await unlock(open, 'seven slow carts cross the dry bridge')
    expect(wordsOf(find(open.app, '#passphrase-error'))).toContain('This passphrase does not open the casebook.')
    await unlock(open, PASSPHRASE)
    await until(open.app, () => has(open?.app ?? document.body, 'header'))
  })

  it('is there as before when the browser has deleted its store, and that is said', async () => {
    const test = await founded()
    const back = await test.reloadWithout('first')
    open = back
    await until(back.app, () => has(back.app, '#passphrase'))
    await unlock(open, PASSPHRASE)
    expect(wordsOf(find(open.app, 'header'))).toContain('Upper Kesse valley')
    expect(wordsOf(find(open.app, '.strips'))).toContain('put back whole from the second copy')
  })

  it('is told as lost, and never taken for a first run, when both copies of its store are gone', async () => {
    const test = await founded()
    const back = await test.reloadWithout('both')
    open = back
    await until(back.app, () => has(back.app, '.choice'))
    expect(wordsOf(find(open.app, '.notice'))).toContain('the browser has deleted it')
    expect(wordsOf(open.app)).not.toContain('nothing is kept yet')
    await axe(open.app).to.be.accessible()
  })

  it('says everything that is missing, and that two passphrases differ, and founds nothing', async () => {
    const test = await opened()
    button(test.app, 'Found a casebook').click()
    await until(test.app, () => has(test.app, '#again'))
    await axe(test.app).to.be.accessible()
    button(test.app, 'Found it').click()
    const needed = ['What your crew calls itself', 'Where it works', 'Your name', 'Passphrase']
    await until(test.app, () => all(test.app, '[aria-invalid=true]').length === needed.length)
    for (const label of needed) {
      const { id } = field(test, label)
      expect(wordsOf(find(test.app, `#${id}-error`)), label).toBe(`Still missing: ${label}.`)
    }
    expect(find(test.app, 'spoke-found').shadowRoot?.activeElement?.id).toBe('crewName')
    for (const label of needed) typeInto(field(test, label), 'one two')
    typeInto(field(test, 'The same once more'), 'two one')
    button(test.app, 'Found it').click()
    await until(test.app, () => has(test.app, '#again-error'))
    expect(wordsOf(find(test.app, '#again-error'))).toContain('The two passphrases are not the same.')
    typeInto(field(test, 'The same once more'), 'one two')
    button(test.app, 'Found it').click()
    await until(test.app, () => has(test.app, '#passphrase-error'))
    expect(wordsOf(find(test.app, '#passphrase-error'))).toContain('The passphrase needs at least 8 letters')
    expect(field(test, 'Your name').value).toBe('one two')
  })

  it('locks when asked and keeps what was being typed', async () => {
    const test = await founded()
    await go(test, '#/new-referral', '#name')
    typeInto(find<HTMLInputElement>(test.app, '#name'), 'Half a na')
    await test.session.lock('idle')
    await until(test.app, () => has(test.app, '#passphrase'))
    expect(wordsOf(test.app)).toContain('Locked because nobody touched it for a while.')
    expect(wordsOf(test.app)).not.toContain('Upper Kesse valley')
    await unlock(test, PASSPHRASE)
    await until(test.app, () => has(test.app, '#name'))
    expect(find<HTMLInputElement>(test.app, '#name').value).toBe('Half a na')
  })

  it('changes its passphrase: only the new one opens it then', async () => {
    const next = 'nine red boats under one grey moon'
    const test = await founded()
    await go(test, '#/settings', '#old')
    typeInto(find<HTMLInputElement>(test.app, '#old'), 'not this one at all')
    typeInto(find<HTMLInputElement>(test.app, '#next'), next)
    typeInto(find<HTMLInputElement>(test.app, '#again'), next)
    button(test.app, 'Change the passphrase').click()
    await until(test.app, () => wordsOf(test.app).includes('This passphrase does not open the casebook.'))
    typeInto(find<HTMLInputElement>(test.app, '#old'), PASSPHRASE)
    button(test.app, 'Change the passphrase').click()
    await until(test.app, () => wordsOf(test.app).includes('From now on only the new one opens this device.'))
    button(test.app, 'Lock now').click()
    await until(test.app, () => has(test.app, '#passphrase'))
    await unlock(test, PASSPHRASE)
    expect(has(test.app, 'spoke-people')).toBe(false)
    await unlock(test, next)
    await until(test.app, () => has(test.app, 'spoke-settings'))
  })

  it('is locked in every window once one of them locks it', async () => {
    const test = await founded()
    const channel = new BroadcastChannel(await storeName())
    channel.postMessage({ news: 'locked' })
    await until(test.app, () => has(test.app, '#passphrase'))
    channel.close()
  })

  it('takes chair models from a file whole or not at all', async () => {
    const test = await founded()
    await go(test, '#/settings', '#file')
    const give = (text: string): void => {
      const files = new DataTransfer()
      files.items.add(new File([text], 'chairs.json', { type: 'application/json' }))
      const input = find<HTMLInputElement>(test.app, '#file')
      input.files = files.files
      input.dispatchEvent(new Event('change'))
    }
    const { default: catalogue } = await import('../../../demo/practice-catalogue.json')
    give(JSON.stringify({ ...catalogue, models: [...catalogue.models, { key: 'broken' }] }))
    await until(test.app, () => wordsOf(test.app).includes('This is not a catalogue file. Nothing was added.'))
    expect(wordsOf(test.app)).toContain('No chair model is in the catalogue.')
    give(JSON.stringify(catalogue))
    await until(test.app, () => wordsOf(test.app).includes('7 models were added.'))
  })
})

/** The name of the store that is open: a database that is not practice and not a catalogue. */
const storeName = async (): Promise<string> => {
  const names = (await indexedDB.databases()).flatMap(({ name }) => name ?? [])
  const found = names.filter(name => name.startsWith('app-test-') && !/-(practice|catalogue)/.test(name)).at(-1)
  if (!found) throw new Error('no store is open')
  return found
}

describe('the frame', () => {
  it('passes the accessibility check on every page', async () => {
    const test = await inPractice()
    for (const [hash, selector] of [
      ['#/people', '.who'],
      ['#/ready', '.line'],
      ['#/settings', 'spoke-settings'],
      ['#/hand-on', 'spoke-hand-on'],
      ['#/new-referral', '#name'],
    ] as const) {
      await go(test, hash, selector)
      await axe(test.app).to.be.accessible()
    }
  })

  it('has one live region, polite, and reads the same words twice', async () => {
    const test = await inPractice()
    const regions = all(test.app, '[aria-live]')
    expect(regions.map(one => one.getAttribute('aria-live'))).toEqual(['polite'])
    const heard: string[] = []
    const watch = new MutationObserver(() => {
      const words = wordsOf(regions[0] ?? document)
      if (words) heard.push(words)
    })
    watch.observe(regions[0] as Node, { childList: true, characterData: true, subtree: true })
    announce('Saved on this device')
    await until(test.app, () => heard.length === 1)
    announce('Saved on this device')
    await until(test.app, () => heard.length === 2)
    watch.disconnect()
  })

  it('takes whoever goes by keyboard along to the page they opened', async () => {
    const test = await inPractice()
    const tab = all(test.app, 'nav a').find(one => wordsOf(one) === 'Ready')
    tab?.focus()
    await sendKeys({ press: 'Enter' })
    await until(test.app, () => has(test.app, 'spoke-ready'))
    expect(test.app.shadowRoot?.activeElement?.classList.contains('pane')).toBe(true)
    expect(find(test.app, '[aria-current="page"]').textContent).toBe('Ready')
  })

  it('shows list and case side by side where there is room, and one of them where there is not', async () => {
    const test = await inPractice()
    const caseId = find<HTMLAnchorElement>(test.app, 'li.person a').hash.split('/')[2]
    const shown = (): readonly boolean[] => all(test.app, '.pane').map(pane => pane.getClientRects().length > 0)
    await go(test, `#/case/${caseId}`, 'spoke-case')
    await setViewport({ width: 360, height: 740 })
    expect(shown()).toEqual([false, true])
    await setViewport({ width: 1366, height: 850 })
    expect(shown()).toEqual([true, true])
  })

  it('speaks another language at once, mirrored for Arabic', async () => {
    const test = await inPractice()
    await setViewport({ width: 1366, height: 850 })
    await go(test, '#/settings', '#language')
    const select = find<HTMLSelectElement & HTMLElement>(test.app, '#language')
    select.value = 'ar'
    select.dispatchEvent(new Event('change'))
    await until(test.app, () => document.documentElement.dir === 'rtl')
    const [list, page] = all(test.app, '.pane').map(pane => pane.getBoundingClientRect())
    expect(list?.left).toBeGreaterThanOrEqual(page?.right ?? Number.POSITIVE_INFINITY)
    expect(document.documentElement.lang).toBe('ar')
  })

  it('goes nowhere sideways at 320 px with letters twice as large', async () => {
    const test = await inPractice()
    await setViewport({ width: 320, height: 740 })
    document.documentElement.style.fontSize = '200%'
    try {
      for (const [hash, selector] of [
        ['#/people', '.who'],
        ['#/ready', '.line'],
        ['#/settings', 'spoke-settings'],
        ['#/hand-on', 'spoke-hand-on'],
        ['#/new-referral', '#name'],
      ] as const) {
        await go(test, hash, selector)
        const frame = find(test.app, '.frame')
        expect(frame.scrollWidth, hash).toBeLessThanOrEqual(320)
      }
    } finally {
      document.documentElement.style.fontSize = ''
    }
  })
})

describe('the watch for idleness', () => {
  it('locks once the time has passed, not before, and not after the watch has ended', () => {
    let locks = 0
    const lock = (): void => {
      locks += 1
    }
    const long = watchIdle(10, lock)
    document.dispatchEvent(new Event('visibilitychange'))
    expect(locks).toBe(0)
    long()
    watchIdle(0, lock)()
    expect(locks).toBe(1)
  })

  it.each([
    ['a finger that goes down', () => new PointerEvent('pointerdown', { pointerType: 'touch', bubbles: true })],
    ['a finger that is still moving', () => new TouchEvent('touchmove', { bubbles: true })],
    ['a mouse', () => new PointerEvent('pointermove', { pointerType: 'mouse', bubbles: true })],
    ['a wheel', () => new WheelEvent('wheel', { bubbles: true })],
    ['a list that scrolls inside the page', () => new Event('scroll')],
    ['a key', () => new KeyboardEvent('keydown', { key: 'Tab', bubbles: true })],
    ['a word that is spoken into a field', () => new InputEvent('input', { bubbles: true })],
  ] as const)('is kept off by %s, wherever on the page', (_, event) => {
    const clock = handClock()
    let locks = 0
    const stop = watchIdle(5, () => (locks += 1), clock.timer)
    const place = document.createElement('div')
    document.body.append(place)
    clock.pass(4 * MINUTE_MS)
    place.dispatchEvent(event())
    clock.pass(5 * MINUTE_MS - 1)
    expect(locks).toBe(0)
    clock.pass(1)
    expect(locks).toBe(1)
    stop()
    place.remove()
  })

  it('locks the device, and begins anew when another time is chosen', async () => {
    const test = await founded()
    await go(test, '#/settings', '#idle')
    const select = find<HTMLSelectElement & HTMLElement>(test.app, '#idle')
    const offered = [...select.options].map(option => Number(option.value))
    expect(offered).toContain(2)
    select.value = '2'
    select.dispatchEvent(new Event('change'))
    expect(test.app.preferences?.idleMinutes()).toBe(2)
    expect(has(test.app, 'spoke-lock')).toBe(false)
  })
})
