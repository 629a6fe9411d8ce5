import { all, button, find, has, typeInto, until, wordsOf } from '../case/practice-case.ts'
import type { TestApp } from './test-session.ts'

export const PASSPHRASE = 'seven slow carts cross the wet bridge'

export const go = async ({ app }: TestApp, hash: string, selector: string): Promise<void> => {
  location.hash = hash
  await until(app, () => has(app, selector))
}

export const field = (test: TestApp, label: string): HTMLInputElement => {
  const found = all(test.app, 'label').find(one => wordsOf(one) === label) as HTMLLabelElement | undefined
  const input = (found?.getRootNode() as ShadowRoot | undefined)?.getElementById(found?.htmlFor ?? '')
  if (!(input instanceof HTMLInputElement)) throw new Error(`no field "${label}" in ${wordsOf(test.app)}`)
  return input
}

/** From the first screen to an empty casebook of the River crew. */
export const found = async (test: TestApp): Promise<TestApp> => {
  button(test.app, 'Found a casebook').click()
  await until(test.app, () => has(test.app, '#again'))
  typeInto(field(test, 'What your crew calls itself'), 'River crew')
  typeInto(field(test, 'Where it works'), 'Upper Kesse valley')
  typeInto(field(test, 'Your name'), 'Wenna Dalmor')
  typeInto(field(test, 'Passphrase'), PASSPHRASE)
  typeInto(field(test, 'The same once more'), PASSPHRASE)
  find(test.app, '#therapist').click()
  button(test.app, 'Found it').click()
  await until(test.app, () => has(test.app, 'header'))
  return test
}

export const unlock = async (test: TestApp, passphrase: string): Promise<void> => {
  typeInto(find<HTMLInputElement>(test.app, '#passphrase'), passphrase)
  button(test.app, 'Unlock').click()
  await find<HTMLElement & { updateComplete: Promise<boolean> }>(test.app, 'spoke-lock').updateComplete
  await until(test.app, () => !wordsOf(test.app).includes('Unlocking…'))
}
