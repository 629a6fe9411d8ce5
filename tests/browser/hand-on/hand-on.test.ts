import { expect as axe } from '@open-wc/testing'
import { sendKeys, setViewport } from '@web/test-runner-commands'
import { html } from 'lit'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import '../../../components/app/spoke-hand-on.ts'
import type { HandOnPlatform, SpokeHandOn } from '../../../components/app/spoke-hand-on.ts'
import { draftsOf } from '../../../components/controllers/drafts.ts'
import { changeLanguage } from '../../../components/text/text.ts'
import { createMemoryStorage } from '../../../sync/storage/memory.ts'
import { readiness } from '../../../sync/storage/readiness.ts'
import { expectOk, heldBy } from '../../support/casebooks.ts'
import {
  all,
  beyondSides,
  button,
  find,
  has,
  meet,
  newCase,
  noorsPhone,
  type Phone,
  show,
  smallTargets,
  TODAY,
  until,
  wordsOf,
} from '../case/practice-case.ts'
import { bundleOf, fileOf, hip, say, secretOf, sessionOn, twoPhones, WAIT_UNTIL } from './two-phones.ts'

beforeEach(() => setViewport({ width: 360, height: 740 }))
afterEach(() => changeLanguage('en'))

interface Handed {
  readonly shared: File[]
  readonly saved: File[]
}

const platformWith = (shares: boolean, refusal?: DOMException): HandOnPlatform & Handed => {
  const handed: Handed = { shared: [], saved: [] }
  return {
    ...handed,
    canShare: () => shares,
    share: async file => {
      if (refusal) throw refusal
      handed.shared.push(file)
    },
    save: file => void handed.saved.push(file),
  }
}

const pageOn = async (phone: Phone, platform = platformWith(false), storage = createMemoryStorage().open()) => {
  const element = await show<SpokeHandOn>(
    phone,
    html`<spoke-hand-on .platform=${platform} .session=${sessionOn(storage)}></spoke-hand-on>`,
  )
  await until(element, () => has(element, 'button'))
  return element
}

const choose = (element: HTMLElement, ...files: readonly File[]): void => {
  const carried = new DataTransfer()
  for (const file of files) carried.items.add(file)
  const input = find<HTMLInputElement>(element, '#bundles')
  input.files = carried.files
  input.dispatchEvent(new Event('change', { bubbles: true }))
}
/** Taken in, and sealed anew. */
const done = (element: HTMLElement): Promise<void> =>
  until(element, () => has(element, '#bundles') && has(element, '.notice') && has(element, 'button'))
const people = (element: HTMLElement): readonly string[] => all(element, 'li.person').map(wordsOf)
const daysSinceBundle = async (storage: ReturnType<ReturnType<typeof createMemoryStorage>['open']>) =>
  (await readiness({}, storage, TODAY)).daysSinceBundle

describe('handing on', () => {
  it('shares everything sealed, under a name that says nothing of anybody, and the day counts', async () => {
    const { noor, bram } = await twoPhones()
    await newCase(noor, { personName: 'Only Noor' })
    const storage = createMemoryStorage().open()
    const platform = platformWith(true)
    const element = await pageOn(noor, platform, storage)
    expect(wordsOf(element)).toContain('Everything on this device, sealed: 2 cases, about')
    expect(await daysSinceBundle(storage)).toBeNull()
    button(element, 'Hand it on').click()
    await until(element, () => wordsOf(element).includes('Handed over. The Ready page counts from today.'))
    expect(platform.shared.map(file => file.name)).toEqual(['outspoke-2026-05-12.outspoke-bundle'])
    expect(platform.saved).toEqual([])
    expect(await daysSinceBundle(storage)).toBe(0)

    const [file] = platform.shared
    if (!file) throw new Error('nothing was shared')
    const other = await pageOn(bram)
    choose(other, file)
    await done(other)
    expect(await heldBy(bram.casebook)).toEqual(await heldBy(noor.casebook))
  })

  it('saves a file where nothing can be shared', async () => {
    const { noor } = await twoPhones()
    const platform = platformWith(false)
    const storage = createMemoryStorage().open()
    const element = await pageOn(noor, platform, storage)
    expect(all(element, 'button').map(wordsOf)).toEqual(['Save it as a file'])
    button(element, 'Save it as a file').click()
    await until(element, () => wordsOf(element).includes('Saved as outspoke-2026-05-12.outspoke-bundle'))
    expect(platform.saved).toHaveLength(1)
    expect(await daysSinceBundle(storage)).toBe(0)
  })

  it('given up in the share sheet is not counted; refused by the system it becomes a file', async () => {
    const { noor } = await twoPhones()
    const storage = createMemoryStorage().open()
    const givenUp = platformWith(true, new DOMException('', 'AbortError'))
    const element = await pageOn(noor, givenUp, storage)
    button(element, 'Hand it on').click()
    await until(element, () => wordsOf(element).includes('It was not handed over.'))
    expect(givenUp.saved).toEqual([])
    expect(await daysSinceBundle(storage)).toBeNull()

    const refused = platformWith(true, new DOMException('', 'NotAllowedError'))
    const another = await pageOn(noor, refused, storage)
    button(another, 'Hand it on').click()
    await until(another, () => wordsOf(another).includes('does not pass on such files'))
    expect(refused.saved).toHaveLength(1)
    expect(await daysSinceBundle(storage)).toBe(0)
  })

  it('seals anew what is saved meanwhile', async () => {
    const { noor } = await twoPhones()
    const element = await pageOn(noor)
    expect(wordsOf(element)).toContain('1 case,')
    await newCase(noor, { personName: 'Just now' })
    await until(element, () => wordsOf(element).includes('2 cases,'))
  })
})

