import { setViewport } from '@web/test-runner-commands'
import { html } from 'lit'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import '../../../components/case/spoke-case.ts'
import type { SpokeCase } from '../../../components/case/spoke-case.ts'
import '../../../components/paper/spoke-paper-summary.ts'
import { sayName, sayWho } from '../../../components/text/say-value.ts'
import { changeLanguage } from '../../../components/text/text.ts'
import type { CaseId } from '../../../src/ids.ts'
import { expectOk } from '../../support/casebooks.ts'
import { all, find, has, newCase, type Phone, show, until, wordsOf } from '../case/practice-case.ts'
import { type CrewPhone, foundersPhone, letIn, meetBoth } from './three-phones.ts'

beforeEach(() => setViewport({ width: 360, height: 740 }))
afterEach(() => changeLanguage('en'))

const hip = (typed: number, measuredBy?: string) => ({
  hipWidthMm: { typed, unit: 'mm', how: 'tape', ...(measuredBy === undefined ? {} : { measuredBy }) },
})

/** Both measured the same hip, apart: each value stands with who gave it. */
const apart = async (
  names: readonly [string, string],
): Promise<{ noor: CrewPhone; phones: CrewPhone[]; caseId: CaseId }> => {
  const noor = await foundersPhone()
  const caseId = await newCase(noor, { personName: 'Tove Marn' })
  const phones: CrewPhone[] = []
  for (const [index, name] of names.entries()) {
    const phone = await letIn(noor, name)
    await meetBoth(noor, phone)
    expectOk(await phone.casebook.save(caseId, { kind: 'save', set: hip(360 + 40 * index) }))
    phones.push(phone)
  }
  for (const phone of phones) await meetBoth(noor, phone)
  return { noor, phones, caseId }
}

/** What the page of the differences says of each value, by the value. */
const saidOf = async (phone: Phone, caseId: CaseId): Promise<ReadonlyMap<string, string>> => {
  const element = await show<SpokeCase>(
    phone,
    html`<spoke-case .caseId=${caseId} .section=${'differences'}></spoke-case>`,
  )
  await until(element, () => has(element, 'li.option'))
  const options = all(element, 'li.option').map(
    one => [wordsOf(find(one, '.value')), wordsOf(find(one, '.who'))] as const,
  )
  element.remove()
  return new Map(options)
}

describe('who said it', () => {
  it('is the member whose device signed it, before and after a strike', async () => {
    const { noor, phones, caseId } = await apart(['Bram', 'Sira'])
    const expected = new Map([
      ['360 mm', 'Bram'],
      ['400 mm', 'Sira'],
    ])
    expect(await saidOf(noor, caseId)).toEqual(expected)
    const [bram] = phones
    if (!bram) throw new Error('no Bram')
    expectOk(await noor.casebook.strike(bram.device))
    expect(await saidOf(noor, caseId)).toEqual(expected)
  })

  it('is told apart where two bear one name, or names that only look alike', async () => {
    const { noor, phones, caseId } = await apart(['Bram Aske', 'bram\u200b \u202eAske'])
    const said = [...(await saidOf(noor, caseId)).values()]
    const [one, other] = phones.map(({ device }) => device.slice(0, 4))
    expect(said[0]).toBe(`Bram Aske (${one})`)
    expect(said[1]).toContain(`(${other})`)
    // UAX 9: none of the signs that turn the direction of what stands beside them is left.
    expect(said.join()).not.toMatch(/[\u202a-\u202e\u200b]/)
  })

  it('of a device that is not in the crew is nobody’s name', async () => {
    const noor = await foundersPhone()
    const other = await foundersPhone('Noor')
    expect(sayName(noor.casebook, other.device)).toBe('a phone not in the crew')
    expect(sayWho(noor.casebook, noor.device)).toBe('Noor, on this phone')
  })

  it('stands beside whoever is said to have held the tape, on the screen and on paper', async () => {
    const noor = await foundersPhone()
    const bram = await letIn(noor, 'Bram')
    const caseId = await newCase(noor, { personName: 'Tove Marn' })
    await meetBoth(noor, bram)
    expectOk(await bram.casebook.save(caseId, { kind: 'save', set: hip(368, 'Noor') }))
    await meetBoth(noor, bram)
    const element = await show<SpokeCase>(
      noor,
      html`<spoke-case .caseId=${caseId} .section=${'measuring'}></spoke-case>`,
    )
    await until(element, () => wordsOf(element).includes('368'))
    await until(element, () => wordsOf(find(element, '.inside')).includes('Noor, typed by Bram'))
    const [view, outcome] = [await noor.casebook.view(caseId), await noor.casebook.outcome(caseId, noor.app.today())]
    const paper = await show(noor, html`<spoke-paper-summary .view=${view} .outcome=${outcome}></spoke-paper-summary>`)
    expect(wordsOf(paper)).toMatch(/368 mm \(.*Noor, typed by Bram/)
  })

  it('keeps its own direction in a sentence of the other one', async () => {
    const { noor, phones } = await apart(['نور', 'Sira'])
    const [arabic, latin] = phones.map(({ device }) => sayName(noor.casebook, device))
    // UAX 9, 2.4: U+2068 isolates what follows up to U+2069 by its own first strong letter.
    expect(arabic).toBe('\u2068نور\u2069')
    expect(latin).toBe('Sira')
  })
})
