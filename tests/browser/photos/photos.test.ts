import { expect } from '@open-wc/testing'
import { sendKeys, setViewport } from '@web/test-runner-commands'
import { html } from 'lit'
import { afterEach, describe, it } from 'vitest'
import type { SpokePhotos } from '../../../components/case/photos/spoke-photos.ts'
import type { CaseId } from '../../../src/ids.ts'
import { toBase64Url } from '../../../sync/bytes.ts'
import { asBlob, cameraPicture, EXIF_SEGMENT, exifSegment, segmentsOf, withExif } from '../../support/camera-file.ts'
import { expectOk } from '../../support/casebooks.ts'
import {
  all,
  beyondSides,
  bramsPhone,
  button,
  find,
  has,
  meet,
  newCase,
  noorsPhone,
  type Phone,
  show,
  smallTargets,
  typeInto,
  until,
  wordsOf,
} from '../case/practice-case.ts'
import {
  addTo,
  choose,
  focused,
  hand,
  isOpen,
  isTakenBack,
  jpegFile,
  showPhotos,
  standing,
  untilPictures,
} from './practice-photos.ts'

const agreed = { personName: 'Ilse Dorn', photoAgreed: true }
const withCase = async (facts: Readonly<Record<string, unknown>> = agreed) => {
  const phone = await noorsPhone()
  return { phone, caseId: await newCase(phone, facts) }
}
const sayAgreed = async ({ casebook }: Phone, caseId: CaseId, photoAgreed: boolean): Promise<void> => {
  const over = ((await casebook.view(caseId))?.heads.photoAgreed ?? []).map(({ id }) => id)
  expectOk(await casebook.save(caseId, { kind: 'save', set: { photoAgreed }, over }))
}
/** The same casebook, but for what a test puts in its place. */
const changed = (phone: Phone, change: Partial<Phone['casebook']>): Phone => {
  const casebook = new Proxy(phone.casebook, {
    get: (target, name) => {
      if (Object.hasOwn(change, name)) return Reflect.get(change, name)
      const value: unknown = Reflect.get(target, name, target)
      return typeof value === 'function' ? value.bind(target) : value
    },
  })
  return { casebook, app: { ...phone.app, casebook } }
}

afterEach(async () => {
  document.body.replaceChildren()
  location.hash = ''
  await setViewport({ width: 800, height: 600 })
})

