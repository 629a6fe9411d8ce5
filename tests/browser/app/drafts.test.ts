import { setViewport } from '@web/test-runner-commands'
import { afterEach, describe, expect, it } from 'vitest'
import type { AppCasebook } from '../../../components/app/context.ts'
import type { SpokeUpdate } from '../../../components/app/spoke-update.ts'
import { draftsOf, unsavedPlaces } from '../../../components/controllers/drafts.ts'
import { keptWords } from '../../../components/controllers/kept-words.ts'
import { whileWriting } from '../../../components/controllers/writing.ts'
import type { CaseId } from '../../../src/ids.ts'
import { expectOk } from '../../support/casebooks.ts'
import { all, button, find, has, typeInto, until, wordsOf } from '../case/practice-case.ts'
import { field, found, go, PASSPHRASE, unlock } from './in-app.ts'
import { openApp, type TestApp } from './test-session.ts'

let open: TestApp[] = []
const founded = async (): Promise<TestApp> => {
  const test = await found(await openApp())
  open.push(test)
  return test
}
const reloaded = async (test: TestApp): Promise<TestApp> => {
  const again = await test.reload()
  open = [...open.filter(one => one !== test), again]
  await until(again.app, () => has(again.app, '#passphrase'))
  await unlock(again, PASSPHRASE)
  await until(again.app, () => has(again.app, 'nav'))
  return again
}
afterEach(async () => {
  for (const test of open.toReversed()) await test.end()
  open = []
  await setViewport({ width: 360, height: 740 })
})

const casebookOf = ({ session }: TestApp): AppCasebook => {
  if (session.state.at !== 'open') throw new Error(`it is ${session.state.at}`)
  return session.state.context.casebook
}
const written = async (test: TestApp): Promise<void> => {
  expect(await draftsOf(casebookOf(test)).written()).toBe(true)
}
/** False when the browser would ask first. */
const closes = (): boolean => window.dispatchEvent(new Event('beforeunload', { cancelable: true }))

/** A case that is closed: opening it again asks for words. */
const closedCase = async (test: TestApp): Promise<CaseId> => {
  const casebook = casebookOf(test)
  const { caseId } = expectOk(await casebook.addCase({ kind: 'save', set: { personName: 'Ilse Dorn' } }))
  expectOk(await casebook.save(caseId, { kind: 'save', set: { exit: { on: '2026-11-20', why: 'moved' } } }))
  return caseId
}
const typeReason = async (test: TestApp, caseId: CaseId, words: string): Promise<void> => {
  await go(test, `#/case/${caseId}/exit`, '#reopen')
  typeInto(find<HTMLTextAreaElement>(test.app, '#reopen'), words)
}

describe('words typed along with an act', () => {
  it('are there again after the lock and after a reload, and are gone once they have served', async () => {
    const test = await founded()
    const caseId = await closedCase(test)
    await typeReason(test, caseId, 'Came back fr')
    await test.session.lock('idle')
    await until(test.app, () => has(test.app, '#passphrase'))
    expect(wordsOf(test.app)).not.toContain('Came back')
    await unlock(test, PASSPHRASE)
    await until(test.app, () => has(test.app, '#reopen'))
    expect(find<HTMLTextAreaElement>(test.app, '#reopen').value).toBe('Came back fr')

    const again = await reloaded(test)
    await go(again, `#/case/${caseId}/exit`, '#reopen')
    expect(find<HTMLTextAreaElement>(again.app, '#reopen').value).toBe('Came back fr')
    typeInto(find<HTMLTextAreaElement>(again.app, '#reopen'), 'Came back from the city')
    button(again.app, 'Open it again').click()
    await until(again.app, () => unsavedPlaces(casebookOf(again)).length === 0)
    expect((await casebookOf(again).view(caseId))?.values.exit ?? null).toBe(null)
  })

  it('and a risk that is being lowered, a decision about a difference and the crew\u2019s new name survive a reload', async () => {
    const test = await founded()
    const casebook = casebookOf(test)
    const { caseId } = expectOk(
      await casebook.addCase({ kind: 'save', set: { personName: 'Ilse Dorn', presentSore: true } }),
    )
    await go(test, `#/case/${caseId}/assessment`, 'spoke-questions')
    button(find(test.app, 'spoke-questions'), 'Is the skin at risk').click()
    const sore = (): HTMLElement | undefined =>
      all(test.app, 'spoke-flag').find(one => (one as unknown as { name: string }).name === 'presentSore')
    await until(test.app, () => sore() !== undefined)
    const flag = sore() ?? test.app
    find<HTMLInputElement>(flag, 'input[type=radio]').click()
    await until(test.app, () => has(flag, '#why'))
    typeInto(find<HTMLTextAreaElement>(flag, '#why'), 'Healed since')
    await go(test, '#/crew', '#crew-name')
    typeInto(find<HTMLInputElement>(test.app, '#crew-name'), 'River crew tw')
    await written(test)

    const again = await reloaded(test)
    await go(again, '#/crew', '#crew-name')
    expect(find<HTMLInputElement>(again.app, '#crew-name').value).toBe('River crew tw')
    expect(keptWords(casebookOf(again), caseId, 'lower presentSore')).toBe('Healed since')
    expect(unsavedPlaces(casebookOf(again)).toSorted()).toEqual([caseId, 'crew'].toSorted())
  })
})

