import { expect as axe } from '@open-wc/testing'
import { setViewport } from '@web/test-runner-commands'
import { afterEach, beforeEach, describe, expect, it } from 'vitest'
import '../../../components/meeting/spoke-to-hub.ts'
import type { SpokeToHub } from '../../../components/meeting/spoke-to-hub.ts'
import { changeLanguage } from '../../../components/text/text.ts'
import { beyondSides, button, find, smallTargets, until, wordsOf } from '../case/practice-case.ts'

const realFetch = globalThis.fetch
let asked: readonly unknown[]
/** The hub that this page came from answers so. */
const hubAnswers = (answer: () => Response): void => {
  globalThis.fetch = async (path, options) => {
    asked = [path, options?.method, options?.body]
    return answer()
  }
}

let element: SpokeToHub
beforeEach(async () => {
  await setViewport({ width: 360, height: 740 })
  element = document.createElement('spoke-to-hub')
  element.offer = 'outspoke-offer\n'
  element.answer = 'outspoke-answer'
  document.body.append(element)
  await element.updateComplete
  find<HTMLDetailsElement>(element, 'details').open = true
})
afterEach(async () => {
  globalThis.fetch = realFetch
  element.remove()
  await changeLanguage('en')
})

describe('giving an answer to a hub', () => {
  it.each([
    [204, 'The hub has it.'],
    [404, 'No hub at this address waits for a code.'],
    [409, 'The hub shows another code by now.'],
    [503, 'No hub at this address waits for a code.'],
  ])('says what came of it: %d', async (status, words) => {
    hubAnswers(() => new Response(null, { status }))
    button(element, 'Give my code to the hub').click()
    await until(element, () => wordsOf(element).includes(words))
    expect(asked).toEqual(['/answer', 'POST', '{"offer":"outspoke-offer","answer":"outspoke-answer"}'])
    await axe(element).to.be.accessible()
    expect([smallTargets(element), beyondSides(element, 360)]).toEqual([[], []])
  })

  it('says that the hub does not answer, and can be asked again', async () => {
    hubAnswers(() => {
      throw new TypeError('no network')
    })
    button(element, 'Give my code to the hub').click()
    await until(element, () => wordsOf(element).includes('The hub does not answer.'))
    hubAnswers(() => new Response(null, { status: 204 }))
    button(element, 'Give my code to the hub').click()
    await until(element, () => wordsOf(element).includes('The hub has it.'))
  })

  it.each(['es', 'fr', 'ar'] as const)('fits the narrowest phone in %s', async language => {
    await setViewport({ width: 320, height: 640 })
    await changeLanguage(language)
    hubAnswers(() => new Response(null, { status: 404 }))
    find(element, 'button').click()
    await until(element, () => element.outcome === 'nobody')
    await element.updateComplete
    expect(beyondSides(element, 320)).toEqual([])
  })
})
