import { expect } from '@open-wc/testing'
import { html } from 'lit'
import { describe, it } from 'vitest'
import '../../../components/case/exit/spoke-exit.ts'
import type { SpokeExit } from '../../../components/case/exit/spoke-exit.ts'
import '../../../components/case/fitting/spoke-fitting.ts'
import type { SpokeFitting } from '../../../components/case/fitting/spoke-fitting.ts'
import '../../../components/case/training/spoke-training.ts'
import type { CasePart } from '../../../components/case/case-part.ts'
import type { SpokeTraining } from '../../../components/case/training/spoke-training.ts'
import { all, answer, button, find, has, show, smallTargets, typeInto, until, wordsOf } from '../case/practice-case.ts'
import { chairAt, outcomeOf, type PracticeChair, pick, viewOf } from './practice-chair.ts'

const showFitting = async (chair: PracticeChair): Promise<SpokeFitting> => {
  const [view, outcome] = await Promise.all([viewOf(chair), outcomeOf(chair)])
  return show<SpokeFitting>(chair.phone, html`<spoke-fitting .view=${view} .outcome=${outcome}></spoke-fitting>`)
}
const showTraining = async (chair: PracticeChair): Promise<SpokeTraining> => {
  const [view, outcome] = await Promise.all([viewOf(chair), outcomeOf(chair)])
  return show<SpokeTraining>(chair.phone, html`<spoke-training .view=${view} .outcome=${outcome}></spoke-training>`)
}
const showExit = async (chair: PracticeChair): Promise<SpokeExit> => {
  const [view, outcome] = await Promise.all([viewOf(chair), outcomeOf(chair)])
  return show<SpokeExit>(chair.phone, html`<spoke-exit .view=${view} .outcome=${outcome}></spoke-exit>`)
}
const refresh = async (element: CasePart, chair: PracticeChair): Promise<void> => {
  element.view = await viewOf(chair)
  element.outcome = await outcomeOf(chair)
  await element.updateComplete
}
const reading = (element: HTMLElement, name: string): HTMLInputElement => {
  const field = all(element, 'spoke-reading').find(one => (one as unknown as { name: string }).name === name)
  if (!field) throw new Error(`no reading of ${name}`)
  return find<HTMLInputElement>(field, '#typed')
}

describe('fitting the person in the chair', () => {
  it('looks at size, posture, pressure on both sides with and without cushion, then moving, and saves them together', async () => {
    const chair = await chairAt('davor', 'checked')
    const element = await showFitting(chair)
    for (const [field, words] of [
      ['fitSize', 'In order'],
      ['fitPosture', 'In order'],
      ['handCheckLeft', 'Even'],
      ['handCheckRight', 'Hand is pinched'],
      ['handCheckLeftNoCushion', 'Firm'],
      ['handCheckRightNoCushion', 'Firm'],
      ['fitMoving', 'Not done'],
    ] as const)
      answer(element, field, words).click()
    await until(element, () => wordsOf(element).includes('Save 7 answers'))
    await expect(element).to.be.accessible()
    expect(smallTargets(element)).to.deep.equal([])
    button(element, 'Save 7 answers').click()
    await until(element, () => has(element, '.saved'))
    const { values } = await viewOf(chair)
    expect([values.fitSize, values.handCheckLeft, values.handCheckRight, values.fitMoving]).to.deep.equal([
      'ok',
      'even',
      'pinched',
      'not-done',
    ])
    // A pinched hand holds the handover (common practice).
    expect((await outcomeOf(chair)).holds.map(hold => hold.key)).to.include('pressure-hand-check-right')
  })

  it('measures the mass centre with two scales and says how far the model was off', async () => {
    const chair = await chairAt('davor', 'checked')
    const element = await showFitting(chair)
    const { predicted } = (await outcomeOf(chair)).target ?? {}
    if (!predicted) throw new Error('Davor is measured')
    // 70 kg on the rear wheels, 30 kg on the casters: 30/100 of the wheelbase ahead of the axle (lever law).
    typeInto(reading(element, 'scaleRearKg'), '70')
    typeInto(reading(element, 'scaleFrontKg'), '30')
    await until(element, () => wordsOf(element).includes('Save 2 answers'))
    button(element, 'Save 2 answers').click()
    await until(element, () => has(element, '.saved'))
    await refresh(element, chair)
    const measured = 0.3 * predicted.wheelbaseMm
    const words = wordsOf(element)
    expect(words).to.contain(`Mass centre ahead of the axle ${Math.round(measured)} mm`)
    expect(words).to.contain(`the model said ${Math.round(predicted.comAheadOfAxleMm)} mm`)
    expect((await viewOf(chair)).heads.scaleRearKg?.map(head => (head.value as { how?: string }).how)).to.deep.equal([
      'two-scales',
    ])
  })

  it('names what an adjustment re-opened and why', async () => {
    const chair = await chairAt('davor', 'fitted')
    const { chosenSetUp } = (await viewOf(chair)).values
    const { axlePositions } =
      chair.phone.casebook.context().catalogue.models.find(one => one.key === chosenSetUp?.chair) ?? {}
    await chair.joss.change(chair.caseId, {
      on: '2026-05-12' as never,
      set: { chosenSetUp: { ...chosenSetUp, axle: axlePositions?.[0]?.key } },
    })
    const element = await showFitting(chair)
    const notice = wordsOf(find(element, '.notice'))
    expect(notice).to.match(
      /The axle changed from hole \d of \d to hole 1 of \d\. Check again: .*brakes hold on a slope/,
    )
    expect(notice).to.contain('fit looked at again after moving')
  })

  it('needs a chosen chair first', async () => {
    expect(wordsOf(await showFitting(await chairAt('davor', 'measured')))).to.contain('Fitting needs the chosen chair')
  })
})