describe('adding a photo', () => {
  it('draws it anew, without the place that the camera wrote into it, and says what it shows, when and by whom', async () => {
    const { phone, caseId } = await withCase()
    const element = await showPhotos(phone, caseId)
    expect(wordsOf(element)).to.contain('No photos yet.')
    button(element, 'Add a photo').click()
    await until(element, () => has(element, '#camera'))
    choose(element, 'Skin')
    typeInto(find<HTMLInputElement>(element, '#note'), 'left heel')
    const taken = withExif(await cameraPicture(400, 300))
    expect(segmentsOf(taken)).to.include(EXIF_SEGMENT)
    hand(element, 'camera', [new File([taken], 'IMG_2041.jpg', { type: 'image/jpeg' })])
    await untilPictures(element, 1)

    const [photo, ...others] = await standing(phone, caseId)
    expect(others).to.deep.equal([])
    const { id: _, hash = '', ...said } = photo ?? { id: '' }
    expect(said).to.deep.equal({ shows: 'skin', on: '2026-05-12', note: 'left heel', by: phone.casebook.device })
    const bytes = (await phone.casebook.photo(caseId, hash as never)) ?? new Uint8Array()
    expect(segmentsOf(bytes)).not.to.include(EXIF_SEGMENT)
    const latin = (of: Uint8Array): string => new TextDecoder('latin1').decode(of)
    expect(latin(bytes)).not.to.contain(latin(exifSegment().subarray(-24)))
    const digest = await crypto.subtle.digest('SHA-256', bytes as Uint8Array<ArrayBuffer>)
    expect(toBase64Url(new Uint8Array(digest))).to.equal(hash)
    // It stands upright (the camera said: a quarter to the right), and no name of a file is kept.
    const { width, height } = await createImageBitmap(asBlob(bytes), { imageOrientation: 'none' })
    expect([width, height]).to.deep.equal([300, 400])
    const record = JSON.stringify(await phone.casebook.record(caseId))
    expect(record).not.to.contain('IMG_2041')
    expect(wordsOf(find(element, '.thumb'))).to.equal('Skin 12 May 2026 Noor left heel')
    await until(element, () => focused()?.classList.contains('opener') ?? false)
    expect(wordsOf(element)).to.contain('1 photo added, saved on this device')
    await expect(element).to.be.accessible()
  })

  it('asks first what it shows; the camera is not opened before', async () => {
    const { phone, caseId } = await withCase()
    const element = await showPhotos(phone, caseId)
    button(element, 'Add a photo').click()
    await until(element, () => has(element, '#camera'))
    const opened: string[] = []
    for (const id of ['camera', 'files'])
      find<HTMLInputElement>(element, `#${id}`).addEventListener('click', event => {
        event.preventDefault()
        opened.push(id)
      })
    button(element, 'Take a photo').click()
    await until(element, () => has(element, '.error'))
    expect(wordsOf(find(element, '.error'))).to.equal('Say first what the photo shows.')
    expect(opened).to.deep.equal([])
    choose(element, 'A part')
    button(element, 'Take a photo').click()
    button(element, 'Choose photos').click()
    expect(opened).to.deep.equal(['camera', 'files'])
    const camera = find<HTMLInputElement>(element, '#camera')
    // HTML Media Capture (W3C): the camera at the back, without a permission being asked of the page.
    expect([camera.accept, camera.getAttribute('capture')]).to.deep.equal(['image/*', 'environment'])
    expect(find<HTMLInputElement>(element, '#files').multiple).to.equal(true)
  })

  it('takes many files one after the other; one that is no photo stops none and is named with what to do', async () => {
    const { phone, caseId } = await withCase()
    const element = await showPhotos(phone, caseId)
    button(element, 'Add a photo').click()
    await until(element, () => has(element, '#files'))
    choose(element, 'Home and ways')
    const text = new File(['not a photo'], 'notes.txt', { type: 'text/plain' })
    hand(element, 'files', [await jpegFile('a.jpg', 401), text, await jpegFile('b.jpg', 4000, 3000)])
    await untilPictures(element, 2)
    await until(element, () => has(element, '.refused'))
    expect(all(element, '.refused').map(wordsOf)).to.deep.equal([
      'notes.txt was not added. It cannot be read as a photo. Take it again, or choose another file.',
    ])
    expect(wordsOf(element)).to.contain('2 photos added, saved on this device')
    expect((await standing(phone, caseId)).map(({ shows }) => shows)).to.deep.equal(['home', 'home'])
    await expect(element).to.be.accessible()
  })

  for (const [type, words] of [
    ['storage-full', 'This device has no room left. Everything saved before is safe.'],
    ['storage-failed', 'The store of this device did not take'],
  ] as const)
    it(`says so in words when the store refuses (${type}), and keeps what was typed`, async () => {
      const { phone, caseId } = await withCase()
      const refusing = changed(phone, {
        addPhoto: async () => ({ ok: false, failure: { type, message: 'not these words' } }),
      })
      const element = await showPhotos(refusing, caseId)
      button(element, 'Add a photo').click()
      await until(element, () => has(element, '#files'))
      choose(element, 'The chair')
      typeInto(find<HTMLInputElement>(element, '#note'), 'bent footrest')
      hand(element, 'files', [await jpegFile('a.jpg')])
      await until(element, () => has(element, '.refused'))
      expect(wordsOf(find(element, '.refused'))).to.contain(`a.jpg was not added. ${words}`)
      expect(find<HTMLInputElement>(element, '#note').value).to.equal('bent footrest')
      expect(await standing(phone, caseId)).to.deep.equal([])
    })

  it('beside another part asks only for what belongs there, and shows only that', async () => {
    const { phone, caseId } = await withCase()
    await addTo(phone, caseId, { shows: 'seated-side' })
    await addTo(phone, caseId, { shows: 'home' })
    const element = await showPhotos(phone, caseId, ['seated-front', 'seated-side'])
    await untilPictures(element, 1)
    button(element, 'Add a photo').click()
    await until(element, () => has(element, '#files'))
    expect(all(element, '.answer').map(wordsOf)).to.deep.equal(['Sitting, from the front', 'Sitting, from the side'])
  })
})

