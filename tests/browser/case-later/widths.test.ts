import { expect } from '@open-wc/testing'
import { setViewport } from '@web/test-runner-commands'
import { html } from 'lit'
import { afterEach, describe, it } from 'vitest'
import '../../../components/case/spoke-case.ts'
import type { SpokeCase } from '../../../components/case/spoke-case.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { all, beyondSides, has, show, smallTargets, until } from '../case/practice-case.ts'
import { chairAt } from './practice-chair.ts'

afterEach(async () => {
  document.documentElement.style.fontSize = ''
  document.documentElement.dir = ''
  location.hash = ''
  await setViewport({ width: 800, height: 600 })
})

const openAll = async (element: SpokeCase): Promise<void> => {
  for (const details of all(element, 'details')) (details as HTMLDetailsElement).open = true
  await element.updateComplete
}

describe('the later parts of a case', () => {
  for (const [section, stage] of [
    ['choosing', 'measured'],
    ['choosing', 'chosen'],
    ['preparing', 'chosen'],
    ['checks', 'checked'],
    ['fitting', 'checked'],
    ['training', 'fitted'],
    ['handover', 'chosen'],
    ['follow-up', 'given'],
    ['exit', 'given'],
  ] as const) {
    it(`${section} (${stage}) is accessible and keeps its width at 320 px, at 200 % text and from right to left`, async () => {
      await setViewport({ width: 320, height: 720 })
      const chair = await chairAt('davor', stage, toCalendarDate('2026-05-01'))
      const element = await show<SpokeCase>(
        chair.phone,
        html`<spoke-case .caseId=${chair.caseId} .section=${section}></spoke-case>`,
      )
      await until(element, () => has(element, '.inside > *') && !has(element, '[aria-busy=true]'))
      await openAll(element)
      await expect(element).to.be.accessible()
      expect(smallTargets(element)).to.deep.equal([])
      expect(beyondSides(element, 320)).to.deep.equal([])
      document.documentElement.style.fontSize = '200%'
      expect(beyondSides(element, 320)).to.deep.equal([])
      document.documentElement.style.fontSize = ''
      document.documentElement.dir = 'rtl'
      expect(beyondSides(element, 320)).to.deep.equal([])
    })
  }
})
