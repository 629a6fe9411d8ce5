import { expect, nextFrame } from '@open-wc/testing'
import { sendKeys } from '@web/test-runner-commands'
import { html } from 'lit'
import { describe, it } from 'vitest'
import '../../../components/case/spoke-question.ts'
import type { QuestionGroup } from '../../../components/case/question-group.ts'
import type { SpokeQuestion } from '../../../components/case/spoke-question.ts'
import { unsavedCount } from '../../../components/controllers/drafts.ts'
import { changeLanguage } from '../../../components/text/text.ts'
import type { CaseView } from '../../../src/case/case-view.ts'
import type { CaseId } from '../../../src/ids.ts'
import {
  all,
  answer,
  bramsPhone,
  button,
  find,
  has,
  meet,
  newCase,
  noorsPhone,
  type Phone,
  show,
  typeInto,
  until,
  wordsOf,
} from '../case/practice-case.ts'

const viewOf = async (phone: Phone, caseId: CaseId): Promise<CaseView> => {
  const view = await phone.casebook.view(caseId)
  if (!view) throw new Error('no such case')
  return view
}

/** One question with these fields, kept current with the casebook as the case does. */
const ask = async (phone: Phone, caseId: CaseId, fields: QuestionGroup['fields']): Promise<SpokeQuestion> => {
  const group: QuestionGroup = { key: 'home', fields }
  const view = await viewOf(phone, caseId)
  const element = await show<SpokeQuestion>(
    phone,
    html`<spoke-question .view=${view} .group=${group} .form=${'assessment home'}></spoke-question>`,
  )
  phone.casebook.subscribe(async change => {
    if (change.type === 'entries' && change.document === caseId) element.view = await viewOf(phone, caseId)
  })
  return element
}

/** Presses a button and comes when the store has committed. */
const save = async (element: SpokeQuestion, press: () => unknown = () => button(element, 'Save').click()) => {
  let isSaved = false
  element.addEventListener('question-saved', () => {
    isSaved = true
  })
  await press()
  await until(element, () => isSaved)
}

describe('a remote merge during typing', () => {
  it('leaves what is typed, shows the other value with who and when, and both are kept', async () => {
    const noor = await noorsPhone()
    const caseId = await newCase(noor, { personName: 'Ilse Dorn', place: 'Hule' })
    const bram = await bramsPhone(noor)
    const element = await ask(noor, caseId, ['place'])
    const input = find<HTMLInputElement>(element, '#text')
    typeInto(input, 'Kesse Mi')

    const { heads } = await viewOf(bram, caseId)
    await bram.casebook.save(caseId, {
      kind: 'save',
      set: { place: 'Ambrel' },
      over: [heads.place?.[0]?.id].filter(id => id !== undefined),
    })
    await meet(bram, noor)
    await until(element, () => has(element, '.arrived'))

    expect(input.value).to.equal('Kesse Mi')
    expect(wordsOf(find(element, '.arrived'))).to.match(/^Ambrel: Bram, 12 May, \d\d:42 Came in while you were typing/)
    await expect(element).to.be.accessible()

    typeInto(input, 'Kesse Mill')
    await save(element)
    const view = await viewOf(noor, caseId)
    const [difference] = view.differences
    expect(difference?.field).to.equal('place')
    expect(difference?.options.map(option => option.value)).to.deep.equal(['Ambrel', 'Kesse Mill'])
  })

  it('never moves a reading that is being typed, nor its unit', async () => {
    const noor = await noorsPhone()
    const caseId = await newCase(noor, { personName: 'Ilse Dorn' })
    const bram = await bramsPhone(noor)
    const element = await ask(noor, caseId, ['narrowestDoorMm'])
    find<HTMLInputElement>(element, 'input[name=unit][type=radio]')
    const [, cm] = all(element, 'input[name=unit]') as readonly HTMLInputElement[]
    cm?.click()
    const input = find<HTMLInputElement>(element, '#typed')
    typeInto(input, '71.')
    await bram.casebook.save(caseId, { kind: 'save', set: { narrowestDoorMm: { typed: 680, unit: 'mm' } }, over: [] })
    await meet(bram, noor)
    await until(element, () => has(element, '.arrived'))
    expect(input.value).to.equal('71.')
    expect(cm?.checked).to.equal(true)
    expect(wordsOf(find(element, '.arrived'))).to.contain('680 mm: Bram')
    typeInto(input, '71.5')
    await until(element, () => wordsOf(element).includes('= 715 mm'))
  })
})

