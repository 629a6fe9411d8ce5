import { expect as axe } from '@open-wc/testing'
import { sendKeys, setViewport } from '@web/test-runner-commands'
import { html } from 'lit'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import '../../../components/crew/spoke-crew.ts'
import type { SpokeCrew } from '../../../components/crew/spoke-crew.ts'
import { changeLanguage } from '../../../components/text/text.ts'
import { expectOk } from '../../support/casebooks.ts'
import {
  all,
  beyondSides,
  button,
  find,
  has,
  newCase,
  type Phone,
  show,
  smallTargets,
  typeInto,
  until,
  wordsOf,
} from '../case/practice-case.ts'
import { type CrewPhone, foundersPhone, letIn, meetBoth } from './three-phones.ts'

beforeEach(() => setViewport({ width: 360, height: 740 }))
afterEach(() => changeLanguage('en'))

const pageOn = async (phone: Phone): Promise<SpokeCrew> => {
  const element = await show<SpokeCrew>(phone, html`<spoke-crew></spoke-crew>`)
  await until(element, () => element.record.size > 0 && !wordsOf(element).includes('Opening'))
  return element
}

/** The row of a device, opened. */
const rowOf = (element: HTMLElement, name: string): HTMLElement => {
  const row = all(element, 'spoke-member').find(one => wordsOf(find(one, 'summary strong')) === name)
  if (!row) throw new Error(`no row of ${name} in ${wordsOf(element)}`)
  find<HTMLDetailsElement>(row, 'details').open = true
  return row
}
const names = (element: HTMLElement): readonly string[] =>
  all(element, 'spoke-member').map(one => wordsOf(find(one, 'summary')))

const lateRows = (element: HTMLElement): readonly HTMLDetailsElement[] =>
  all(find(element, 'spoke-late-entries'), 'details') as readonly HTMLDetailsElement[]

const strikeOff = async (element: HTMLElement, name: string, why: string): Promise<void> => {
  const row = rowOf(element, name)
  button(row, 'Lost or stolen?').click()
  await until(row, () => has(row, '#why'))
  typeInto(find<HTMLTextAreaElement>(row, '#why'), why)
  button(row, 'Yes, strike it off').click()
  await until(element, () =>
    names(element).some(words => words.startsWith(`${name} `) && words.includes('struck off by')),
  )
}