describe('agreement', () => {
  it('that nobody asked for is asked for on the spot: the button says so and leads there', async () => {
    const { phone, caseId } = await withCase({ personName: 'Ilse Dorn' })
    const element = await showPhotos(phone, caseId)
    expect(has(element, 'spoke-add-photo')).to.equal(false)
    expect(wordsOf(element)).to.contain('Nobody has asked yet whether photos may be taken.')
    button(element, 'Ask first whether photos may be taken').click()
    await until(element, () => has(element, 'spoke-choice, spoke-flag, input[type=radio]'))
    await expect(element).to.be.accessible()
    choose(element, 'Yes')
    await until(element, () => wordsOf(element).includes('Save 1 answer'))
    button(element, 'Save 1 answer').click()
    await until(element, () => has(element, 'spoke-add-photo'))
    expect((await phone.casebook.view(caseId))?.values.photoAgreed).to.equal(true)
  })

  it('taken back on another phone: nothing is shown any more, in words, and nothing is deleted', async () => {
    const { phone, caseId } = await withCase()
    await addTo(phone, caseId, { shows: 'skin' })
    await addTo(phone, caseId, { shows: 'part' })
    const bram = await bramsPhone(phone)
    const element = await showPhotos(phone, caseId)
    await untilPictures(element, 2)
    const urls = all(element, '.thumb img').map(image => (image as HTMLImageElement).src)
    find(element, '.thumb').click()
    await until(element, () => isOpen(element))
    await sayAgreed(bram, caseId, false)
    await meet(bram, phone)
    await until(element, () => !has(element, '.thumb') && !isOpen(element))
    expect(wordsOf(element)).to.contain('They said no to photos. 2 photos are kept, but not shown and not handed on.')
    for (const url of urls) expect(await isTakenBack(url)).to.equal(true)
    expect(await standing(phone, caseId)).to.have.length(2)
    await expect(element).to.be.accessible()
    await sayAgreed(phone, caseId, true)
    await untilPictures(element, 2)
  })

  it('no longer given: all photos go in one decision, and the record tells that they were there', async () => {
    const { phone, caseId } = await withCase()
    const bytes = [await addTo(phone, caseId, { shows: 'skin' }), await addTo(phone, caseId, { shows: 'part' })]
    await sayAgreed(phone, caseId, false)
    const element = await showPhotos(phone, caseId)
    const before = (await phone.casebook.entryIds(caseId)).length
    button(element, 'Remove all 2 photos').click()
    await until(element, () => has(element, 'spoke-remove-photos'))
    expect(wordsOf(element)).to.contain('Removed for ever: here at once')
    button(element, 'Remove for ever').click()
    await until(element, () => has(element, 'details'))
    expect(await phone.casebook.entryIds(caseId)).to.have.length(before + 1)
    expect(await standing(phone, caseId)).to.deep.equal([])
    expect(wordsOf(find(element, 'details'))).to.equal(
      '2 photos were removed 12 May 2026: 2 photos removed. They do not agree any more. Noor, on this phone',
    )
    await sayAgreed(phone, caseId, true)
    for (const photo of bytes) {
      const again = await phone.casebook.addPhoto(caseId, { bytes: photo, shows: 'skin', on: phone.app.today() })
      expect(!again.ok && again.failure.type).to.equal('photo-removed')
    }
  })

  it('of which two answers stand hides every photo and leads to the difference', async () => {
    const { phone, caseId } = await withCase()
    await addTo(phone, caseId, { shows: 'skin' })
    const bram = await bramsPhone(phone)
    await sayAgreed(bram, caseId, false)
    await sayAgreed(phone, caseId, true)
    await meet(bram, phone)
    const element = await showPhotos(phone, caseId)
    expect(wordsOf(element)).to.contain('One answer says yes to photos, another says no. 1 photo is kept')
    expect(has(element, '.thumb')).to.equal(false)
    const way = find<HTMLAnchorElement>(element, 'a.ask')
    expect(wordsOf(way)).to.equal('Settle the two answers first')
    expect(way.getAttribute('href')).to.equal(`#/case/${caseId}/differences`)
    await expect(element).to.be.accessible()
  })
})