describe('a risk', () => {
  it('is raised by a yes and lowered only with what was seen or done', async () => {
    const noor = await noorsPhone()
    const caseId = await newCase(noor, { personName: 'Ilse Dorn', presentSore: true })
    const element = await ask(noor, caseId, ['presentSore'])
    answer(element, 'presentSore', 'No').click()
    await until(element, () => has(element, '#why'))
    button(element, 'Save: no longer so').click()
    await until(element, () => has(element, '#needs'))
    expect(wordsOf(find(element, '#needs'))).to.contain('Say what was seen or done first')
    expect((await viewOf(noor, caseId)).values.presentSore).to.equal(true)

    typeInto(find<HTMLTextAreaElement>(element, '#why'), 'Closed, new skin, seen on both sides')
    button(element, 'Save: no longer so').click()
    await until(element, () => !has(element, '#why'))
    const view = await viewOf(noor, caseId)
    expect(view.values.presentSore).to.equal(false)
    const [head] = view.heads.presentSore ?? []
    expect([head?.kind, head?.why]).to.deep.equal(['settle', 'Closed, new skin, seen on both sides'])
  })

  it('stays a yes when the person turns back, and a yes from elsewhere survives a no typed here', async () => {
    const noor = await noorsPhone()
    const caseId = await newCase(noor, { personName: 'Ilse Dorn' })
    const bram = await bramsPhone(noor)
    const element = await ask(noor, caseId, ['fracture', 'seizures'])
    answer(element, 'fracture', 'No').click()
    await bram.casebook.save(caseId, { kind: 'save', set: { fracture: true }, over: [] })
    await meet(bram, noor)
    await until(element, () => has(element, '.arrived'))
    await save(element)
    expect((await viewOf(noor, caseId)).values.fracture).to.equal(true)
  })

  it('"no to all the others" answers only what nobody has answered', async () => {
    const noor = await noorsPhone()
    const caseId = await newCase(noor, { personName: 'Ilse Dorn', pregnancy: true })
    const element = await ask(noor, caseId, ['pregnancy', 'fracture', 'seizures', 'newWeakness'])
    answer(element, 'seizures', 'Yes').click()
    button(element, 'No to all the others').click()
    await element.updateComplete
    await save(element, () => button(element, 'Save 3 answers').click())
    const { values } = await viewOf(noor, caseId)
    expect([values.pregnancy, values.seizures, values.fracture, values.newWeakness]).to.deep.equal([
      true,
      true,
      false,
      false,
    ])
  })
})

describe('what is typed', () => {
  it('is still there when the form is closed and opened again, and counts as not saved until the store has it', async () => {
    const noor = await noorsPhone()
    const caseId = await newCase(noor, { personName: 'Ilse Dorn' })
    const element = await ask(noor, caseId, ['transport'])
    typeInto(find<HTMLTextAreaElement>(element, '#text'), 'Ox cart')
    element.remove()
    expect(unsavedCount(noor.casebook, caseId)).to.equal(1)
    const again = await ask(noor, caseId, ['transport'])
    expect(find<HTMLTextAreaElement>(again, '#text').value).to.equal('Ox cart')
    await save(again)
    expect(unsavedCount(noor.casebook, caseId)).to.equal(0)
    expect((await viewOf(noor, caseId)).values.transport).to.equal('Ox cart')
  })

  it('stays, and the words say why, where the store refuses it', async () => {
    const noor = await noorsPhone()
    const caseId = await newCase(noor, { personName: 'Ilse Dorn' })
    const element = await ask(noor, caseId, ['transport'])
    typeInto(find<HTMLTextAreaElement>(element, '#text'), 'Ox cart')
    await noor.casebook.eraseCase(caseId)
    button(element, 'Save').click()
    await until(element, () => has(element, '[role=alert]'))
    expect(wordsOf(find(element, '[role=alert]'))).to.match(/^Not saved\. .*hidden.* What you typed is still there\.$/)
    expect(find<HTMLTextAreaElement>(element, '#text').value).to.equal('Ox cart')
  })

  it('is not saved as a number where it is none: the words stand beside the field', async () => {
    const noor = await noorsPhone()
    const caseId = await newCase(noor, { personName: 'Ilse Dorn' })
    const element = await ask(noor, caseId, ['narrowestDoorMm', 'birthYear'])
    typeInto(find<HTMLInputElement>(element, '#typed'), '7o0')
    button(element, 'Save').click()
    await until(element, () => has(element, '#error'))
    expect(wordsOf(find(element, '#error'))).to.equal('This is not a number yet.')
    expect(find<HTMLInputElement>(element, '#typed').value).to.equal('7o0')
    expect(find<HTMLInputElement>(element, '#typed').getAttribute('aria-invalid')).to.equal('true')
    await expect(element).to.be.accessible()
  })

  it('that was there before cannot be emptied without a word', async () => {
    const noor = await noorsPhone()
    const caseId = await newCase(noor, { personName: 'Ilse Dorn', place: 'Hule' })
    const element = await ask(noor, caseId, ['place'])
    typeInto(find<HTMLInputElement>(element, '#text'), '')
    button(element, 'Save').click()
    await until(element, () => has(element, '#error'))
    expect(wordsOf(find(element, '#error'))).to.contain('cannot be left empty')
    expect((await viewOf(noor, caseId)).values.place).to.equal('Hule')
  })
})

