import { expect as axe } from '@open-wc/testing'
import { html } from 'lit'
import { describe, expect, it } from 'vitest'
import type { Camera } from '../../../components/app/field-readiness.ts'
import type { OfflineCopy } from '../../../components/app/service-worker.ts'
import '../../../components/app/spoke-ready.ts'
import type { ReadyPlatform, SpokeReady } from '../../../components/app/spoke-ready.ts'
import type { Readiness } from '../../../sync/storage/readiness.ts'
import { all, button, has, noorsPhone, show, until, wordsOf } from '../case/practice-case.ts'

const GOOD: Readiness = {
  offlineCopy: true,
  persisted: true,
  usedBytes: 1_000_000,
  quotaBytes: 10_000_000_000,
  daysSinceBundle: 0,
  daysSinceMeeting: null,
}

interface Device {
  readonly known?: Partial<Readiness>
  readonly camera?: Camera
  readonly copy?: OfflineCopy
  /** What the camera, and the promise to keep, become once they are asked for. */
  readonly cameraThen?: Camera
  readonly persistedThen?: boolean
}

/** The page on a device whose casebook is real and has the practice chairs. */
const readyOn = async ({ known = {}, camera = 'granted', copy = 'in-place', ...then }: Device): Promise<SpokeReady> => {
  let asked = { ...GOOD, ...known }
  let cameraNow = camera
  const platform: ReadyPlatform = {
    readiness: async () => asked,
    camera: async () => cameraNow,
    askToPersist: async () => {
      asked = { ...asked, persisted: then.persistedThen ?? asked.persisted }
      return asked.persisted
    },
    askForCamera: async () => {
      cameraNow = then.cameraThen ?? cameraNow
    },
  }
  const phone = await noorsPhone()
  const real = { ...phone, app: { ...phone.app, practice: false } }
  const element = await show<SpokeReady>(
    real,
    html`<spoke-ready .platform=${platform} .offlineCopy=${copy}></spoke-ready>`,
  )
  await until(element, () => has(element, '.line'))
  return element
}
const openLines = (element: SpokeReady): readonly string[] => all(element, '.line.open').map(wordsOf)

describe('ready for the field', () => {
  it('says so when everything is in order', async () => {
    const element = await readyOn({})
    expect(openLines(element)).toEqual([])
    expect(wordsOf(element)).toContain('This device is ready to leave the network behind.')
    await axe(element).to.be.accessible()
  })

  it.each<readonly [string, Device, string, string | null]>([
    ['the copy is still coming', { copy: 'arriving' }, 'Stay on the network for a moment.', null],
    ['there is no copy', { copy: 'missing' }, 'Open it once while there is a network.', null],
    ['the address keeps no copy', { copy: 'impossible' }, 'Open it at its https address', null],
    [
      'the store may be cleared',
      { known: { persisted: false } },
      'Put the app on the home screen',
      'Ask it to keep everything',
    ],
    ['nobody says whether it may', { known: { persisted: null } }, 'Carry a bundle of everything', null],
    ['there is little room', { known: { usedBytes: 9_900_000_000 } }, 'Delete films and photos', null],
    ['the camera was not asked for', { camera: 'prompt' }, 'Ask now, while somebody can help.', 'Ask for the camera'],
    ['the camera was refused', { camera: 'denied' }, 'Allow it in the settings of the browser.', null],
    ['there is no camera', { camera: 'none' }, 'Photos are left out; codes can be typed.', null],
    ['nothing was ever handed on', { known: { daysSinceBundle: null } }, 'this device holds the only copy', null],
    [
      'the last bundle is old',
      { known: { daysSinceBundle: 9, daysSinceMeeting: 4 } },
      'last handed on 4 days ago',
      null,
    ],
  ])('says what to do when %s', async (_, device, words, ask) => {
    const element = await readyOn(device)
    expect(openLines(element)).toHaveLength(1)
    expect(openLines(element)[0]).toContain(words)
    expect(all(element, '.line button').map(wordsOf)).toEqual(ask === null ? [] : [ask])
    expect(wordsOf(element)).toContain('1 thing to see to before you leave')
    await axe(element).to.be.accessible()
  })

  it('leads from the line about handing on to the page that does it', async () => {
    const element = await readyOn({ known: { daysSinceBundle: null } })
    const [line] = all(element, '.line.open')
    if (!line) throw new Error('no open line')
    expect(all(line, 'a').map(link => [wordsOf(link), link.getAttribute('href')])).toEqual([['Hand on', '#/hand-on']])
    expect(all(element, '.line a')).toHaveLength(1)
  })

  it('asks for the camera by a button, and tells what came of it', async () => {
    const granted = await readyOn({ camera: 'prompt', cameraThen: 'granted' })
    button(granted, 'Ask for the camera').click()
    await until(granted, () => openLines(granted).length === 0)
    const refused = await readyOn({ camera: 'prompt', cameraThen: 'denied' })
    button(refused, 'Ask for the camera').click()
    await until(refused, () => wordsOf(refused).includes('The camera may not be used.'))
    expect(has(refused, '.line button')).toBe(false)
  })

  it('asks the browser to keep what is stored, and stays with what to do when it says no', async () => {
    const kept = await readyOn({ known: { persisted: false }, persistedThen: true })
    button(kept, 'Ask it to keep everything').click()
    await until(kept, () => openLines(kept).length === 0)
    const refused = await readyOn({ known: { persisted: false } })
    button(refused, 'Ask it to keep everything').click()
    await until(refused, () => wordsOf(refused).includes('The browser said no for now.'))
    expect(has(refused, '.line button')).toBe(true)
  })
})