describe('the devices of the crew', () => {
  it('stand with name and role, this one first, and who named them', async () => {
    const noor = await foundersPhone()
    await letIn(noor, 'Bram')
    await letIn(noor, 'Sira', 'visitor')
    const element = await pageOn(noor)
    expect(names(element)[0]).toBe('Noor coordinator, this device')
    expect(names(element).slice(1).sort()).toEqual(['Bram technician', 'Sira visitor'])
    expect(wordsOf(rowOf(element, 'Bram'))).toContain('named by Noor')
    expect(wordsOf(rowOf(element, 'Noor'))).toContain('founded this casebook')
    expect(find<HTMLAnchorElement>(element, 'a.go').hash).toBe('#/two-codes')
    await axe(element).to.be.accessible()
    expect(smallTargets(element)).toEqual([])
    expect(beyondSides(element, 360)).toEqual([])
  })

  it('of one that is alone are said to be none but this', async () => {
    const element = await pageOn(await foundersPhone())
    expect(wordsOf(element)).toContain('Nobody but this device is in the crew yet.')
  })

  it('are named anew by keyboard; an empty name is refused in words and nothing is lost', async () => {
    const noor = await foundersPhone()
    const bram = await letIn(noor, 'Bram')
    const element = await pageOn(noor)
    const row = rowOf(element, 'Bram')
    const name = find<HTMLInputElement>(row, '#member-name')
    typeInto(name, ' ')
    await sendKeys({ press: 'Enter' })
    await until(row, () => has(row, '.error'))
    expect(wordsOf(find(row, '.error'))).toContain('A name is missing.')
    expect(noor.casebook.crew().members.get(bram.device)?.name).toBe('Bram')
    typeInto(name, 'Bram Aske')
    find<HTMLSelectElement>(row, '#member-role').value = 'therapist'
    find<HTMLSelectElement>(row, '#member-role').dispatchEvent(new Event('change'))
    await sendKeys({ press: 'Enter' })
    await until(element, () => names(element).includes('Bram Aske therapist'))
    expect(noor.casebook.crew().members.get(bram.device)).toMatchObject({ name: 'Bram Aske', role: 'therapist' })
  })

  it('named apart on two devices are shown so until one name is saved', async () => {
    const noor = await foundersPhone()
    const bram = await letIn(noor, 'Bram')
    const [member] = [noor.casebook.crew().members.get(bram.device)]
    if (!member) throw new Error('no Bram')
    const { device, key, namingIds } = member
    for (const [phone, name] of [
      [noor, 'Bram Aske'],
      [bram, 'Bram A.'],
    ] as const)
      expectOk(await phone.casebook.addMember({ device, key, name, role: 'technician' }, namingIds))
    await meetBoth(noor, bram)
    const element = await pageOn(noor)
    expect(wordsOf(element)).toMatch(/Named apart: Bram A.* \(technician\) and Bram A.* \(technician\)\./)
    const { name: shown = '' } = noor.casebook.crew().members.get(bram.device) ?? {}
    const row = rowOf(element, shown)
    typeInto(find<HTMLInputElement>(row, '#member-name'), 'Bram Aske')
    button(row, 'Save name and role').click()
    await until(element, () => !wordsOf(element).includes('Named apart'))
    await meetBoth(noor, bram)
    expect(bram.casebook.crew().members.get(device)?.name).toBe('Bram Aske')
    expect(bram.casebook.crew().differences).toEqual([])
  })

  it('and the crew named apart: both names are said where one of them is saved', async () => {
    const noor = await foundersPhone()
    const bram = await letIn(noor, 'Bram')
    expectOk(await noor.casebook.setTitle({ crewName: 'River crew', place: 'Low Ford' }))
    expectOk(await bram.casebook.setTitle({ crewName: 'Hill crew', place: 'Low Ford' }))
    await meetBoth(noor, bram)
    const element = await pageOn(noor)
    for (const name of ['Hill crew, Low Ford', 'River crew, Low Ford'])
      expect(/named apart: (.*)\. Save the one/.exec(wordsOf(element))?.[1]).toContain(name)
    typeInto(find<HTMLInputElement>(element, '#crew-name'), 'River crew')
    button(element, 'Save the name').click()
    await until(element, () => !wordsOf(element).includes('named apart'))
    expect(noor.casebook.crew().title?.crewName).toBe('River crew')
    expect(noor.casebook.crew().differences).toEqual([])
  })
})

