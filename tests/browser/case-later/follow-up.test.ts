import { expect } from '@open-wc/testing'
import { html } from 'lit'
import { describe, it } from 'vitest'
import '../../../components/case/follow-up/spoke-follow-up.ts'
import type { SpokeFollowUp } from '../../../components/case/follow-up/spoke-follow-up.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { all, button, find, has, show, smallTargets, typeInto, until, wordsOf } from '../case/practice-case.ts'
import { chairAt, outcomeOf, type PracticeChair, pick, viewOf } from './practice-chair.ts'

const showFollowUp = async (chair: PracticeChair): Promise<SpokeFollowUp> => {
  const [view, outcome] = await Promise.all([viewOf(chair), outcomeOf(chair)])
  return show<SpokeFollowUp>(chair.phone, html`<spoke-follow-up .view=${view} .outcome=${outcome}></spoke-follow-up>`)
}
const refresh = async (element: SpokeFollowUp, chair: PracticeChair): Promise<void> => {
  element.view = await viewOf(chair)
  element.outcome = await outcomeOf(chair)
  await element.updateComplete
}
const openForm = async (element: SpokeFollowUp, title: string): Promise<HTMLElement> => {
  button(element, title).click()
  await until(element, () => has(element, 'spoke-event-form'))
  return find(element, 'spoke-event-form')
}
const saveForm = async (element: SpokeFollowUp, form: HTMLElement): Promise<void> => {
  button(form, 'Save').click()
  await until(element, () => has(element, '.saved'))
}