describe('looking at a photo', () => {
  const three = async () => {
    const { phone, caseId } = await withCase()
    for (const [shows, on] of [
      ['skin', '2026-05-10'],
      ['part', '2026-05-11'],
      ['chair', '2026-05-12'],
    ] as const)
      await addTo(phone, caseId, { shows, on })
    const element = await showPhotos(phone, caseId)
    await untilPictures(element, 3)
    return { phone, caseId, element }
  }
  const title = (element: SpokePhotos): string => wordsOf(find(element, 'dialog h2'))

  it('opens and turns from the keyboard, closes with Escape, and gives the focus back', async () => {
    const { element } = await three()
    const thumbs = all(element, '.thumb')
    expect(thumbs.map(one => wordsOf(one).split(' ')[0])).to.deep.equal(['The', 'A', 'Skin'])
    thumbs[0]?.focus()
    await sendKeys({ press: 'Enter' })
    await until(element, () => isOpen(element))
    expect(title(element)).to.equal('The chair, 12 May 2026, Noor')
    expect(find<HTMLImageElement>(element, 'dialog img').alt).to.equal('The chair, 12 May 2026, Noor')
    await expect(element).to.be.accessible()
    await sendKeys({ press: 'ArrowRight' })
    await until(element, () => title(element).startsWith('A part'))
    button(element, 'Next photo').click()
    await until(element, () => title(element).startsWith('Skin'))
    expect(button(element, 'Next photo').getAttribute('aria-disabled')).to.equal('true')
    await sendKeys({ press: 'ArrowLeft' })
    await until(element, () => title(element).startsWith('A part'))
    await sendKeys({ press: 'Escape' })
    await until(element, () => !has(element, 'dialog'))
    expect(wordsOf(focused() ?? document.body)).to.equal('A part 11 May 2026 Noor')
  })

  it('turns the other way where one reads from right to left', async () => {
    const { element } = await three()
    document.documentElement.dir = 'rtl'
    find(element, '.thumb').click()
    await until(element, () => isOpen(element))
    await sendKeys({ press: 'ArrowLeft' })
    await until(element, () => title(element).startsWith('A part'))
    document.documentElement.dir = ''
  })

  it('removes it with a reason only; the address of its picture leads nowhere then', async () => {
    const { phone, caseId, element } = await three()
    find(element, '.thumb').click()
    await until(element, () => isOpen(element))
    const { src } = find<HTMLImageElement>(element, 'dialog img')
    button(element, 'Remove this photo').click()
    await until(element, () => focused()?.matches('input[name=why]') ?? false)
    await expect(element).to.be.accessible()
    button(element, 'Remove for ever').click()
    await until(element, () => has(element, '.error'))
    expect(wordsOf(find(element, '.error'))).to.equal('Say why first.')
    expect(await standing(phone, caseId)).to.have.length(3)
    choose(element, 'They asked for it')
    button(element, 'Remove for ever').click()
    await until(element, () => !has(element, 'dialog') && all(element, '.thumb').length === 2)
    expect((await standing(phone, caseId)).map(({ shows }) => shows)).to.deep.equal(['skin', 'part'])
    expect(await isTakenBack(src)).to.equal(true)
    expect(wordsOf(element)).to.contain('1 photo was removed')
    // The place of what is gone is taken by the part itself.
    expect(focused()).not.to.equal(document.body)
  })

  it('taken out on another phone meanwhile closes it', async () => {
    const { phone, caseId, element } = await three()
    const bram = await bramsPhone(phone)
    find(element, '.thumb').click()
    await until(element, () => isOpen(element))
    const [, , chair] = await standing(phone, caseId)
    const photoRemoved = { hashes: [chair?.hash], on: '2026-05-12', why: 'asked' }
    expectOk(await bram.casebook.save(caseId, { kind: 'save', set: { photoRemoved } }))
    await meet(bram, phone)
    await until(element, () => !isOpen(element) && all(element, '.thumb').length === 2)
    expect(wordsOf(element)).to.contain('1 photo was removed 12 May 2026: 1 photo removed. They asked for it. Bram')
  })

  it('that is on another phone says so, and is there when its bytes come', async () => {
    const { phone, caseId } = await withCase()
    const bytes = await addTo(phone, caseId, { shows: 'skin' })
    const bram = await bramsPhone(phone)
    const element = await showPhotos(bram, caseId)
    await until(element, () => wordsOf(element).includes('Not on this phone'))
    expect(wordsOf(find(element, '.thumb'))).to.equal('Not on this phone Skin 12 May 2026 Noor')
    find(element, '.thumb').click()
    await until(element, () => isOpen(element))
    expect(wordsOf(element)).to.contain('It comes from whoever has it at the next meeting when it is opened.')
    await expect(element).to.be.accessible()
    const [photo] = await standing(bram, caseId)
    if (!photo) throw new Error('the photo is not named')
    expectOk(await bram.casebook.receivePhoto(caseId, photo.hash, bytes))
    await untilPictures(element, 1)
    await until(element, () => has(element, 'dialog img'))
  })
})