describe('striking off', () => {
  it('says what it does and does not do, asks what happened, and is seen with the reason on every device', async () => {
    const noor = await foundersPhone()
    const bram = await letIn(noor, 'Bram')
    const sira = await letIn(noor, 'Sira')
    const element = await pageOn(noor)
    const row = rowOf(element, 'Bram')
    button(row, 'Lost or stolen?').click()
    await until(row, () => has(row, '#why'))
    expect(wordsOf(row)).toContain('This cannot be undone.')
    expect(wordsOf(row)).toContain('What lies on the lost device stays there')
    await axe(element).to.be.accessible()
    expect(smallTargets(element)).toEqual([])
    button(row, 'Yes, strike it off').click()
    await until(row, () => has(row, '.error'))
    expect(noor.casebook.crew().members.get(bram.device)?.struckBy).toBeNull()
    typeInto(find<HTMLTextAreaElement>(row, '#why'), 'Left on the ferry')
    typeInto(find<HTMLInputElement>(row, '#second'), 'Sira')
    button(row, 'Yes, strike it off').click()
    await until(element, () => names(element).some(words => words.includes('struck off by Noor')))
    expect(noor.casebook.secrets().map(({ epoch }) => epoch)).toEqual([1, 0])

    await meetBoth(noor, sira)
    const other = await pageOn(sira)
    const struck = wordsOf(rowOf(other, 'Bram'))
    expect(struck).toContain('What was said: Left on the ferry')
    expect(struck).toContain('Decided with Sira')
    expect(struck).not.toContain('Lost or stolen?')
  })

  it('what was typed for it stays when the page is left, and goes when it is called off', async () => {
    const noor = await foundersPhone()
    const bram = await letIn(noor, 'Bram')
    const element = await pageOn(noor)
    const row = rowOf(element, 'Bram')
    button(row, 'Lost or stolen?').click()
    await until(row, () => has(row, '#why'))
    typeInto(find<HTMLTextAreaElement>(row, '#why'), 'Left on the')
    element.remove()
    const again = await pageOn(noor)
    expect(find<HTMLTextAreaElement>(rowOf(again, 'Bram'), '#why').value).toBe('Left on the')
    button(again, 'Cancel').click()
    await until(again, () => !has(again, '#why'))
    expect(noor.casebook.crew().members.get(bram.device)?.struckBy).toBeNull()
  })

  it('is not offered for the own device, nor to a device that was struck off or looks on', async () => {
    const noor = await foundersPhone()
    const bram = await letIn(noor, 'Bram')
    const guest = await letIn(noor, 'Guest', 'visitor')
    expect(wordsOf(rowOf(await pageOn(noor), 'Noor'))).toContain('Another device of the crew can strike this one off')
    expectOk(await noor.casebook.strike(bram.device))
    await meetBoth(noor, bram)
    const struck = await pageOn(bram)
    expect(wordsOf(struck)).toContain('This device was struck off. You can still record')
    const looking = await pageOn(guest)
    expect(wordsOf(looking)).toContain('You look on as a visitor')
    for (const element of [struck, looking]) expect(all(element, 'button, form')).toEqual([])
  })

  it('without effect is named, to be said again', async () => {
    const noor = await foundersPhone()
    const bram = await letIn(noor, 'Bram')
    const sira = await letIn(noor, 'Sira')
    await meetBoth(noor, bram)
    expectOk(await bram.casebook.strike(sira.device))
    expectOk(await noor.casebook.strike(bram.device))
    await meetBoth(noor, bram)
    const element = await pageOn(noor)
    expect(wordsOf(element)).toContain('Bram had struck off Sira, but was struck off before that counted.')
    await strikeOff(element, 'Sira', 'It holds')
    expect(wordsOf(element)).not.toContain('before that counted')
  })
})

