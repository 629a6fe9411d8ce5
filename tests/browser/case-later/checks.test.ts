import { expect } from '@open-wc/testing'
import { html } from 'lit'
import { describe, it } from 'vitest'
import '../../../components/case/checks/spoke-checks.ts'
import type { SpokeChecks } from '../../../components/case/checks/spoke-checks.ts'
import type { Check } from '../../../src/case/fields.ts'
import { all, button, find, has, show, smallTargets, typeInto, until, wordsOf } from '../case/practice-case.ts'
import { chairAt, outcomeOf, type PracticeChair, viewOf } from './practice-chair.ts'

const showChecks = async (chair: PracticeChair): Promise<SpokeChecks> => {
  const [view, outcome] = await Promise.all([viewOf(chair), outcomeOf(chair)])
  return show<SpokeChecks>(chair.phone, html`<spoke-checks .view=${view} .outcome=${outcome}></spoke-checks>`)
}
const refresh = async (element: SpokeChecks, chair: PracticeChair): Promise<void> => {
  element.view = await viewOf(chair)
  element.outcome = await outcomeOf(chair)
  await element.updateComplete
  await Promise.all(all(element, 'spoke-check').map(one => (one as SpokeChecks).updateComplete))
}
const row = (element: SpokeChecks, name: string): HTMLElement => {
  const found = all(element, 'spoke-check').find(one => wordsOf(one).startsWith(name))
  if (!found) throw new Error(`no check "${name}" in ${wordsOf(element)}`)
  return found
}
const brakes = async (chair: PracticeChair): Promise<readonly Check[]> =>
  ((await viewOf(chair)).heads.checkBrakesHold ?? []).map(head => head.value as Check)

