import { setViewport } from '@web/test-runner-commands'
import { afterEach, describe, expect, it } from 'vitest'
import { tokensText } from '../../../components/styles/tokens.ts'
import { button, find, has, until } from '../case/practice-case.ts'
import { openApp, type TestApp } from './test-session.ts'

let open: TestApp | undefined
afterEach(async () => {
  await open?.end()
  open = undefined
})

const style = document.createElement('style')
style.textContent = tokensText

describe('the frame', () => {
  it('is as high as the screen whatever is in it: only what is within scrolls, strip and tabs stay', async () => {
    document.head.append(style)
    await setViewport({ width: 360, height: 740 })
    open = await openApp()
    const { app } = open
    button(app, 'Try the practice trip').click()
    await until(app, () => has(app, 'li.person'))
    const caseId = find<HTMLAnchorElement>(app, 'li.person a').hash.split('/')[2]
    location.hash = `#/case/${caseId}/measuring`
    await until(app, () => has(app, 'spoke-landmark') || has(app, '.all'))
    expect(find(app, '.pane:not(.aside)').scrollHeight).toBeGreaterThan(740)
    expect(document.documentElement.scrollHeight).toBeLessThanOrEqual(740)
  })
})
