import { expect } from '@open-wc/testing'
import { setViewport } from '@web/test-runner-commands'
import { html } from 'lit'
import { afterEach, describe, it } from 'vitest'
import '../../../components/case/spoke-case.ts'
import type { SpokeCase } from '../../../components/case/spoke-case.ts'
import { changeLanguage } from '../../../components/text/text.ts'
import type { CaseId } from '../../../src/ids.ts'
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
  until,
  wordsOf,
} from './practice-case.ts'

const showCase = async (
  phone: Phone | undefined,
  caseId?: CaseId,
  section: string | null = null,
): Promise<SpokeCase> => {
  const element = await show<SpokeCase>(phone, html`<spoke-case .caseId=${caseId} .section=${section}></spoke-case>`)
  if (phone && caseId) await until(element, () => has(element, 'h1'))
  return element
}

const openSection = async (element: SpokeCase, title: string): Promise<void> => {
  button(element, title).click()
  await until(element, () => has(element, '.inside') && !has(element, '[aria-busy]'))
}

afterEach(() => {
  location.hash = ''
})

describe('a case on screen', () => {
  it('says who it is, the next thing to do, and what each part came to', async () => {
    const phone = await noorsPhone()
    const element = await showCase(phone, await newCase(phone, 'davor'))
    const words = wordsOf(element)
    // Born 22 January 2001, shown on 12 May 2026.
    expect(words).to.contain('Davor Quillan 25 years · Kesse Mill')
    expect(words).to.contain('Hips 346 mm, thighs 505 / 500, calves 455 / 460, 71 kg')
    expect(words).to.contain('Referred 27 February 2026; told and agreed')
    expect(words).to.contain('Next Choose the chair')
    await expect(element).to.be.accessible()
  })

  it('says in words what stands in the way, and leads there', async () => {
    const phone = await noorsPhone()
    const element = await showCase(phone, await newCase(phone, { ...{ personName: 'Ilse Dorn' }, presentSore: true }))
    expect(wordsOf(find(element, '.waits'))).to.contain('Handover waits Open sore: refer to a health worker first.')
    const link = find<HTMLAnchorElement>(element, '.waits a')
    link.click()
    await until(element, () => has(element, 'spoke-questions'))
    expect(location.hash).to.match(/\/assessment$/)
    expect(element.section).to.equal('assessment')
  })

  it('says so while it opens, where there is no such case, and where it cannot be shown', async () => {
    const phone = await noorsPhone()
    const nothing = await showCase(undefined)
    expect(wordsOf(nothing)).to.contain('not on this phone')
    const caseId = await newCase(phone, 'davor')
    const opening = await show<SpokeCase>(phone, html`<spoke-case .caseId=${caseId}></spoke-case>`)
    expect(wordsOf(opening)).to.equal('Opening…')
    const broken: Phone = {
      ...phone,
      app: {
        ...phone.app,
        casebook: {
          subscribe: () => () => undefined,
          view: () => Promise.reject(new Error('The store is gone.')),
          outcome: () => Promise.resolve(undefined),
        } as unknown as Phone['casebook'],
      },
    }
    const failed = await show<SpokeCase>(broken, html`<spoke-case .caseId=${caseId}></spoke-case>`)
    await until(failed, () => has(failed, '[role=alert]'))
    expect(wordsOf(failed)).to.contain('What was saved is safe. The store is gone.')
  })

  it('keeps the other parts on screen where one cannot be put in words, in every language', async () => {
    const phone = await noorsPhone()
    const caseId = await newCase(phone, { personName: 'Ilse Dorn', presentSore: true })
    // A due and a hold of a kind for which nobody has words, as a later version might bring.
    const outcome = await phone.casebook.outcome(caseId, phone.app.today())
    const due = { ...outcome?.dues.items[0], kind: 'unheard-of', date: '2026-06-01', state: 'due', key: 'unheard-of' }
    const hold = { key: 'unheard-of', reason: { rule: 'unheard-of', inputs: {}, source: 'from-memory' } }
    const odd = {
      ...outcome,
      holds: [hold, ...(outcome?.holds ?? [])],
      dues: { ...outcome?.dues, items: [due] },
    }
    const casebook = new Proxy(phone.casebook, {
      get: (target, name) => {
        if (name === 'outcome') return async () => odd
        const value: unknown = Reflect.get(target, name)
        return typeof value === 'function' ? value.bind(target) : value
      },
    })
    const oddPhone = { ...phone, app: { ...phone.app, casebook } } as Phone
    await changeLanguage('fr')
    try {
      const element = await showCase(oddPhone, caseId)
      // Wording of components/text/fr: the row of the later visits and the hold say that they failed, the rest says itself.
      expect(wordsOf(button(element, 'Suivi'))).to.contain('n’a pas pu être mis en mots')
      expect(wordsOf(find(element, '.waits')))
        .to.contain('n’a pas pu être mis en mots')
        .and.to.contain('Plaie ouverte')
      expect(wordsOf(button(element, 'Mesures'))).not.to.contain('mis en mots')
    } finally {
      await changeLanguage('en')
    }
  })

  it('opens one part at a time, from the keyboard too, and closes it again', async () => {
    const phone = await noorsPhone()
    const element = await showCase(phone, await newCase(phone, 'davor'))
    await openSection(element, 'Referral')
    await openSection(element, 'Measuring')
    expect(all(element, '.row [aria-expanded=true]').map(wordsOf)).to.deep.equal(['Measuring done'])
    button(element, 'Measuring').click()
    await until(element, () => !has(element, '.inside'))
  })

  it('shows what came in from another phone while it is open', async () => {
    const noor = await noorsPhone()
    const caseId = await newCase(noor, 'davor')
    const bram = await bramsPhone(noor)
    const element = await showCase(noor, caseId)
    await bram.casebook.save(caseId, { kind: 'save', set: { presentSore: true }, over: [] })
    await meet(bram, noor)
    await until(element, () => has(element, '.waits'))
    expect(wordsOf(find(element, '.waits'))).to.contain('Open sore')
    expect(wordsOf(button(element, 'Assessment'))).to.contain('Just in from Bram: open sore now')
    await openSection(element, 'Assessment')
    await openSection(element, 'Referral')
    expect(wordsOf(element)).not.to.contain('Just in')
  })

  it('reads on after it was taken off the page and put back', async () => {
    const phone = await noorsPhone()
    const caseId = await newCase(phone, { personName: 'Ilse Dorn' })
    const element = await showCase(phone, caseId)
    const place = element.parentElement as HTMLElement
    element.remove()
    await phone.casebook.save(caseId, { kind: 'save', set: { place: 'Hule' }, over: [] })
    place.append(element)
    await until(element, () => wordsOf(element).includes('Hule'))
  })
})

