import { expect } from '@open-wc/testing'
import { html } from 'lit'
import { describe, it } from 'vitest'
import '../../../components/app/spoke-contact.ts'
import type { SpokeContact } from '../../../components/app/spoke-contact.ts'
import {
  bramsPhone,
  button,
  find,
  meet,
  noorsPhone,
  type Phone,
  show,
  smallTargets,
  typeInto,
  until,
  wordsOf,
} from '../case/practice-case.ts'

const WORKSHOP = { who: 'Workshop at Dorrow', telephone: '+000 55 01' }
const BRAM = { who: 'Bram', telephone: '+000 55 02' }

const shown = (phone: Phone): Promise<SpokeContact> => show<SpokeContact>(phone, html`<spoke-contact></spoke-contact>`)
const type = (element: SpokeContact, who: string, telephone: string): void => {
  typeInto(find<HTMLInputElement>(element, '#who'), who)
  typeInto(find<HTMLInputElement>(element, '#telephone'), telephone)
}
const save = (element: SpokeContact): void => button(element, 'Save whom to call').click()

describe('whom people call, in the settings', () => {
  it('is typed and saved, and stands there the next time', async () => {
    const phone = await noorsPhone()
    const element = await shown(phone)
    type(element, WORKSHOP.who, WORKSHOP.telephone)
    await element.updateComplete
    await expect(element).to.be.accessible()
    expect(smallTargets(element)).to.deep.equal([])
    save(element)
    await until(element, () => phone.casebook.crew().contacts.length === 1)
    expect(phone.casebook.crew().contacts).to.deep.equal([WORKSHOP])
    const again = await shown(phone)
    expect(find<HTMLInputElement>(again, '#telephone').value).to.equal(WORKSHOP.telephone)
  })

  it('needs a name and a number, and says which is missing', async () => {
    const phone = await noorsPhone()
    const element = await shown(phone)
    type(element, WORKSHOP.who, ' ')
    save(element)
    await until(element, () => wordsOf(find(element, '[role=alert]')).includes('Telephone'))
    expect(phone.casebook.crew().contacts).to.deep.equal([])
    expect(find<HTMLInputElement>(element, '#who').value).to.equal(WORKSHOP.who)
  })

  it('is taken back by emptying both', async () => {
    const phone = await noorsPhone()
    expect((await phone.casebook.setContact(WORKSHOP)).ok).to.equal(true)
    const element = await shown(phone)
    type(element, '', '')
    save(element)
    await until(element, () => phone.casebook.crew().contacts.length === 0)
    expect(find<HTMLInputElement>(element, '#who').value).to.equal('')
  })

  it('given apart on two phones shows both, until one is saved', async () => {
    const noor = await noorsPhone()
    const bram = await bramsPhone(noor)
    expect((await noor.casebook.setContact(WORKSHOP)).ok).to.equal(true)
    expect((await bram.casebook.setContact(BRAM)).ok).to.equal(true)
    await meet(bram, noor)
    const element = await shown(noor)
    expect(wordsOf(element)).to.contain('Two were given apart')
    expect(wordsOf(element)).to.contain('Workshop at Dorrow +000 55 01')
    type(element, BRAM.who, BRAM.telephone)
    save(element)
    await until(element, () => !wordsOf(element).includes('Two were given apart'))
    expect(noor.casebook.crew().contacts).to.deep.equal([BRAM])
  })
})