describe('a half-filled form', () => {
  it('of somebody new is there again after a reload, is told in the list, and is gone once it is saved', async () => {
    const test = await founded()
    await go(test, '#/new-referral', '#name')
    typeInto(find<HTMLInputElement>(test.app, '#name'), 'Half a na')
    await written(test)
    const again = await reloaded(test)
    await go(again, '#/people', '.new')
    expect(wordsOf(find(again.app, '.new'))).toBe('New person, half written')
    await go(again, '#/new-referral', '#name')
    expect(find<HTMLInputElement>(again.app, '#name').value).toBe('Half a na')
    button(again.app, 'Save and open').click()
    await until(again.app, () => location.hash.startsWith('#/case/'))
    expect(unsavedPlaces(casebookOf(again))).toEqual([])
  })

  it('of somebody new in which everything was taken back is none', async () => {
    const test = await founded()
    await go(test, '#/new-referral', '#name')
    typeInto(find<HTMLInputElement>(test.app, '#name'), 'H')
    expect(unsavedPlaces(casebookOf(test))).toEqual(['referral'])
    typeInto(find<HTMLInputElement>(test.app, '#name'), '')
    expect(unsavedPlaces(casebookOf(test))).toEqual([])
  })

  it('is marked with its person in the list, at once', async () => {
    const test = await founded()
    const caseId = await closedCase(test)
    await setViewport({ width: 1366, height: 850 })
    await typeReason(test, caseId, 'Came back')
    await until(test.app, () => has(test.app, '.person .typed'))
    expect(wordsOf(find(test.app, '.person .typed'))).toBe('typed, not saved yet')
    typeInto(find<HTMLTextAreaElement>(test.app, '#reopen'), '')
    await until(test.app, () => !has(test.app, '.person .typed'))
  })

  it('keeps the browser from closing without asking, on every page, until it is saved or dropped', async () => {
    const test = await founded()
    expect(closes()).toBe(true)
    await go(test, '#/new-referral', '#name')
    typeInto(find<HTMLInputElement>(test.app, '#name'), 'Half a na')
    for (const [hash, selector] of [
      ['#/new-referral', '#name'],
      ['#/people', '.new'],
      ['#/ready', '.line'],
      ['#/crew', '#crew-name'],
    ] as const) {
      await go(test, hash, selector)
      expect(closes(), hash).toBe(false)
    }
    await go(test, '#/new-referral', '#name')
    button(test.app, 'Leave without saving').click()
    await until(test.app, () => location.hash === '#/people')
    expect(closes()).toBe(true)
    await go(test, '#/settings', '#old')
    typeInto(find<HTMLInputElement>(test.app, '#old'), 'seven')
    expect(closes()).toBe(false)
  })

  it('of a founding is kept by nothing but the page: the browser asks', async () => {
    const test = await openApp()
    open.push(test)
    button(test.app, 'Found a casebook').click()
    await until(test.app, () => has(test.app, '#again'))
    expect(closes()).toBe(true)
    typeInto(field(test, 'Your name'), 'Wenna')
    expect(closes()).toBe(false)
  })
})

