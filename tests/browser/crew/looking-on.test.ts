import { expect as axe } from '@open-wc/testing'
import { setViewport } from '@web/test-runner-commands'
import { html } from 'lit'
import { beforeEach, describe, expect, it } from 'vitest'
import '../../../components/app/spoke-settings.ts'
import { CASE_SECTIONS } from '../../../components/case/section-registry.ts'
import '../../../components/case/spoke-case.ts'
import type { SpokeCase } from '../../../components/case/spoke-case.ts'
import '../../../components/people/spoke-new-referral.ts'
import '../../../components/people/spoke-people.ts'
import type { CaseId } from '../../../src/ids.ts'
import { expectOk } from '../../support/casebooks.ts'
import { all, find, has, newCase, type Phone, show, until, wordsOf } from '../case/practice-case.ts'
import { foundersPhone, letIn, meetBoth } from './three-phones.ts'

beforeEach(() => setViewport({ width: 360, height: 740 }))

const caseOn = async (phone: Phone, caseId: CaseId, section: string | null = null): Promise<SpokeCase> => {
  const element = await show<SpokeCase>(phone, html`<spoke-case .caseId=${caseId} .section=${section}></spoke-case>`)
  await until(element, () => has(element, 'h1') && all(element, '[aria-busy=true]').length === 0)
  return element
}

describe('a device that looks on', () => {
  it('reads every part of a case, and finds nothing to type into, to tick or to save', async () => {
    const noor = await foundersPhone()
    const guest = await letIn(noor, 'Guest', 'visitor')
    const caseId = await newCase(noor, {
      personName: 'Tove Marn',
      hipWidthMm: { typed: 368, unit: 'mm', how: 'tape' },
      photoAgreed: true,
    })
    await meetBoth(noor, guest)
    for (const { key } of CASE_SECTIONS.filter(one => one.key !== 'differences')) {
      const element = await caseOn(guest, caseId, key)
      const inside = find(element, '.inside')
      expect([key, all(inside, 'input, select, textarea, form').map(wordsOf)]).toEqual([key, []])
      expect([key, all(inside, 'button').map(wordsOf)]).toEqual([key, []])
      if (key !== 'photos') expect(wordsOf(inside)).toContain('You look on as a visitor')
      expect(has(element, '.next')).toBe(false)
      element.remove()
    }
    const measuring = await caseOn(guest, caseId, 'measuring')
    expect(wordsOf(measuring)).toContain('Hip width 368 mm')
    await axe(measuring).to.be.accessible()
  })

  it('is offered no new person and no setting of the crew, and is told why', async () => {
    const noor = await foundersPhone()
    const guest = await letIn(noor, 'Guest', 'visitor')
    await newCase(noor, { personName: 'Tove Marn' })
    await meetBoth(noor, guest)
    const people = await show(guest, html`<spoke-people></spoke-people>`)
    await until(people, () => wordsOf(people).includes('Tove Marn'))
    expect(all(people, 'a').map(wordsOf)).not.toContain('New person')
    const referral = await show(guest, html`<spoke-new-referral></spoke-new-referral>`)
    expect(wordsOf(referral)).toContain('You look on as a visitor')
    expect(all(referral, 'input, button')).toEqual([])
    const settings = await show(guest, html`<spoke-settings></spoke-settings>`)
    for (const words of ['Whom people call', 'Chair models']) expect(wordsOf(settings)).not.toContain(words)
    const own = await show(noor, html`<spoke-settings></spoke-settings>`)
    for (const words of ['Whom people call', 'Chair models']) expect(wordsOf(own)).toContain(words)
  })

  it('records from the moment its role is another one', async () => {
    const noor = await foundersPhone()
    const guest = await letIn(noor, 'Guest', 'visitor')
    const caseId = await newCase(noor, { personName: 'Tove Marn' })
    await meetBoth(noor, guest)
    const element = await caseOn(guest, caseId, 'referral')
    expect(has(element, 'spoke-looking')).toBe(true)
    const member = noor.casebook.crew().members.get(guest.device)
    if (!member) throw new Error('no guest')
    const { device, key, name, namingIds } = member
    expectOk(await noor.casebook.addMember({ device, key, name, role: 'therapist' }, namingIds))
    await meetBoth(noor, guest)
    await until(element, () => !has(element, 'spoke-looking') && all(find(element, '.inside'), 'button').length > 0)
    expect(wordsOf(element)).not.toContain('You look on')
  })
})

describe('what does not count of a case', () => {
  it('is a calm line in it that leads to where it is looked at; none where everything counts', async () => {
    const noor = await foundersPhone()
    const bram = await letIn(noor, 'Bram')
    const [tove, ilse] = [
      await newCase(noor, { personName: 'Tove Marn' }),
      await newCase(noor, { personName: 'Ilse Dorn' }),
    ]
    await meetBoth(noor, bram)
    const element = await caseOn(noor, tove)
    expect(wordsOf(element)).not.toContain('does not count')
    expectOk(await noor.casebook.strike(bram.device))
    expectOk(await bram.casebook.save(tove, { kind: 'save', set: { place: 'Mill' } }))
    await meetBoth(noor, bram)
    await until(element, () => wordsOf(element).includes('1 entry of this case does not count'))
    const [link] = all(element, 'a').filter(one => wordsOf(one) === 'Look at it')
    expect((link as HTMLAnchorElement).hash).toBe('#/crew')
    // The same element shows another person, as when another row of the list is pressed.
    element.caseId = ilse
    await until(element, () => wordsOf(element).includes('Ilse Dorn'))
    expect(wordsOf(element)).not.toContain('does not count')
  })
})