describe('the parts of a case', () => {
  for (const section of ['Referral', 'Assessment', 'Measuring'])
    it(`${section} is accessible, keeps its width at 320 px, and has targets for a glove`, async () => {
      await setViewport({ width: 320, height: 720 })
      const phone = await noorsPhone()
      const element = await showCase(phone, await newCase(phone, { personName: 'Ilse Dorn' }))
      await openSection(element, section)
      for (const closed of all(element, 'spoke-questions [aria-expanded=false]').map(one => wordsOf(one))) {
        button(element, closed).click()
        await until(element, () => has(element, 'spoke-question'))
        expect(smallTargets(element)).to.deep.equal([])
        expect(beyondSides(element, 320)).to.deep.equal([])
        await expect(element).to.be.accessible()
      }
      expect(smallTargets(element)).to.deep.equal([])
      expect(beyondSides(element, 320)).to.deep.equal([])
      await expect(element).to.be.accessible()
      document.documentElement.style.fontSize = '200%'
      expect(beyondSides(element, 320)).to.deep.equal([])
      document.documentElement.style.fontSize = ''
      document.documentElement.dir = 'rtl'
      expect(beyondSides(element, 320)).to.deep.equal([])
      document.documentElement.dir = ''
      await setViewport({ width: 800, height: 600 })
    })
})
