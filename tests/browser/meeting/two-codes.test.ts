import { expect as axe } from '@open-wc/testing'
import { sendKeys, setViewport } from '@web/test-runner-commands'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import type { Camera } from '../../../components/meeting/camera.ts'
import '../../../components/meeting/spoke-two-codes.ts'
import type { SpokeTwoCodes } from '../../../components/meeting/spoke-two-codes.ts'
import { changeLanguage } from '../../../components/text/text.ts'
import { heldBy } from '../../support/casebooks.ts'
import { field, found, go, PASSPHRASE, unlock } from '../app/in-app.ts'
import { openApp, type TestApp } from '../app/test-session.ts'
import { all, beyondSides, button, find, has, smallTargets, typeInto, until, wordsOf } from '../case/practice-case.ts'
import { canvasCamera } from './canvas-camera.ts'

const NO_CAMERA: Camera = { open: () => Promise.reject(new DOMException('', 'NotFoundError')) }

const open: TestApp[] = []
beforeEach(() => setViewport({ width: 360, height: 740 }))
afterEach(async () => {
  for (const test of open.splice(0)) await test.end()
  await changeLanguage('en')
})

const app = async (): Promise<TestApp> => {
  const test = await openApp()
  open.push(test)
  return test
}
const casebookOn = ({ session }: TestApp) => {
  if (session.state.at !== 'open') throw new Error(`no casebook is open: ${session.state.at}`)
  return session.state.context.casebook
}
const says = (test: TestApp, words: string): Promise<void> => until(test.app, () => wordsOf(test.app).includes(words))
const press = async (test: TestApp, words: string): Promise<void> => {
  await until(test.app, () => all(test.app, 'button').some(one => wordsOf(one).startsWith(words)))
  button(test.app, words).click()
}

/** Wenna's phone: she founded a casebook of the River crew and writes down these people. */
const wenna = async (...people: readonly string[]): Promise<TestApp> => {
  const test = await found(await app())
  for (const personName of people) {
    const added = await casebookOn(test).addCase({ kind: 'save', set: { personName } })
    if (!added.ok) throw new Error(added.failure.message)
  }
  return test
}
const atTwoCodes = async (test: TestApp, camera: Camera): Promise<TestApp> => {
  await go(test, '#/two-codes', 'spoke-code-walk')
  find<SpokeTwoCodes>(test.app, 'spoke-two-codes').camera = camera
  return test
}

/** A phone that was never used, its lock made, before the first code. */
const newPhone = async (camera: Camera): Promise<TestApp> => {
  const test = await app()
  await press(test, 'Join a crew by two codes')
  await until(test.app, () => has(test.app, '#again'))
  find<HTMLElement & { camera: Camera }>(test.app, 'spoke-join').camera = camera
  typeInto(field(test, 'Passphrase'), PASSPHRASE)
  typeInto(field(test, 'The same once more'), PASSPHRASE)
  await press(test, 'Seal this device, and go on')
  await until(test.app, () => has(test.app, 'spoke-code-walk'))
  return test
}

const shownText = async (test: TestApp): Promise<string> => {
  await until(test.app, () => has(test.app, '.code svg'))
  return find<HTMLTextAreaElement>(test.app, 'textarea[readonly]').value
}
const paste = async (test: TestApp, text: string): Promise<void> => {
  await until(test.app, () => has(test.app, '#pasted'))
  typeInto(find<HTMLTextAreaElement>(test.app, '#pasted'), text)
  await press(test, 'Take this code')
}

/** The two codes carried over as text; the first named shows first. */
const carryCodes = async (first: TestApp, second: TestApp): Promise<void> => {
  await press(first, 'Show the first code')
  await press(second, 'Scan the first code')
  await paste(second, await shownText(first))
  const answer = await shownText(second)
  await press(first, 'Now scan theirs')
  await paste(first, answer)
}

const letIn = async (test: TestApp, name: string, role = 'technician'): Promise<void> => {
  await until(test.app, () => has(test.app, 'spoke-invite'))
  typeInto(field(test, 'Their name'), name)
  find(test.app, `#${role}`).click()
  await press(test, 'Let them in')
}