describe('taking in', () => {
  it('says who is new and what changed with what came, no more', async () => {
    const { noor, bram, tove } = await twoPhones()
    await newCase(bram, { personName: 'Ilse Dorn' })
    await say(bram, tove, hip(430))
    await say(bram, tove, { cannotIssue: { what: 'wait', why: 'the ramp is built first', until: WAIT_UNTIL } })
    const element = await pageOn(noor)
    choose(element, fileOf(await bundleOf(bram)))
    await done(element)
    // One entry founds Ilse's case; two were said of Tove.
    expect(wordsOf(element)).toContain('3 entries were new.')
    expect(wordsOf(element)).toContain('For 1 person something came in')
    expect(wordsOf(element)).toContain('1 person is new here')
    const [told = '', ilse = ''] = people(element)
    expect(ilse).toBe('Ilse Dorn')
    expect(told).toContain('Tove Marn Now stands in the way: Decided to wait until 20 June 2026')
    expect(told).toContain('Next due: Decide again whether a chair can be issued, 20 June 2026')
    // Hips 70 mm wider: whatever chair is best now is wider than the one before.
    const sizes = /Recommended: was \D*(\d+) × \d+, is now \D*(\d+) × \d+/.exec(told)
    expect(Number(sizes?.[2])).toBeGreaterThan(Number(sizes?.[1]))
    expect(find<HTMLAnchorElement>(element, 'a.person').hash).toBe(`#/case/${tove}`)
    expect(wordsOf(element)).not.toContain('What is known of the crew')
    expect(wordsOf(element)).not.toContain('Chair models or stock')
    await axe(element).to.be.accessible()
  })

  it('says so when what came changes nothing that follows, and when nothing is new', async () => {
    const { noor, bram, tove } = await twoPhones()
    await say(bram, tove, { place: 'Low Ferry' })
    const file = fileOf(await bundleOf(bram))
    const element = await pageOn(noor)
    choose(element, file)
    await done(element)
    expect(people(element)).toEqual(['Tove Marn Set-up, holds and what is due are as before.'])
    choose(element, file)
    await until(element, () => wordsOf(element).includes('Nothing new: everything in it was here already.'))
    expect(people(element)).toEqual([])
  })

  it('takes the good of several files, names each other one by what is wrong with it, and these change nothing', async () => {
    const { noor, bram } = await twoPhones()
    await newCase(bram, { personName: 'Ilse Dorn' })
    const good = await bundleOf(bram)
    const damaged = good.slice()
    damaged[60] = (damaged[60] ?? 0) ^ 1
    const newer = good.slice()
    newer[16] = 9
    const foreign = await noorsPhone()
    const later = { ...secretOf(bram), epoch: 3 }
    const bad = [
      fileOf(damaged, 'damaged'),
      fileOf(good.slice(0, 200), 'cut'),
      fileOf(newer, 'newer'),
      fileOf(await bundleOf(foreign), 'foreign'),
      fileOf(await bundleOf(bram, later), 'later'),
      fileOf(new TextEncoder().encode('a letter'), 'letter'),
    ]
    const before = await heldBy(noor.casebook)
    const element = await pageOn(noor)
    choose(element, ...bad)
    await done(element)
    expect(await heldBy(noor.casebook)).toEqual(before)
    const refusals = (): readonly string[] => all(element, '.notice.danger').map(wordsOf)
    const wanted = [
      /^damaged: This bundle was damaged on its way\. Nothing was changed\./,
      /^cut: This bundle is cut short/,
      /^newer: This bundle was made by a later version/,
      /^foreign: This bundle belongs to another casebook\. Nothing was changed\./,
      /^later: This bundle was sealed after somebody was struck off/,
      /^letter: This file is not a bundle/,
    ]
    for (const [index, words] of wanted.entries()) expect(refusals()[index]).toMatch(words)
    expect(wordsOf(element)).not.toContain('Nothing new')
    choose(element, ...bad, fileOf(good))
    await until(element, () => wordsOf(element).includes('1 entry was new.'))
    expect(refusals()).toHaveLength(bad.length)
    expect(people(element)).toEqual(['Ilse Dorn'])
    expect(await heldBy(noor.casebook)).toEqual(await heldBy(bram.casebook))
  })

  it('refuses a bundle that holds only part of a document', async () => {
    const { noor, bram, tove } = await twoPhones()
    await say(bram, tove, hip(430))
    const early = await bram.casebook.stateVector(tove)
    await say(bram, tove, hip(431))
    const halved = new Proxy(bram.casebook, {
      get: (target, name) =>
        name === 'updateSince'
          ? (key: typeof tove, vector: Uint8Array) => target.updateSince(key, key === tove ? early : vector)
          : typeof Reflect.get(target, name) === 'function'
            ? Reflect.get(target, name).bind(target)
            : Reflect.get(target, name),
    })
    const before = await heldBy(noor.casebook)
    const element = await pageOn(noor)
    choose(element, fileOf(await bundleOf({ ...bram, casebook: halved }), 'half'))
    await done(element)
    expect(wordsOf(element)).toContain('half: This bundle holds only part of a record')
    expect(await heldBy(noor.casebook)).toEqual(before)
  })

  it('keeps practice apart: what was practised is refused among real cases', async () => {
    const practice = await noorsPhone()
    await newCase(practice, { personName: 'Practised' })
    const { noor } = await twoPhones()
    const before = await heldBy(noor.casebook)
    const element = await pageOn(noor)
    choose(element, fileOf(await bundleOf(practice)))
    await done(element)
    expect(wordsOf(element)).toContain('belongs to another casebook')
    expect(await heldBy(noor.casebook)).toEqual(before)
    const [platform, storage] = [platformWith(false), createMemoryStorage().open()]
    const practised = await pageOn(practice, platform, storage)
    expect(wordsOf(practised)).toContain('opens only in this practice trip')
    button(practised, 'Save it as a file').click()
    await until(practised, () => wordsOf(practised).includes('Saved as'))
    expect(wordsOf(practised)).not.toContain('Ready page')
    expect(await daysSinceBundle(storage)).toBeNull()
  })

  it('leaves what is half typed as it stands', async () => {
    const { noor, bram, tove } = await twoPhones()
    const typed = [{ field: 'place', value: 'High Fer', over: [], stood: [] }]
    draftsOf(noor.casebook).keep(`${tove} referral`, typed)
    await say(bram, tove, { place: 'Low Ferry' })
    const element = await pageOn(noor)
    choose(element, fileOf(await bundleOf(bram)))
    await done(element)
    expect((await noor.casebook.view(tove))?.values.place).toBe('Low Ferry')
    expect(draftsOf(noor.casebook).kept(`${tove} referral`)).toEqual(typed)
  })

  it('takes what is dropped anywhere on the page', async () => {
    const { noor, bram } = await twoPhones()
    await newCase(bram, { personName: 'Ilse Dorn' })
    const element = await pageOn(noor)
    const carried = new DataTransfer()
    carried.items.add(fileOf(await bundleOf(bram)))
    const event = (name: string): DragEvent =>
      new DragEvent(name, { dataTransfer: carried, bubbles: true, cancelable: true, composed: true })
    expect(document.body.dispatchEvent(event('dragover'))).toBe(false)
    await until(element, () => wordsOf(element).includes('Let go to take it in'))
    expect(document.body.dispatchEvent(event('drop'))).toBe(false)
    await done(element)
    expect(people(element)).toEqual(['Ilse Dorn'])
    expect(wordsOf(element)).not.toContain('Let go to take it in')
  })

  it('tells of a case that the crew has erased meanwhile', async () => {
    const { noor, bram, tove } = await twoPhones()
    expectOk(await bram.casebook.eraseCase(tove))
    const element = await pageOn(noor)
    choose(element, fileOf(await bundleOf(bram)))
    await done(element)
    expect(wordsOf(element)).toContain('1 case is no longer shown')
    expect(noor.casebook.summaries()).toEqual([])
  })
})