describe('what came after a strike', () => {
  const late = async (): Promise<{ noor: CrewPhone; bram: CrewPhone; caseId: Awaited<ReturnType<typeof newCase>> }> => {
    const noor = await foundersPhone()
    const bram = await letIn(noor, 'Bram')
    const caseId = await newCase(noor, { personName: 'Tove Marn' })
    await meetBoth(noor, bram)
    expectOk(await noor.casebook.strike(bram.device))
    for (const set of [{ place: 'Mill' }, { hipWidthMm: { typed: 368, unit: 'mm', how: 'tape' } }])
      expectOk(await bram.casebook.save(caseId, { kind: 'save', set }))
    await meetBoth(noor, bram)
    // The name in the list is derived: it comes a moment later.
    await noor.casebook.settled()
    return { noor, bram, caseId }
  }

  it('is listed under its person with what it says, counts when it is chosen, and stays when it is left', async () => {
    const { noor, caseId } = await late()
    expect((await noor.casebook.view(caseId))?.values.place).toBeUndefined()
    const element = await pageOn(noor)
    await until(element, () => lateRows(element).length > 0)
    const [details] = lateRows(element)
    if (!details) throw new Error('no row')
    expect(wordsOf(find(find(element, 'spoke-late-entries'), 'summary'))).toBe('Tove Marn 2 entries')
    details.open = true
    await until(element, () => wordsOf(details).includes('368 mm'))
    expect(wordsOf(details)).toContain('Place: Mill')
    expect(wordsOf(details)).toContain('Bram, 12 May')
    expect(wordsOf(details)).toContain('came after its device was struck off')
    await axe(element).to.be.accessible()
    expect(smallTargets(element)).toEqual([])
    button(details, 'Let the chosen').click()
    await until(element, () => has(details, '.error'))
    const mill = all(details, 'label').find(one => wordsOf(one).includes('Mill'))
    mill?.click()
    await until(element, () => wordsOf(details).includes('Let 1 chosen entry count'))
    button(details, 'Let 1').click()
    await until(element, () => wordsOf(find(find(element, 'spoke-late-entries'), 'summary')) === 'Tove Marn 1 entry')
    const view = await noor.casebook.view(caseId)
    expect(view?.values.place).toBe('Mill')
    expect(view?.heads.hipWidthMm).toBeUndefined()
    expect((await noor.casebook.record(caseId)).filter(({ notCounting }) => notCounting !== null)).toHaveLength(1)
  })

  it('is told as in the history of the case where it says what happened, all of it, however much came', async () => {
    const { noor, bram, caseId } = await late()
    const repair = { repairedOn: '2026-05-12', part: 'caster', fault: 'bent', chairUsable: false }
    expectOk(await bram.casebook.save(caseId, { kind: 'save', set: { repair } }))
    for (let count = 0; count < 45; count += 1)
      expectOk(await bram.casebook.save(caseId, { kind: 'save', set: { household: `house ${count}` } }))
    await meetBoth(noor, bram)
    const element = await pageOn(noor)
    await until(element, () => lateRows(element).length > 0)
    const [details] = lateRows(element)
    if (!details) throw new Error('no row')
    details.open = true
    await until(element, () => wordsOf(details).includes('how to find them: house'))
    expect(all(details, '.entry')).toHaveLength(1 + 40)
    button(details, 'Show 8 more').click()
    await until(element, () => all(details, '.entry').length === 1 + 48)
    const words = all(details, '.entry')
      .map(wordsOf)
      .find(one => one.includes('caster'))
    expect(words).toMatch(/repair of caster: bent\. Chair not usable/i)
  })

  it('of somebody whose letting in does not count any more is shown with the reason, and nothing is offered', async () => {
    const noor = await foundersPhone()
    const bram = await letIn(noor, 'Bram')
    expectOk(await noor.casebook.strike(bram.device))
    // Bram has not heard, lets Dara in, and Dara records.
    const dara = await letIn(bram, 'Dara')
    const caseId = await newCase(dara, { personName: 'Ilse Dorn' })
    await meetBoth(bram, dara)
    await meetBoth(noor, bram)
    const element = await pageOn(noor)
    await until(element, () => lateRows(element).length > 0)
    const words = (): string => wordsOf(find(element, 'spoke-late-entries'))
    expect(words()).toContain('About the crew and the stock 1 entry')
    expect(words()).toContain('A case without a name that counts 1 entry')
    const row = lateRows(element).find(one => wordsOf(one).includes('A case without a name'))
    if (!row) throw new Error('no row')
    row.open = true
    await until(element, () => wordsOf(row).includes('Name: Ilse Dorn'))
    expect(wordsOf(row)).toContain('a phone not in the crew, 12 May')
    expect(wordsOf(row)).toContain('its device is not in the crew')
    expect(all(row, 'button, input')).toEqual([])
    expect(noor.casebook.summaries().find(one => one.caseId === caseId)?.name).toBeNull()
  })
})
