import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import { DEFAULT_POLICY } from '../../../src/fitting/policy.ts'
import { expectOk } from '../../support/casebooks.ts'
import { closeTab, firstTab, openTab } from '../../support/devices.ts'
import { addCatalogueRow, catalogueRows } from '../../sync/catalogue-store-suite.ts'

/** y-indexeddb catches nothing: what it meets in a bad row comes up here, and is all that it ever says. */
const unheard: string[] = []
const hear = (event: PromiseRejectionEvent): void => {
  event.preventDefault()
  unheard.push(String(event.reason))
}
beforeEach(() => {
  unheard.length = 0
  window.addEventListener('unhandledrejection', hear)
})
afterEach(() => window.removeEventListener('unhandledrejection', hear))

const withMargin = (forwardMarginDeg: number) => ({
  ...DEFAULT_POLICY,
  angles: { ...DEFAULT_POLICY.angles, forwardMarginDeg },
})

describe('one bad row in the catalogue', () => {
  it('costs that row: the watchdog makes the store anew from its neighbours, says so, and the next start is whole', async () => {
    const tab = await firstTab()
    expectOk(await tab.casebook.setPolicy(withMargin(5)))
    const { caseId } = expectOk(await tab.casebook.addCase({ kind: 'save', set: { place: 'Low Ford' } }))
    closeTab(tab)
    await addCatalogueRow(tab.name, new Uint8Array([1, 2, 3]))
    const good = await catalogueRows(tab.name)

    const again = await openTab(tab.name, 500)
    expect(again.device.notices()).toMatchObject([{ type: 'catalogue-rebuilt', lostRows: 1 }])
    expect(again.casebook.context().policy.angles.forwardMarginDeg).toBe(5)
    expect((await again.casebook.view(caseId))?.values.place).toBe('Low Ford')
    // The control: the library alone had met the row and stayed silent.
    expect(unheard.length).toBeGreaterThan(0)
    expect((await catalogueRows(tab.name)).length).toBeLessThan(good.length)
    expectOk(await again.casebook.setPolicy(withMargin(6)))
    closeTab(again)

    const later = await openTab(tab.name)
    expect(later.device.notices()).toEqual([])
    expect(later.casebook.context().policy.angles.forwardMarginDeg).toBe(6)
    expect(await later.casebook.entryIds('catalogue')).toHaveLength(2)
    closeTab(later)
  })

  it('that comes while the app runs is met at the next read and costs no entry', async () => {
    const tab = await firstTab()
    expectOk(await tab.casebook.setPolicy(withMargin(5)))
    await addCatalogueRow(tab.name, new Uint8Array([1, 2, 3]))
    closeTab(tab)
    const slow = await openTab(tab.name, 500)
    await addCatalogueRow(tab.name, new Uint8Array([9, 9, 9]))
    expectOk(await slow.casebook.setPolicy(withMargin(7)))
    expect(slow.device.notices()).toMatchObject([{ type: 'catalogue-rebuilt', lostRows: 2 }])
    closeTab(slow)
    const later = await openTab(tab.name)
    expect(later.casebook.context().policy.angles.forwardMarginDeg).toBe(7)
    closeTab(later)
  })
})
