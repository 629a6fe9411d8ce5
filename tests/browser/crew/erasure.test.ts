import { expect as axe } from '@open-wc/testing'
import { setViewport } from '@web/test-runner-commands'
import { html } from 'lit'
import { beforeEach, describe, expect, it } from 'vitest'
import '../../../components/crew/spoke-ask-erasure.ts'
import type { SpokeAskErasure } from '../../../components/crew/spoke-ask-erasure.ts'
import '../../../components/crew/spoke-crew.ts'
import type { SpokeCrew } from '../../../components/crew/spoke-crew.ts'
import type { CaseId } from '../../../src/ids.ts'
import {
  all,
  button,
  find,
  has,
  newCase,
  type Phone,
  show,
  smallTargets,
  until,
  wordsOf,
} from '../case/practice-case.ts'
import { foundersPhone, letIn, meetBoth } from './three-phones.ts'

beforeEach(() => setViewport({ width: 360, height: 740 }))

const crewPage = async (phone: Phone): Promise<SpokeCrew> => {
  const element = await show<SpokeCrew>(phone, html`<spoke-crew></spoke-crew>`)
  await until(element, () => element.record.size > 0)
  return element
}

/** Asks at the end of the case, as a person does. */
const ask = async (phone: Phone, caseId: CaseId): Promise<string> => {
  const element = await show<SpokeAskErasure>(phone, html`<spoke-ask-erasure .caseId=${caseId}></spoke-ask-erasure>`)
  button(element, 'Ask to erase this case').click()
  await until(element, () => has(element, 'input[type=radio]'))
  const letters = /who is to agree: (\S+ \S+)/.exec(wordsOf(element))?.[1] ?? ''
  button(element, 'Yes, hide it').click()
  await until(element, () => has(element, '.error'))
  expect(phone.casebook.erasures().size).toBe(0)
  await axe(element).to.be.accessible()
  expect(smallTargets(element)).toEqual([])
  find<HTMLInputElement>(element, 'input[type=radio]').click()
  button(element, 'Yes, hide it').click()
  await until(element, () => phone.casebook.erasures().size === 1)
  return letters
}

describe('erasing a case', () => {
  it('takes two devices: hidden at one’s word under letters of its random id, gone for ever at the other’s', async () => {
    const noor = await foundersPhone()
    const bram = await letIn(noor, 'Bram')
    const sira = await letIn(noor, 'Sira')
    const caseId = await newCase(noor, { personName: 'Tove Marn', place: 'Mill' })
    for (const phone of [bram, sira]) await meetBoth(noor, phone)
    const letters = await ask(noor, caseId)
    expect(letters.replace(' ', '')).toBe(caseId.slice(0, 8))
    expect(location.hash).toBe('#/crew')
    expect(noor.casebook.summaries()).toEqual([])

    await meetBoth(noor, bram)
    const mine = await crewPage(noor)
    expect(wordsOf(mine)).toContain('It is hidden everywhere and waits for a second device.')
    expect(all(mine, 'button').map(wordsOf)).not.toContain('Agree to erase it…')

    const other = await crewPage(bram)
    expect(wordsOf(other)).toContain(`A case with the letters ${letters}`)
    expect(wordsOf(other)).toContain('asked by Noor, 12 May, 09:40')
    expect(wordsOf(other)).toContain('because: the person asked for it')
    // Nobody may look into it any more: neither who it is nor where.
    expect(wordsOf(other)).not.toMatch(/Tove|Marn|Mill/)
    button(other, 'Agree to erase it').click()
    await until(other, () => wordsOf(other).includes('erase it for ever'))
    await axe(other).to.be.accessible()
    expect(smallTargets(other)).toEqual([])
    expect(bram.casebook.erasures().get(caseId)?.state).toBe('hidden')
    button(other, 'Yes, the letters are the same').click()
    await until(other, () => wordsOf(other).includes('1 case was erased by two devices'))
    expect(bram.casebook.erasures().get(caseId)?.state).toBe('erased')

    await meetBoth(bram, sira)
    expect(sira.casebook.summaries()).toEqual([])
    expect(sira.casebook.hashes().has(caseId)).toBe(false)
    expect(wordsOf(await crewPage(sira))).toContain('1 case was erased')
  })

  it('is told to be impossible while nobody else is in the crew', async () => {
    const noor = await foundersPhone()
    const caseId = await newCase(noor, { personName: 'Tove Marn' })
    await ask(noor, caseId)
    expect(wordsOf(await crewPage(noor))).toContain('Nobody else of the crew can agree yet: let another device in.')
  })

  it('is not asked for by somebody who looks on', async () => {
    const noor = await foundersPhone()
    const guest = await letIn(noor, 'Guest', 'visitor')
    const caseId = await newCase(noor, { personName: 'Tove Marn' })
    await meetBoth(noor, guest)
    const element = await show<SpokeAskErasure>(guest, html`<spoke-ask-erasure .caseId=${caseId}></spoke-ask-erasure>`)
    expect(all(element, 'button')).toEqual([])
  })
})