describe('fields made from the registry', () => {
  it('choices work with the arrow keys alone', async () => {
    const noor = await noorsPhone()
    const caseId = await newCase(noor, { personName: 'Ilse Dorn' })
    const element = await ask(noor, caseId, ['ground'])
    answer(element, 'ground', 'Smooth').focus()
    await sendKeys({ press: ' ' })
    await sendKeys({ press: 'ArrowDown' })
    await until(element, () => answer(element, 'ground', 'Mixed').checked)
    button(element, 'Save').focus()
    await save(element, () => sendKeys({ press: 'Enter' }))
    expect((await viewOf(noor, caseId)).values.ground).to.equal('mixed')
  })

  it('an open difference is shown with both sides and is not overwritten by a form', async () => {
    const noor = await noorsPhone()
    const caseId = await newCase(noor, { personName: 'Ilse Dorn' })
    const bram = await bramsPhone(noor)
    await bram.casebook.save(caseId, { kind: 'save', set: { ground: 'rough' }, over: [] })
    await noor.casebook.save(caseId, { kind: 'save', set: { ground: 'smooth' }, over: [] })
    await meet(bram, noor)
    const element = await ask(noor, caseId, ['ground'])
    const words = wordsOf(element)
    expect(words).to.contain('Two answers stand')
    expect(words).to.match(/Rough: Bram/)
    expect(words).to.match(/Smooth: Noor, on this phone/)
    expect(all(element, 'input')).to.have.length(0)
    expect(find<HTMLAnchorElement>(element, 'a').getAttribute('href')).to.equal(`#/case/${caseId}/differences`)
  })

  it('limb loss asks how much is left, and says so before it saves without', async () => {
    const noor = await noorsPhone()
    const caseId = await newCase(noor, { personName: 'Ilse Dorn' })
    const element = await ask(noor, caseId, ['limbLossLeft'])
    answer(element, 'limbLossLeft', 'Above the knee').click()
    button(element, 'Save').click()
    await until(element, () => has(element, '#error'))
    expect(wordsOf(find(element, '#error'))).to.contain('Say how much is left')
    button(element, 'More').click()
    await until(element, () => wordsOf(element).includes('50 %'))
    button(element, 'Less').click()
    await until(element, () => wordsOf(element).includes('45 %'))
    await save(element)
    expect((await viewOf(noor, caseId)).values.limbLossLeft).to.deep.equal({
      level: 'transfemoral',
      remainingFraction: 0.45,
    })
  })

  it('"nothing else is missing" answers for every limb that nobody has spoken of', async () => {
    const noor = await noorsPhone()
    const loss = { level: 'transtibial', remainingFraction: 0.5 }
    const caseId = await newCase(noor, { personName: 'Ilse Dorn', limbLossLeft: loss })
    const element = await ask(noor, caseId, ['limbLossLeft', 'limbLossRight', 'armLossLeft', 'armLossRight'])
    button(element, 'Nothing else is missing').click()
    await nextFrame()
    await save(element)
    const { values } = await viewOf(noor, caseId)
    expect([values.limbLossLeft, values.limbLossRight, values.armLossLeft, values.armLossRight]).to.deep.equal([
      loss,
      null,
      null,
      null,
    ])
  })

  it('loads are added, weighed and taken away; carrying nothing is an answer', async () => {
    const noor = await noorsPhone()
    const caseId = await newCase(noor, { personName: 'Ilse Dorn' })
    const element = await ask(noor, caseId, ['loads'])
    button(element, 'Add a load').click()
    await element.updateComplete
    button(element, 'Save').click()
    await until(element, () => has(element, '#error'))
    expect(wordsOf(find(element, '#error'))).to.contain('Say how heavy each load is')
    typeInto(find<HTMLInputElement>(element, '#mass-0'), '12,5')
    await nextFrame()
    const handles = all(element, 'label').find(one => wordsOf(one) === 'On the handles')
    handles?.querySelector('input')?.click()
    await element.updateComplete
    await expect(element).to.be.accessible()
    await save(element)
    expect((await viewOf(noor, caseId)).values.loads).to.deep.equal([{ massKg: 12.5, at: 'handles', when: 'usual' }])
  })

  it('what was told and agreed takes the day and who agreed', async () => {
    const noor = await noorsPhone()
    const caseId = await newCase(noor, { personName: 'Ilse Dorn' })
    const element = await ask(noor, caseId, ['toldAndAgreed'])
    const [told] = all(element, 'input[name=told]')
    told?.click()
    button(element, 'Save').click()
    await until(element, () => has(element, '#error'))
    all(element, 'input[name=agreed]')[0]?.click()
    await nextFrame()
    all(element, 'input[name=by]')[1]?.click()
    await until(element, () => has(element, '#by-name'))
    typeInto(find<HTMLInputElement>(element, '#by-name'), 'Oda Dorn')
    await save(element)
    expect((await viewOf(noor, caseId)).values.toldAndAgreed).to.deep.equal({
      on: '2026-05-12',
      told: true,
      agreed: true,
      by: 'guardian',
      byName: 'Oda Dorn',
    })
  })

  it('change their words with the language of the app', async () => {
    const noor = await noorsPhone()
    const caseId = await newCase(noor, { personName: 'Ilse Dorn' })
    const element = await ask(noor, caseId, ['ground'])
    await changeLanguage('ar')
    await element.updateComplete
    expect(getComputedStyle(find(element, '.answer')).direction).to.equal('rtl')
    await changeLanguage('en')
  })
})