describe('the part of photos', () => {
  it('says so while it opens, where there is none, and where the store cannot be read', async () => {
    const opening = await show<SpokePhotos>(undefined, html`<spoke-photos></spoke-photos>`)
    expect(wordsOf(opening)).to.equal('Opening…')
    const { phone, caseId } = await withCase()
    await addTo(phone, caseId, { shows: 'skin' })
    const broken = changed(phone, { photo: () => Promise.reject(new Error('gone')) })
    const element = await showPhotos(broken, caseId)
    await until(element, () => wordsOf(element).includes('cannot be read just now. Everything else is safe.'))
    await expect(element).to.be.accessible()
  })

  it('opens from the store only what fits a screen, and the rest when asked', async () => {
    const { phone, caseId } = await withCase()
    for (let count = 0; count < 14; count += 1) await addTo(phone, caseId, { shows: 'home' })
    const asked: string[] = []
    const watched = changed(phone, {
      photo: (id, hash) => {
        asked.push(hash)
        return phone.casebook.photo(id, hash)
      },
    })
    const element = await showPhotos(watched, caseId)
    await untilPictures(element, 12)
    expect(asked).to.have.length(12)
    button(element, 'Show all 14 photos').click()
    await untilPictures(element, 14)
  })

  it('takes back the addresses of its pictures when it is closed, and shows them again when it is opened', async () => {
    const { phone, caseId } = await withCase()
    await addTo(phone, caseId, { shows: 'skin' })
    const element = await showPhotos(phone, caseId)
    await untilPictures(element, 1)
    const { src } = find<HTMLImageElement>(element, '.thumb img')
    expect(await isTakenBack(src)).to.equal(false)
    const place = element.parentElement as HTMLElement
    element.remove()
    expect(await isTakenBack(src)).to.equal(true)
    place.append(element)
    await until(element, () => has(element, '.thumb img'))
    await untilPictures(element, 1)
  })

  it('keeps its width at 320 px, with letters twice as large and from right to left, with targets for a glove', async () => {
    await setViewport({ width: 320, height: 720 })
    const { phone, caseId } = await withCase()
    await addTo(phone, caseId, { shows: 'seated-behind', note: 'a-word-without-a-break-that-goes-on-and-on-and-on' })
    await addTo(phone, caseId, { shows: 'part' })
    const element = await showPhotos(phone, caseId)
    await untilPictures(element, 2)
    const look = (): void => {
      expect(smallTargets(element)).to.deep.equal([])
      expect(beyondSides(element, 320)).to.deep.equal([])
      document.documentElement.style.fontSize = '200%'
      expect(beyondSides(element, 320)).to.deep.equal([])
      document.documentElement.style.fontSize = ''
      document.documentElement.dir = 'rtl'
      expect(beyondSides(element, 320)).to.deep.equal([])
      document.documentElement.dir = ''
    }
    look()
    button(element, 'Add a photo').click()
    await until(element, () => has(element, '#files'))
    look()
    await expect(element).to.be.accessible()
    find(element, '.thumb').click()
    await until(element, () => isOpen(element))
    look()
    const dialog = find<HTMLDialogElement>(element, 'dialog')
    expect(dialog.scrollWidth).to.be.at.most(dialog.clientWidth)
  })
})
