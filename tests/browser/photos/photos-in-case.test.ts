import { expect } from '@open-wc/testing'
import { html } from 'lit'
import { afterEach, describe, it } from 'vitest'
import '../../../components/case/spoke-case.ts'
import type { SpokeCase } from '../../../components/case/spoke-case.ts'
import { photoHashSchema } from '../../../src/ids.ts'
import { toBase64Url } from '../../../sync/bytes.ts'
import { createCasebook } from '../../../sync/open-casebook.ts'
import { outcomeRules } from '../../../sync/outcome-rules.ts'
import { openPractice } from '../../../sync/storage/open-device.ts'
import { carry, expectOk } from '../../support/casebooks.ts'
import { freshName, rawDatabase } from '../../support/sealed-stores.ts'
import { openApp } from '../app/test-session.ts'
import {
  all,
  bramsPhone,
  button,
  find,
  has,
  newCase,
  noorsPhone,
  show,
  TODAY,
  until,
  wordsOf,
} from '../case/practice-case.ts'
import { addTo, isTakenBack, someJpeg, untilPictures } from './practice-photos.ts'

afterEach(() => {
  document.body.replaceChildren()
  location.hash = ''
})

describe('photos in a case on screen', () => {
  it('stand in a row of their own, and below the parts where they help', async () => {
    const phone = await noorsPhone()
    const caseId = await newCase(phone, 'davor')
    const over = ((await phone.casebook.view(caseId))?.heads.photoAgreed ?? []).map(({ id }) => id)
    expectOk(await phone.casebook.save(caseId, { kind: 'save', set: { photoAgreed: true }, over }))
    await addTo(phone, caseId, { shows: 'part' })
    await addTo(phone, caseId, { shows: 'skin', on: '2026-05-11' })
    const element = await show<SpokeCase>(phone, html`<spoke-case .caseId=${caseId}></spoke-case>`)
    await until(element, () => has(element, 'h1'))
    expect(wordsOf(button(element, 'Photos'))).to.equal('Photos 2 photos, the last: a part, 12 May 2026')
    for (const [part, shown] of [
      ['Assessment', ['Skin']],
      ['Preparing', ['A']],
      ['Follow-up', ['A', 'Skin']],
      ['Photos', ['A', 'Skin']],
      ['Fitting', []],
    ] as const) {
      button(element, part).click()
      await until(
        element,
        () => has(element, 'spoke-add-photo') && wordsOf(find(element, '.row.open')).startsWith(part),
      )
      await untilPictures(element, shown.length)
      expect(all(element, '.thumb').map(one => wordsOf(one).split(' ')[0])).to.deep.equal(shown)
    }
    await expect(element).to.be.accessible()
    button(element, 'Referral').click()
    await until(element, () => !has(element, 'spoke-photos'))
  })

  it('say in their row that they are not shown, and why', async () => {
    const phone = await noorsPhone()
    const caseId = await newCase(phone, { personName: 'Ilse Dorn', photoAgreed: true })
    await addTo(phone, caseId, { shows: 'part' })
    const over = ((await phone.casebook.view(caseId))?.heads.photoAgreed ?? []).map(({ id }) => id)
    expectOk(await phone.casebook.save(caseId, { kind: 'save', set: { photoAgreed: false }, over }))
    const element = await show<SpokeCase>(phone, html`<spoke-case .caseId=${caseId}></spoke-case>`)
    await until(element, () => has(element, 'h1'))
    expect(wordsOf(button(element, 'Photos'))).to.equal('Photos 1 photo, not shown. They said no to photos.')
  })
})

describe('photos and the lock', () => {
  it('are gone from the page when the device is locked: the address of a picture leads nowhere', async () => {
    const { app, session, end } = await openApp()
    const founding = { passphrase: 'six invented words for the test', crewName: 'Crew', place: 'Mill', name: 'Noor' }
    expectOk(await session.found({ ...founding, role: 'therapist' }))
    const { state } = session
    if (state.at !== 'open') throw new Error('not open')
    const { casebook } = state.context
    const set = { personName: 'Ilse Dorn', photoAgreed: true }
    const { caseId } = expectOk(await casebook.addCase({ kind: 'save', set }))
    await addTo({ casebook, app: state.context }, caseId, { shows: 'skin', on: '2026-11-25' })
    location.hash = `#/case/${caseId}/photos`
    await untilPictures(app, 1)
    const { src } = find<HTMLImageElement>(app, '.thumb img')
    expect(src).to.match(/^blob:/)
    expect(await isTakenBack(src)).to.equal(false)
    await session.lock('asked')
    await until(app, () => has(app, 'spoke-lock'))
    expect(await isTakenBack(src)).to.equal(true)
    expect(has(app, 'img')).to.equal(false)
    await end()
  })
})

describe('photos on the disk of this browser', () => {
  it('go with a case that two of the crew erased; those of another case stay', async () => {
    const name = freshName()
    const device = expectOk(await openPractice({ indexedDB, name }))
    const casebook = expectOk(
      await createCasebook({
        ...{ storage: device.storage, deviceKey: device.deviceKey, rules: outcomeRules(), founderName: 'Noor' },
        clock: () => Date.UTC(2026, 4, 12),
        today: () => TODAY,
      }),
    )
    const noor = { casebook, app: { casebook, practice: true, today: () => TODAY } }
    const set = { personName: 'Ilse Dorn', photoAgreed: true }
    const [caseId, other] = [await newCase(noor, set), await newCase(noor, set)]
    const bram = await bramsPhone(noor)
    for (const id of [caseId, caseId, other]) await addTo(noor, id, { shows: 'skin' })
    const count = (): Promise<number> =>
      rawDatabase(name, ['photos'], transaction => {
        const counted = transaction.objectStore('photos').count()
        return () => counted.result
      })
    expect(await count()).to.equal(3)
    expectOk(await casebook.eraseCase(caseId))
    expect(await count()).to.equal(3)
    expectOk(await bram.casebook.eraseCase(caseId))
    await carry(bram.casebook, casebook)
    expect(casebook.erasures().get(caseId)?.state).to.equal('erased')
    expect(await count()).to.equal(1)
    const bytes = await someJpeg()
    const hash = photoHashSchema.parse(
      toBase64Url(new Uint8Array(await crypto.subtle.digest('SHA-256', bytes as Uint8Array<ArrayBuffer>))),
    )
    const sent = await casebook.receivePhoto(caseId, hash, bytes)
    expect(!sent.ok && sent.failure.type).to.equal('erased-case')
    expect(await count()).to.equal(1)
    device.lock()
  })
})