describe('the page', () => {
  it('is gone through by keyboard', async () => {
    const { noor } = await twoPhones()
    const platform = platformWith(true)
    const element = await pageOn(noor, platform)
    button(element, 'Hand it on').focus()
    await sendKeys({ press: 'Enter' })
    await until(element, () => platform.shared.length === 1)
    await sendKeys({ press: 'Tab' })
    await sendKeys({ press: 'Tab' })
    const takeIn = find(element, 'spoke-take-in')
    expect(takeIn.shadowRoot?.activeElement?.id).toBe('bundles')
  })

  it.each(['en', 'es', 'fr', 'ar'] as const)('keeps within 320 px and under the finger, in %s', async language => {
    await setViewport({ width: 320, height: 640 })
    await changeLanguage(language)
    const { noor, bram, tove } = await twoPhones()
    await say(bram, tove, hip(430))
    await newCase(bram, { personName: 'Ilse Dorn' })
    const element = await pageOn(noor, platformWith(true))
    choose(
      element,
      fileOf(await bundleOf(bram)),
      fileOf(Uint8Array.of(1), 'a-name-without-any-space-at-all.outspoke-bundle'),
    )
    await until(element, () => people(element).length === 2 && has(element, 'button'))
    expect(beyondSides(element, 320)).toEqual([])
    expect(smallTargets(element)).toEqual([])
    await axe(element).to.be.accessible()
    expect(wordsOf(element)).not.toMatch(/undefined|null|\{/)
  })

  it('of a file from the share sheet: practice leaves it waiting, the crew’s casebook takes it; one that was lost is said', async () => {
    const { noor, bram } = await twoPhones()
    await newCase(bram, { personName: 'Ilse Dorn' })
    const cache = await caches.open('outspoke-shared')
    await cache.put('./shared/1', new Response(new Uint8Array(await bundleOf(bram))))
    const kept = async (): Promise<number> => (await cache.keys()).length
    const practice = await noorsPhone()
    const trying = await pageOn(practice)
    await until(trying, () => wordsOf(trying).includes('A file was shared with the app. It waits'))
    expect(await kept()).toBe(1)
    trying.remove()
    const element = await pageOn(noor)
    await until(element, () => wordsOf(element).includes('1 person is new here'))
    while ((await kept()) > 0) await new Promise(requestAnimationFrame)
    element.remove()
    location.hash = '#/hand-on/not-kept'
    const lost = await pageOn(noor)
    expect(wordsOf(lost)).toContain('The file that was shared could not be kept')
    location.hash = ''
  })

  it('meets once more: two that took in each other’s bundles hold the same', async () => {
    const { noor, bram, tove } = await twoPhones()
    await say(noor, tove, hip(400))
    await say(bram, tove, hip(430))
    const [fromNoor, fromBram] = [fileOf(await bundleOf(noor)), fileOf(await bundleOf(bram))]
    const [one, other] = [await pageOn(noor), await pageOn(bram)]
    choose(one, fromBram)
    await done(one)
    choose(other, fromNoor)
    await done(other)
    expect(await heldBy(noor.casebook)).toEqual(await heldBy(bram.casebook))
    // Both were measured apart: neither takes the other's place, and handover waits.
    expect(people(one)[0]).toContain('Now stands in the way: Hip width')
    await meet(noor, bram)
    expect(await heldBy(noor.casebook)).toEqual(await heldBy(bram.casebook))
  })
})