describe('the lock', () => {
  it('hides everything at once and waits for what is being written, to its last part', async () => {
    const test = await founded()
    const casebook = casebookOf(test)
    let letGo = (): void => undefined
    const gate = new Promise<void>(resolve => {
      letGo = resolve
    })
    const saving = whileWriting(async () => {
      await gate
      return casebook.addCase({ kind: 'save', set: { personName: 'Ilse Dorn' } })
    })
    const locking = test.session.lock('idle')
    await test.app.updateComplete
    expect(wordsOf(test.app)).not.toContain('Upper Kesse valley')
    expect(has(test.app, '#passphrase')).toBe(false)
    letGo()
    expectOk(await saving)
    await locking
    await until(test.app, () => has(test.app, '#passphrase'))
    await unlock(test, PASSPHRASE)
    await until(test.app, () => wordsOf(test.app).includes('Ilse Dorn'))
  })

  it('in another window loses nothing that was typed in this one', async () => {
    const test = await founded()
    await go(test, '#/new-referral', '#name')
    const other = await test.beside()
    open.push(other)
    await unlock(other, PASSPHRASE)
    await until(other.app, () => has(other.app, '#name'))
    typeInto(find<HTMLInputElement>(test.app, '#name'), 'Half a na')
    await other.session.lock('asked')
    await until(test.app, () => has(test.app, '#passphrase'))
    await test.session.lock('asked')
    await unlock(test, PASSPHRASE)
    await until(test.app, () => has(test.app, '#name'))
    expect(find<HTMLInputElement>(test.app, '#name').value).toBe('Half a na')
  })
})

describe('a new version', () => {
  const offer = async (casebook?: AppCasebook): Promise<{ element: SpokeUpdate; taken: () => number }> => {
    const element = document.createElement('spoke-update')
    let taken = 0
    element.updater = {
      takeUpdate: async () => {
        taken += 1
        return { ok: true, value: undefined }
      },
    }
    element.casebook = casebook
    document.body.append(element)
    await element.updateComplete
    return { element, taken: () => taken }
  }

  it.each([
    ['a new referral', 'referral', 'New person'],
    ['the crew\u2019s new name', 'crew', 'Crew'],
    ['a form of a case', 'form', 'Ilse Dorn'],
    ['words about a case', 'words', 'Ilse Dorn'],
    ['a decision about a difference', 'settling', 'Ilse Dorn'],
  ] as const)('is not taken under %s, and says where that is', async (_, what, name) => {
    const test = await founded()
    const caseId = await closedCase(test)
    const drafts = draftsOf(casebookOf(test))
    const key = what === 'referral' || what === 'crew' ? what : `${caseId} ${what} something`
    drafts.keep(key, what === 'words' ? 'Came back' : [{ field: 'place', value: 'Low', over: [], stood: [] }])
    const { element, taken } = await offer(casebookOf(test))
    button(element, 'Take it now').click()
    await until(element, () => has(element, '[role=alert] a'))
    expect(wordsOf(find(element, '[role=alert] a'))).toBe(name)
    expect(taken()).toBe(0)
    drafts.keep(key, undefined)
    button(element, 'Take it now').click()
    await until(element, () => taken() === 1)
    element.remove()
  })

  it('is not taken under a founding that is half-filled', async () => {
    const test = await openApp()
    open.push(test)
    button(test.app, 'Found a casebook').click()
    await until(test.app, () => has(test.app, '#again'))
    typeInto(field(test, 'Your name'), 'Wenna')
    const { element, taken } = await offer()
    button(element, 'Take it now').click()
    await until(element, () => has(element, '[role=alert]'))
    expect(taken()).toBe(0)
    typeInto(field(test, 'Your name'), '')
    button(element, 'Take it now').click()
    await until(element, () => taken() === 1)
    element.remove()
  })
})
