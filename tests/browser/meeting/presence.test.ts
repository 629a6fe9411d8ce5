import { expect as axe } from '@open-wc/testing'
import { html } from 'lit'
import { afterEach, describe, expect, it } from 'vitest'
import '../../../components/case/photos/spoke-photos.ts'
import '../../../components/case/spoke-case.ts'
import type { SpokeCase } from '../../../components/case/spoke-case.ts'
import type { CaseId } from '../../../src/ids.ts'
import { all, bramsPhone, button, find, has, newCase, noorsPhone, show, until, wordsOf } from '../case/practice-case.ts'
import { addTo, showPhotos, untilPictures } from '../photos/practice-photos.ts'
import { here, lineBetween, type PhoneHere } from './phones-here.ts'

afterEach(() => {
  document.body.replaceChildren()
  location.hash = ''
})

const settled = ({ meetings }: PhoneHere): boolean => meetings.devices.every(({ phase }) => phase === 'equal')

/** Noor and Bram connected, both with Davor's case. */
const twoConnected = async () => {
  const noorHere = await noorsPhone()
  const [noor, bram] = [here(noorHere), here(await bramsPhone(noorHere))]
  const caseId = await newCase(noor, { personName: 'Davor Linn', photoAgreed: true })
  const line = lineBetween(noor, bram)
  await until(document.body, () => bram.casebook.hashes().has(caseId) && settled(bram) && settled(noor))
  return { noor, bram, caseId, line }
}
const caseOn = async (phone: PhoneHere, caseId: CaseId, section: string | null = null): Promise<SpokeCase> => {
  const element = await show<SpokeCase>(phone, html`<spoke-case .caseId=${caseId} .section=${section}></spoke-case>`)
  await until(element, () => has(element, 'h1'))
  return element
}

describe('who else has a case open', () => {
  it('is told in the case, with the part, until they leave it', async () => {
    const { noor, bram, caseId } = await twoConnected()
    const onNoors = await caseOn(noor, caseId)
    const onBrams = await caseOn(bram, caseId, 'assessment')
    await until(onNoors, () => has(onNoors, '.other'))
    expect(all(onNoors, '.other').map(wordsOf)).toEqual(['Bram has this case open · Assessment'])
    expect(all(onBrams, '.other').map(wordsOf)).toEqual(['Noor has this case open'])
    const { presence } = bram.meetings
    const told: (CaseId | null)[] = []
    const tell = presence.here.bind(presence)
    presence.here = place => {
      told.push(place.caseId)
      tell(place)
    }
    onBrams.remove()
    // What came in just before has it rendered once more, off the page: that tells nothing.
    onBrams.requestUpdate()
    await onBrams.updateComplete
    expect(told).toEqual([null])
    await until(onNoors, () => !has(onNoors, '.other'))
    presence.here({ caseId, section: 'choosing', field: null })
    await until(onNoors, () => has(onNoors, '.other'))
    await axe(onNoors).to.be.accessible()
  })

  it('is gone with the connection, and nobody is named in another case', async () => {
    const { noor, bram, caseId, line } = await twoConnected()
    const onNoors = await caseOn(noor, caseId)
    const another = await newCase(noor, { personName: 'Ilan Dusk' })
    const onAnother = await caseOn(noor, another)
    bram.meetings.presence.here({ caseId, section: null, field: null })
    await until(onNoors, () => has(onNoors, '.other'))
    expect(has(onAnother, '.other')).toBe(false)
    line.close()
    await until(onNoors, () => !has(onNoors, '.other'))
  })

  it('is told at the very field, while the focus of the other one is in it', async () => {
    const { noor, bram, caseId } = await twoConnected()
    const onNoors = await caseOn(noor, caseId, 'referral')
    const onBrams = await caseOn(bram, caseId, 'referral')
    await until(onNoors, () => has(onNoors, 'spoke-text'))
    await until(onBrams, () => has(onBrams, 'spoke-text'))
    const name = find<HTMLInputElement>(find(onBrams, 'spoke-text'), 'input')
    name.focus()
    await until(onNoors, () => has(onNoors, '.at-field'))
    expect(all(onNoors, '.at-field').map(wordsOf)).toEqual(['Bram is filling this in just now.'])
    expect(has(onBrams, '.at-field')).toBe(false)
    name.blur()
    await until(onNoors, () => !has(onNoors, '.at-field'))
  })
})

describe('a photo that is not on this phone', () => {
  it('is fetched from whoever is connected when it is opened', async () => {
    const { noor, bram, caseId } = await twoConnected()
    await addTo(noor, caseId, { shows: 'chair' })
    await until(document.body, () => settled(noor) && settled(bram))
    const element = await showPhotos(bram, caseId)
    await until(element, () => wordsOf(element).includes('Not on this phone'))
    find(element, '.thumb').click()
    await untilPictures(element, 1)
    await until(element, () => has(element, 'dialog img'))
  })

  it('is said to be with nobody who is connected, and asked for again when it is opened anew', async () => {
    const { noor, bram, caseId } = await twoConnected()
    await addTo(noor, caseId, { shows: 'chair' })
    await until(document.body, () => settled(noor) && settled(bram))
    const element = await showPhotos(bram, caseId)
    await until(element, () => wordsOf(element).includes('Not on this phone'))
    let isNowhere = true
    const ask = bram.meetings.askForPhoto.bind(bram.meetings)
    bram.meetings.askForPhoto = (...of) => (isNowhere ? Promise.resolve(false) : ask(...of))
    find(element, '.thumb').click()
    await until(element, () => wordsOf(element).includes('None of the devices that are connected now has this photo.'))
    await axe(element).to.be.accessible()
    isNowhere = false
    button(element, 'Close').click()
    await until(element, () => !has(element, 'spoke-photo-dialog'))
    find(element, '.thumb').click()
    await until(element, () => has(element, 'dialog img'))
  })
})