describe('training', () => {
  it('is ticked when it was shown, with its day, and can be taken back', async () => {
    const chair = await chairAt('davor', 'fitted')
    const element = await showTraining(chair)
    expect(all(element, 'input[type=checkbox]')).to.have.length(6)
    const first = find<HTMLInputElement>(element, 'input[type=checkbox]')
    first.focus()
    first.click()
    while (!(await viewOf(chair)).values.trainedTransfers) await element.updateComplete
    expect((await viewOf(chair)).values.trainedTransfers).to.deep.equal({ demonstrated: true, on: '2026-05-12' })
    await refresh(element, chair)
    expect(wordsOf(element)).to.contain('Shown 12 May 2026')
    find<HTMLInputElement>(element, 'input[type=checkbox]').click()
    while ((await viewOf(chair)).values.trainedTransfers?.demonstrated !== false) await element.updateComplete
    await refresh(element, chair)
    expect(wordsOf(element)).to.contain('Only told so far')
    await expect(element).to.be.accessible()
    expect(smallTargets(element)).to.deep.equal([])
  })

  it('names the caregiver and keeps what is typed when news comes in', async () => {
    const chair = await chairAt('davor', 'fitted')
    const element = await showTraining(chair)
    typeInto(find<HTMLInputElement>(find(element, 'spoke-text'), '#text'), 'Lene Quil')
    await chair.joss.say(chair.caseId, [{ on: '2026-05-12' as never, set: { caregiverName: 'Tove' } }])
    await refresh(element, chair)
    const field = find(element, 'spoke-text')
    expect(find<HTMLInputElement>(field, '#text').value).to.equal('Lene Quil')
    expect(wordsOf(field)).to.contain('Tove: Joss')
    button(element, 'Save').click()
    await until(element, () => has(element, '.saved'))
    const values = (await viewOf(chair)).heads.caregiverName?.map(head => head.value)
    expect(values).to.have.members(['Lene Quil', 'Tove'])
  })
})

describe('the end of a case', () => {
  it('says why and since when, and is opened again only with what changed', async () => {
    const chair = await chairAt('davor', 'given')
    const element = await showExit(chair)
    button(element, 'Close the case').click()
    await until(element, () => has(element, '#why-error'))
    expect((await viewOf(chair)).values.exit).to.equal(undefined)
    pick(element, 'Why is it closed?', 'Moved away').click()
    typeInto(find<HTMLInputElement>(element, '#on'), '')
    button(element, 'Close the case').click()
    await until(element, () => has(element, '#on-error') && !has(element, '#why-error'))
    expect((await viewOf(chair)).values.exit).to.equal(undefined)
    typeInto(find<HTMLInputElement>(element, '#on'), '2026-05-12')
    button(element, 'Close the case').click()
    while (!(await viewOf(chair)).values.exit) await element.updateComplete
    expect((await viewOf(chair)).values.exit).to.deep.equal({ on: '2026-05-12', why: 'moved' })
    expect((await outcomeOf(chair)).dues.items).to.deep.equal([])
    await refresh(element, chair)
    await until(element, () => has(element, '#reopen'))
    await expect(element).to.be.accessible()
    button(element, 'Open it again').click()
    await until(element, () => has(element, '#reopen-error'))
    typeInto(find<HTMLTextAreaElement>(element, '#reopen'), 'Came back from the coast')
    button(element, 'Open it again').click()
    while ((await viewOf(chair)).values.exit !== null) await element.updateComplete
    const [head] = (await viewOf(chair)).heads.exit ?? []
    expect([head?.kind, head?.why]).to.deep.equal(['settle', 'Came back from the coast'])
  })
})