describe('the checks of a chair', () => {
  it('record a pass for the settings that the chair has now', async () => {
    const chair = await chairAt('davor', 'built')
    const element = await showChecks(chair)
    expect(wordsOf(row(element, 'Brakes hold'))).to.contain('waits')
    button(row(element, 'Brakes hold'), 'In order').click()
    await until(element, () => wordsOf(row(element, 'Brakes hold')).includes('In order'))
    const setUp = (await outcomeOf(chair)).target?.setUp
    // Brakes depend on chair and size, seat height and axle (common practice).
    expect(await brakes(chair)).to.deep.equal([
      {
        result: 'pass',
        on: '2026-05-12',
        against: {
          size: `${setUp?.chair} ${setUp?.seatWidthMm} x ${setUp?.seatDepth}`,
          seatHeight: setUp?.seatHeight,
          axle: setUp?.axle,
        },
      },
    ])
    await refresh(element, chair)
    await expect(element).to.be.accessible()
    expect(wordsOf(await showChecks(chair))).to.contain('1 in order')
  })

  it('stay where they are when they are settled: the second tap of a glove meets the same check, and no button', async () => {
    const chair = await chairAt('davor', 'built')
    const element = await showChecks(chair)
    const names = (): readonly string[] => all(element, 'spoke-check .name').map(wordsOf)
    const before = names()
    const check = row(element, 'Brakes hold')
    check.scrollIntoView({ block: 'center' })
    const { x, y, width, height } = button(check, 'In order').getBoundingClientRect()
    button(check, 'In order').click()
    while ((await brakes(chair)).length === 0) await new Promise(requestAnimationFrame)
    await refresh(element, chair)
    expect(names()).to.deep.equal(before)
    expect(wordsOf(check)).to.match(/^Brakes hold on a slope in order/)
    const list = check.getRootNode() as ShadowRoot
    expect(list.elementFromPoint(x + width / 2, y + height / 2)).to.equal(check)
    expect(check.shadowRoot?.elementFromPoint(x + width / 2, y + height / 2)?.closest('button')).to.equal(null)
  })

  it('ask again for what changed, from what to what', async () => {
    const chair = await chairAt('davor', 'checked')
    const { chosenSetUp } = (await viewOf(chair)).values
    const axles = chair.phone.casebook
      .context()
      .catalogue.models.find(one => one.key === chosenSetUp?.chair)?.axlePositions
    const now = (await outcomeOf(chair)).target?.setUp.axle
    const place = axles?.findIndex(one => one.key === now) ?? -1
    const next = axles?.[place - 1]
    if (!axles || !next) throw new Error('the axle of the practice chair can go back')
    await chair.joss.change(chair.caseId, {
      on: '2026-05-12' as never,
      set: { chosenSetUp: { ...chosenSetUp, axle: next.key } },
    })
    const element = await showChecks(chair)
    const words = wordsOf(row(element, 'Brakes hold'))
    expect(words).to.contain('check again')
    // One cause asks for many checks again: said once, above them.
    const cause = `The axle changed from hole ${place + 1} of ${axles.length} to hole ${place} of ${axles.length}.`
    expect(all(element, '.notice').map(wordsOf)).to.deep.equal([cause])
    expect(wordsOf(element).split(cause)).to.have.length(2)
    expect(words).to.contain('12 May 2026, Joss')
  })

  it('keep a fault until it is said what was done, and turn it only by a retest', async () => {
    const chair = await chairAt('davor', 'checked')
    const element = await showChecks(chair)
    const check = row(element, 'Brakes hold')
    button(check, 'Not in order').click()
    await until(element, () => has(check, '#words'))
    button(check, 'Save: not in order').click()
    await until(element, () => has(check, '.error'))
    typeInto(find<HTMLTextAreaElement>(check, '#words'), 'Left lever slips')
    button(check, 'Save: not in order').click()
    await until(element, () => !has(check, '#words'))
    await refresh(element, chair)
    expect(wordsOf(row(element, 'Brakes hold'))).to.contain('failed Wrong: Left lever slips')

    const failed = row(element, 'Brakes hold')
    expect(all(failed, 'button').map(wordsOf)).to.deep.equal(['Put right, check again'])
    button(failed, 'Put right').click()
    await until(element, () => has(failed, '#words'))
    button(failed, 'Save: now in order').click()
    await until(element, () => wordsOf(failed).includes('Say what was done'))
    expect((await brakes(chair)).map(one => one.result)).to.deep.equal(['fail'])
    typeInto(find<HTMLTextAreaElement>(failed, '#words'), 'New spring')
    button(failed, 'Save: now in order').click()
    await until(element, () => !has(failed, '#words'))
    const heads = (await viewOf(chair)).heads.checkBrakesHold ?? []
    expect(heads.map(head => [head.kind, head.why, (head.value as Check).result])).to.deep.equal([
      ['retest', 'New spring', 'pass'],
    ])
  })

  it('lose nothing of what is being written when a merge moves the check', async () => {
    const chair = await chairAt('davor', 'built')
    const element = await showChecks(chair)
    button(row(element, 'Brakes hold'), 'Not in order').click()
    await until(element, () => has(row(element, 'Brakes hold'), '#words'))
    typeInto(find<HTMLTextAreaElement>(row(element, 'Brakes hold'), '#words'), 'Left lever sl')
    // Meanwhile Joss found it in order, on another phone.
    const against = Object.fromEntries(
      Object.entries((await outcomeOf(chair)).build?.steps[0]?.against ?? {}).map(([key, value]) => [key, value]),
    )
    const setUp = (await outcomeOf(chair)).target?.setUp
    await chair.joss.say(chair.caseId, [
      {
        on: '2026-05-12' as never,
        set: {
          checkBrakesHold: {
            result: 'pass',
            on: '2026-05-12',
            against: {
              ...against,
              size: `${setUp?.chair} ${setUp?.seatWidthMm} x ${setUp?.seatDepth}`,
              seatHeight: setUp?.seatHeight,
              axle: setUp?.axle,
            },
          },
        },
      },
    ])
    await refresh(element, chair)
    const check = row(element, 'Brakes hold')
    expect(wordsOf(check)).to.match(/^Brakes hold on a slope in order/)
    expect(find<HTMLTextAreaElement>(check, '#words').value).to.equal('Left lever sl')
  })

  it('have targets for a glove, and say what to do first without a chair', async () => {
    const chair = await chairAt('davor', 'built')
    expect(smallTargets(await showChecks(chair))).to.deep.equal([])
    const without = await chairAt('davor', 'measured')
    expect(wordsOf(await showChecks(without))).to.contain('Choose the chair first')
  })
})