describe('follow-up', () => {
  it('says what falls due as sentences with their day and reason', async () => {
    // Davor feels nothing where he sits and had a sore: the first review comes after 42 days (WHO basic level).
    const chair = await chairAt('davor', 'given')
    const element = await showFollowUp(chair)
    const review = wordsOf(find(element, '[data-kind=review]'))
    expect(review).to.contain('Review of fit, skin, chair and skills later by 23 June 2026 · chair LK-7001')
    expect(review).to.contain('42 days after the handover on 12 May 2026: ')
    expect(review).to.contain('sore in the past')
    // A technician looks after six months (common practice).
    expect(wordsOf(find(element, '[data-kind=technician-upkeep]'))).to.contain('by 12 November 2026')
    expect(wordsOf(element)).to.match(
      /Each week tyre pressure, brakes hold, clean and dry,? and cushion and skin looked at/,
    )
    await expect(element).to.be.accessible()
    expect(smallTargets(element)).to.deep.equal([])
  })

  it('records a whole review, and asks for what is left out first', async () => {
    const chair = await chairAt('davor', 'given', toCalendarDate('2026-05-01'))
    const element = await showFollowUp(chair)
    const form = await openForm(element, 'A review')
    button(form, 'Save').click()
    await until(element, () => all(form, '.error').length === 4)
    expect((await viewOf(chair)).events.review).to.deep.equal([])
    expect(form.shadowRoot?.activeElement?.getAttribute('name')).to.equal('fit')
    pick(form, 'Fit', 'In order').click()
    pick(form, 'Skin', 'In order').click()
    pick(form, 'Chair', 'Problem').click()
    pick(form, 'Skills', 'In order').click()
    pick(form, 'Is the chair used?', 'Every day').click()
    pick(form, 'How content are they with the chair?', '4').click()
    typeInto(find<HTMLTextAreaElement>(form, '#note'), 'Left tyre worn on one side')
    await expect(form).to.be.accessible()
    await saveForm(element, form)
    expect((await viewOf(chair)).events.review.map(event => event.value)).to.deep.equal([
      {
        visitedOn: '2026-05-12',
        fit: 'ok',
        skin: 'ok',
        chair: 'problem',
        skills: 'ok',
        inUse: 'daily',
        satisfactionChair: 4,
        note: 'Left tyre worn on one side',
      },
    ])
    await refresh(element, chair)
    expect(wordsOf(element)).to.match(
      /12 May 2026: review: Fit in order, Skin in order, Chair problem,? and Skills in order\. Chair used every day\. Content with the chair 4 of 5\. Left tyre worn on one side/,
    )
    expect(wordsOf(find(element, '[data-kind=found-wrong]'))).to.contain('Chair found wrong on 12 May 2026: 30 days')
  })

  it('writes a sore that was seen into the assessment too, where it holds', async () => {
    const chair = await chairAt('sunniva', 'given', toCalendarDate('2026-05-01'))
    const element = await showFollowUp(chair)
    const form = await openForm(element, 'A look at the skin')
    pick(form, 'What was found?', 'Open sore').click()
    await saveForm(element, form)
    const view = await viewOf(chair)
    expect(view.events.skinLook.map(event => event.value)).to.deep.equal([{ on: '2026-05-12', found: 'sore' }])
    expect(view.values.presentSore).to.equal(true)
  })

  it('ties a repair to the problem that it mends', async () => {
    const chair = await chairAt('davor', 'given', toCalendarDate('2026-05-01'))
    const element = await showFollowUp(chair)
    const problem = await openForm(element, 'A problem with the chair')
    typeInto(find<HTMLTextAreaElement>(problem, '#what'), 'Left brake lets go')
    pick(problem, 'Is it unsafe to use?', 'Yes').click()
    await saveForm(element, problem)
    await refresh(element, chair)
    expect(wordsOf(find(element, '[data-kind=problem]'))).to.contain(
      'See to the problem: Left brake lets go due now by 19 May 2026 unsafe: 7 days after it was reported on 12 May 2026',
    )
    const repair = await openForm(element, 'A repair')
    pick(repair, 'Which problem does it mend?', 'Left brake lets go').click()
    typeInto(find<HTMLInputElement>(repair, '#part'), 'Brake clamp')
    typeInto(find<HTMLTextAreaElement>(repair, '#fault'), 'Bolt loose')
    typeInto(find<HTMLTextAreaElement>(repair, '#cause'), 'No washer')
    pick(repair, 'Can the chair be used now?', 'Yes').click()
    typeInto(find<HTMLInputElement>(repair, '#doneBy'), 'Ossian at the mill')
    await saveForm(element, repair)
    const { events } = await viewOf(chair)
    const [reported] = events.problem
    expect(events.repair.map(event => event.value)).to.deep.equal([
      {
        repairedOn: '2026-05-12',
        problem: reported?.value.key,
        part: 'Brake clamp',
        fault: 'Bolt loose',
        cause: 'No washer',
        chairUsable: true,
        doneBy: 'Ossian at the mill',
      },
    ])
    await refresh(element, chair)
    expect(has(element, '[data-kind=problem]')).to.equal(false)
  })

  it('takes a tyre pressure in the unit of the gauge and keeps it in kPa', async () => {
    const chair = await chairAt('davor', 'given', toCalendarDate('2026-05-01'))
    const element = await showFollowUp(chair)
    const form = await openForm(element, 'Tyre pressure')
    expect([...all(form, 'fieldset')].some(one => wordsOf(one).includes('Caster left'))).to.equal(false)
    pick(form, 'Which tyre?', 'Rear left').click()
    pick(form, 'Unit of the gauge', 'psi').click()
    typeInto(find<HTMLInputElement>(form, '#found'), '50')
    typeInto(find<HTMLInputElement>(form, '#celsius'), '٢٤')
    // 50 psi x 6.894757 kPa (NIST SP 811) = 344.7 kPa.
    await until(element, () => wordsOf(form).includes('= 345 kPa'))
    await saveForm(element, form)
    expect((await viewOf(chair)).events.tyreReading.map(event => event.value).at(-1)).to.deep.equal({
      on: '2026-05-12',
      tyre: 'rear-left',
      foundKPa: 345,
      celsius: 24,
      altitudeM: 640,
    })
  })

  it('refuses a stature that no person has, in words, and keeps what was typed when the form is closed', async () => {
    const chair = await chairAt('ansa', 'given', toCalendarDate('2026-05-01'))
    const element = await showFollowUp(chair)
    const form = await openForm(element, 'Stature')
    typeInto(find<HTMLInputElement>(form, '#typed'), '11')
    button(form, 'Save').click()
    await until(element, () => has(form, '#typed-error'))
    expect(wordsOf(find(form, '#typed-error'))).to.match(/^This must lie between 300.mm and 2,?400.mm\.$/)
    button(element, 'Stature').click()
    await until(element, () => !has(element, 'spoke-event-form'))
    expect(wordsOf(element)).to.contain('typed, not saved')
    const again = await openForm(element, 'Stature')
    expect(find<HTMLInputElement>(again, '#typed').value).to.equal('11')
    typeInto(find<HTMLInputElement>(again, '#typed'), '112.5')
    await saveForm(element, again)
    expect((await viewOf(chair)).events.stature.map(event => event.value)).to.deep.equal([
      { on: '2026-05-12', mm: 1125 },
    ])
  })

  it('takes a chair back and counts visits that found nobody', async () => {
    const chair = await chairAt('davor', 'given', toCalendarDate('2026-05-01'))
    const element = await showFollowUp(chair)
    const attempt = await openForm(element, 'They were not found')
    typeInto(find<HTMLTextAreaElement>(attempt, '#why'), 'House locked, gone to the fields')
    await saveForm(element, attempt)
    await refresh(element, chair)
    expect(wordsOf(element)).to.contain('One visit since then did not find them.')
    const back = await openForm(element, 'The chair came back')
    expect(find<HTMLInputElement>(back, '#serialNumber').value).to.equal('LK-7001')
    await saveForm(element, back)
    await refresh(element, chair)
    expect((await outcomeOf(chair)).dues.items).to.deep.equal([])
    expect(wordsOf(element)).to.contain('Without a chair since 12 May 2026.')
  })
})