describe('two phones, by their cameras', () => {
  it('let somebody new in: each reads the other’s screen, and both hold the same', async () => {
    const [hers, his] = [canvasCamera(), canvasCamera()]
    const one = await atTwoCodes(await wenna('Ilse Dorn', 'Tove Marn'), hers)
    const other = await newPhone(his)
    await press(one, 'Show the first code')
    await until(one.app, () => has(one.app, '.code svg'))
    await his.holdBefore(one.app)
    await press(other, 'Scan the first code')
    await says(other, 'Now they scan this')
    expect(his.running()).toBe(0)

    await press(one, 'Now scan theirs')
    await until(other.app, () => has(other.app, '.code svg'))
    await hers.holdBefore(other.app)
    await letIn(one, 'Bram Oskel', 'therapist')
    expect(hers.running()).toBe(0)
    for (const each of [one, other]) await says(each, 'Both now hold the same.')
    const [members, same] = [casebookOn(one).crew().members, casebookOn(other).crew().members]
    expect(members.get(casebookOn(other).device)).toMatchObject({ name: 'Bram Oskel', role: 'therapist' })
    expect([...same.keys()].sort()).toEqual([...members.keys()].sort())
    expect(await heldBy(casebookOn(other))).toEqual(await heldBy(casebookOn(one)))
    expect(wordsOf(find(one.app, 'spoke-exchange'))).toMatch(/^Bram Oskel .*\d+ entries went over\.$/)
    expect(wordsOf(find(other.app, 'spoke-exchange'))).toMatch(/^Wenna Dalmor .*entries came in, for 2 people\.$/)
  })
})

describe('two phones, by codes sent as text', () => {
  it('let somebody new in who shows the first code, and meet again later as two of the crew', async () => {
    const one = await atTwoCodes(await wenna('Ilse Dorn'), NO_CAMERA)
    const other = await newPhone(NO_CAMERA)
    await carryCodes(other, one)
    await letIn(one, 'Bram Oskel')
    for (const each of [one, other]) await says(each, 'Both now hold the same.')

    await other.session.lock('asked')
    await until(other.app, () => has(other.app, '#passphrase'))
    await unlock(other, PASSPHRASE)
    await until(other.app, () => has(other.app, 'spoke-code-walk'))
    find<SpokeTwoCodes>(other.app, 'spoke-two-codes').camera = NO_CAMERA
    await says(one, 'What had come by then is kept')
    await casebookOn(other).addCase({ kind: 'save', set: { personName: 'Jory Fenn' } })
    await carryCodes(one, other)
    await says(one, 'Both now hold the same.')
    await says(one, '1 entry came in, for 1 person.')
    expect(await heldBy(casebookOn(other))).toEqual(await heldBy(casebookOn(one)))
  })

  it('refuse codes that lead nowhere, in words, and go on waiting for the right one', async () => {
    const one = await atTwoCodes(await wenna(), NO_CAMERA)
    await press(one, 'Show the first code')
    const own = await shownText(one)
    await press(one, 'Now scan theirs')
    await says(one, 'No camera was found.')
    await press(one, 'Take this code')
    await says(one, 'Put the code that was sent to you here first.')
    await paste(one, 'good morning')
    await says(one, 'This is not a code of this page. Nothing was changed.')
    await paste(one, own)
    await says(one, 'This is the code of this device itself.')
    const other = await newPhone(NO_CAMERA)
    await press(other, 'Show the first code')
    await paste(one, await shownText(other))
    await says(one, 'Both devices show a first code.')
    await press(other, 'Begin again')
    await press(other, 'Scan the first code')
    await paste(other, own.slice(0, -1))
    await says(other, 'The code was not read whole.')
    await paste(other, own)
    await paste(one, await shownText(other))
    await says(one, 'Somebody new')
    await says(other, 'They are letting you in')
  })
})

describe('letting in', () => {
  it('keeps the name that was typed when the other one goes, for the next meeting', async () => {
    const one = await atTwoCodes(await wenna(), NO_CAMERA)
    const other = await newPhone(NO_CAMERA)
    await carryCodes(one, other)
    await until(one.app, () => has(one.app, 'spoke-invite'))
    typeInto(field(one, 'Their name'), 'Bram Osk')
    find(one.app, '#visitor').click()
    await press(other, 'Back')
    await says(one, 'What you typed stays for the next meeting.')

    await says(other, 'Everything saved is safe and sealed.')
    await unlock(other, PASSPHRASE)
    await says(other, 'The lock of this device is made, and no casebook is here yet')
    await press(other, 'Join a crew by two codes')
    await until(other.app, () => has(other.app, 'spoke-code-walk'))
    find<HTMLElement & { camera: Camera }>(other.app, 'spoke-join').camera = NO_CAMERA
    await carryCodes(one, other)
    await until(one.app, () => has(one.app, 'spoke-invite'))
    expect(field(one, 'Their name').value).toBe('Bram Osk')
    await letIn(one, 'Bram Oskel', 'visitor')
    await says(other, 'Both now hold the same.')
    expect(casebookOn(other).crew().members.get(casebookOn(other).device)?.role).toBe('visitor')
  })

  it('asks for a name, and lets nobody in who is declined: told so, and free to try again', async () => {
    const one = await atTwoCodes(await wenna('Ilse Dorn'), NO_CAMERA)
    const other = await newPhone(NO_CAMERA)
    await carryCodes(one, other)
    await press(one, 'Let them in')
    await says(one, 'Still missing: Their name.')
    await press(one, 'Do not let them in')
    await says(other, 'The connection ended before the other device had invited this one.')
    expect(has(other.app, 'spoke-code-walk')).toBe(true)
    expect(casebookOn(one).crew().members.size).toBe(1)
  })

  it('asks no second time for a name that was given when a meeting broke off', async () => {
    const one = await atTwoCodes(await wenna('Ilse Dorn'), NO_CAMERA)
    const other = await newPhone(NO_CAMERA)
    const key = other.session.device?.deviceKey
    if (!key) throw new Error('no key on the new phone')
    const { device, publicKey } = key
    const added = await casebookOn(one).addMember({ device, key: publicKey, name: 'Bram Oskel', role: 'coordinator' })
    if (!added.ok) throw new Error(added.failure.message)
    await carryCodes(other, one)
    for (const each of [one, other]) await says(each, 'Both now hold the same.')
    expect(casebookOn(other).crew().members.get(device)).toMatchObject({ name: 'Bram Oskel', role: 'coordinator' })
    expect(casebookOn(one).crew().differences).toEqual([])
  })

  it('lets nobody hang on a page that was left', async () => {
    const one = await atTwoCodes(await wenna(), NO_CAMERA)
    const other = await newPhone(NO_CAMERA)
    await carryCodes(one, other)
    await until(one.app, () => has(one.app, 'spoke-invite'))
    await go(one, '#/settings', 'spoke-settings')
    await says(other, 'The connection ended before the other device had invited this one.')
  })
})

describe('a first exchange that broke off at once', () => {
  it('is told on every page, and goes on at the next meeting', async () => {
    const one = await atTwoCodes(await wenna('Ilse Dorn'), NO_CAMERA)
    const other = await newPhone(NO_CAMERA)
    await carryCodes(one, other)
    await until(one.app, () => has(one.app, 'spoke-invite'))
    typeInto(field(one, 'Their name'), 'Bram Oskel')
    button(one.app, 'Let them in').click()
    // What is being written is finished before it locks: he is let in, and nothing is exchanged any more.
    await one.session.lock('asked')
    await says(other, 'What had come by then is kept')
    await go(other, '#/people', 'spoke-people')
    await says(other, 'What the crew holds has not come to this device yet, so nothing can be written down.')

    await unlock(one, PASSPHRASE)
    for (const each of [one, other]) await atTwoCodes(each, NO_CAMERA)
    await carryCodes(other, one)
    for (const each of [one, other]) await says(each, 'Both now hold the same.')
    await go(other, '#/people', 'li.person')
    await until(other.app, () => !wordsOf(other.app).includes('has not come'))
    expect(await heldBy(casebookOn(other))).toEqual(await heldBy(casebookOn(one)))
  })
})

describe('the camera', () => {
  it('is let go when the page is left, and asked again after it was refused', async () => {
    const camera = canvasCamera()
    let isAllowed = false
    const one = await atTwoCodes(await wenna(), {
      open: () => (isAllowed ? camera.open() : Promise.reject(new DOMException('', 'NotAllowedError'))),
    })
    await press(one, 'Scan the first code')
    await says(one, 'The camera may not be used here.')
    expect(find<HTMLDetailsElement>(one.app, 'details').open).toBe(true)
    isAllowed = true
    await press(one, 'Try the camera again')
    await says(one, 'Looking for the code…')
    expect(camera.running()).toBe(1)
    await go(one, '#/settings', 'spoke-settings')
    expect(camera.running()).toBe(0)
  })
})

describe('the page', () => {
  it('is gone through by keyboard, and takes whoever listens along', async () => {
    const one = await atTwoCodes(await wenna(), NO_CAMERA)
    await until(one.app, () => has(one.app, 'spoke-code-walk'))
    button(one.app, 'Show the first code').focus()
    await sendKeys({ press: 'Enter' })
    await until(one.app, () => has(one.app, '.code svg'))
    const focused = (): Element | null => {
      let element = document.activeElement
      while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement
      return element
    }
    expect(focused()?.textContent).toBe('Let them scan this')
    await sendKeys({ press: 'Tab' })
    expect(focused()?.textContent).toBe('Now scan theirs')
    await sendKeys({ press: 'Enter' })
    await says(one, 'Scan their code')
    expect(focused()?.textContent).toBe('Scan their code')
  })

  it('leaves the tabs at the thumb, at the end of the screen', async () => {
    const one = await atTwoCodes(await wenna(), NO_CAMERA)
    const bottomPx = (): number => find(one.app, 'nav').getBoundingClientRect().bottom
    expect(find(one.app, 'nav').getBoundingClientRect().height).toBeLessThan(120)
    expect(bottomPx()).toBe(one.app.getBoundingClientRect().bottom)
    await press(one, 'Show the first code')
    await until(one.app, () => has(one.app, '.code svg'))
    expect(bottomPx()).toBe(one.app.getBoundingClientRect().bottom)
  })

  it('has nothing to exchange in practice, and says why', async () => {
    const test = await app()
    await press(test, 'Try the practice trip')
    await until(test.app, () => has(test.app, 'li.person'))
    await go(test, '#/two-codes', 'spoke-two-codes')
    await says(test, 'This is practice, and practice is each device’s own')
    expect(has(test.app, 'spoke-code-walk')).toBe(false)
  })

  it.each(['en', 'es', 'fr', 'ar'] as const)(
    'keeps within 320 px and under the finger at every step, in %s',
    async language => {
      const one = await atTwoCodes(await wenna(), NO_CAMERA)
      const other = await newPhone(NO_CAMERA)
      await setViewport({ width: 320, height: 640 })
      const fits = async (test: TestApp): Promise<void> => {
        await changeLanguage(language)
        await test.app.updateComplete
        const page = find(test.app, 'spoke-two-codes, spoke-join')
        expect(beyondSides(page, 320)).toEqual([])
        expect(smallTargets(page)).toEqual([])
        expect(wordsOf(page)).not.toMatch(/undefined|null|\{/)
        await axe(page).to.be.accessible()
        await changeLanguage('en')
      }
      for (const each of [one, other]) await fits(each)
      await press(one, 'Show the first code')
      await press(other, 'Scan the first code')
      const offer = await shownText(one)
      for (const each of [one, other]) await fits(each)
      await paste(other, offer)
      const answer = await shownText(other)
      await fits(other)
      await press(one, 'Now scan theirs')
      await paste(one, answer)
      await until(one.app, () => has(one.app, 'spoke-invite'))
      await says(other, 'They are letting you in')
      for (const each of [one, other]) await fits(each)
      await letIn(one, 'Bram Oskel')
      for (const each of [one, other]) await says(each, 'Both now hold the same.')
      for (const each of [one, other]) await fits(each)
    },
  )
})
