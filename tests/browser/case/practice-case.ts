import { ContextProvider } from '@lit/context'
import { fixture } from '@open-wc/testing'
import { html, type LitElement, type TemplateResult } from 'lit'
import { type AppCasebook, type AppContext, appContext } from '../../../components/app/context.ts'
import { tokensText } from '../../../components/styles/tokens.ts'
import practiceCatalogue from '../../../demo/practice-catalogue.json'
import { PRACTICE_PEOPLE } from '../../../demo/practice-people.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { catalogueSchema } from '../../../src/chair/chair-model.ts'
import type { CaseId } from '../../../src/ids.ts'
import { createCasebook, joinCasebook } from '../../../sync/open-casebook.ts'
import { outcomeRules } from '../../../sync/outcome-rules.ts'
import { createMemoryStorage } from '../../../sync/storage/memory.ts'
import { createDeviceKey } from '../../../sync/trust/device-key.ts'
import { carry, expectOk } from '../../support/casebooks.ts'

export const TODAY = toCalendarDate('2026-05-12')
const catalogue = catalogueSchema.parse(practiceCatalogue)

const style = document.createElement('style')
style.textContent = tokensText
document.head.append(style)

export interface Phone {
  readonly casebook: AppCasebook
  readonly app: AppContext
}

const optionsFor = async (seconds: number) => {
  const { deviceKey } = await createDeviceKey()
  return {
    deviceKey,
    storage: createMemoryStorage().open(),
    rules: outcomeRules(),
    clock: () => Date.UTC(2026, 4, 12, 9, 42, seconds),
    today: () => TODAY,
  }
}

const phoneWith = (casebook: AppCasebook): Phone => ({
  casebook,
  app: { casebook, practice: true, today: () => TODAY } as AppContext,
})

/** Noor's phone, with the practice chairs. */
export const noorsPhone = async (): Promise<Phone> => {
  const options = { ...(await optionsFor(0)), founderName: 'Noor' }
  const casebook = expectOk(await createCasebook(options))
  for (const model of catalogue.models) expectOk(await casebook.setModel(model.key, model))
  return phoneWith(casebook)
}

/** Bram's phone, invited by Noor's and holding the same. */
export const bramsPhone = async (noor: Phone): Promise<Phone> => {
  const options = await optionsFor(30)
  const { device, publicKey } = options.deviceKey
  expectOk(await noor.casebook.addMember({ device, key: publicKey, name: 'Bram', role: 'technician' }))
  const casebook = expectOk(await joinCasebook({ ...options, casebookId: noor.casebook.casebookId }))
  await carry(noor.casebook, casebook)
  return phoneWith(casebook)
}

/** Everything from one phone to the other. */
export const meet = async (from: Phone, to: Phone): Promise<void> => {
  await carry(from.casebook, to.casebook)
}

/** A new case on a phone, with what is known of a practice person or with these facts. */
export const newCase = async (
  { casebook }: Phone,
  who: string | Readonly<Record<string, unknown>>,
): Promise<CaseId> => {
  const person = typeof who === 'string' ? PRACTICE_PEOPLE.find(one => one.key === who)?.facts : who
  if (!person) throw new Error(`no practice person ${String(who)}`)
  return expectOk(await casebook.addCase({ kind: 'save', set: person })).caseId
}

/** Renders inside something that gives the app's context, and waits for the first render. */
export const show = async <Shown extends HTMLElement>(
  phone: Phone | undefined,
  template: TemplateResult,
): Promise<Shown> => {
  const place = document.createElement('div')
  document.body.append(place)
  if (phone) new ContextProvider(place, { context: appContext, initialValue: phone.app })
  return fixture<Shown>(html`${template}`, { parentNode: place })
}

/** All that is on screen of an element, its inner elements included, as text. */
export const wordsOf = (node: Node): string => {
  if (node instanceof Text) return node.data
  if (!(node instanceof HTMLElement || node instanceof ShadowRoot || node instanceof DocumentFragment)) return ''
  if (node instanceof HTMLElement && node.localName === 'style') return ''
  if (node instanceof HTMLSlotElement) return node.assignedNodes({ flatten: true }).map(wordsOf).join(' ')
  const inside = node instanceof HTMLElement && node.shadowRoot ? node.shadowRoot : node
  return [...inside.childNodes].map(wordsOf).join(' ').replace(/\s+/g, ' ').trim()
}

/** Every element below, through shadow roots. */
const below = function* (root: ParentNode): Generator<HTMLElement> {
  for (const element of root.querySelectorAll<HTMLElement>('*')) {
    yield element
    if (element.shadowRoot) yield* below(element.shadowRoot)
  }
}

const insideOf = (element: HTMLElement): ParentNode => element.shadowRoot ?? element

/** The first element below that matches; throws where there is none. */
export const find = <Found extends HTMLElement>(root: HTMLElement, selector: string): Found => {
  for (const element of below(insideOf(root))) if (element.matches(selector)) return element as Found
  throw new Error(`no ${selector} in ${wordsOf(root)}`)
}
export const has = (root: HTMLElement, selector: string): boolean =>
  [...below(insideOf(root))].some(element => element.matches(selector))
export const all = (root: HTMLElement, selector: string): readonly HTMLElement[] =>
  [...below(insideOf(root))].filter(element => element.matches(selector))

/** The button whose words begin so. */
export const button = (root: HTMLElement, words: string): HTMLButtonElement => {
  const found = all(root, 'button').find(one => (one.getAttribute('aria-label') ?? wordsOf(one)).startsWith(words))
  if (!found) throw new Error(`no button "${words}" in ${wordsOf(root)}`)
  return found as HTMLButtonElement
}

/** The radio or checkbox of a field whose words are these. */
export const answer = (root: HTMLElement, field: string, words: string): HTMLInputElement => {
  const element = all(root, '*').find(one => (one as unknown as { name?: unknown }).name === field && one.shadowRoot)
  const label = element && all(element, 'label').find(one => wordsOf(one).startsWith(words))
  const input = label?.querySelector('input')
  if (!input) throw new Error(`no answer "${words}" of ${field} in ${wordsOf(root)}`)
  return input
}

/** A limit for what never comes, not a measure of speed. */
const LIMIT_MS = 10_000

/** Comes when what is asked holds, looked at before each frame; fails with what is on screen where it never does. */
export const until = async (root: HTMLElement, holds: () => boolean): Promise<void> => {
  const start = performance.now()
  while (!holds()) {
    if (performance.now() - start > LIMIT_MS) throw new Error(`never came: ${holds} in ${wordsOf(root)}`)
    await new Promise(requestAnimationFrame)
  }
  await (root as Partial<LitElement>).updateComplete
}

export const typeInto = (input: HTMLInputElement | HTMLTextAreaElement, text: string): void => {
  input.focus()
  input.value = text
  input.dispatchEvent(new InputEvent('input', { bubbles: true, composed: true }))
}

/** Targets that a glove can hit: at least 48 px both ways, the surface around a control counting (WCAG 2.2, 2.5.5 asks 44). */
export const smallTargets = (root: HTMLElement): readonly string[] =>
  all(root, 'button, input, select, textarea, a')
    .map(one => one.closest('label') ?? one)
    .filter(one => one.getClientRects().length > 0)
    .filter(one => {
      const { width, height } = one.getBoundingClientRect()
      return width < 47.5 || height < 47.5
    })
    .map(
      one =>
        `${one.localName} "${wordsOf(one)}" ${one.getBoundingClientRect().width} x ${one.getBoundingClientRect().height}`,
    )

/** What reaches beyond the sides of a screen so wide; what is only for screen readers aside. */
export const beyondSides = (root: HTMLElement, widthPx: number): readonly string[] =>
  document.documentElement.scrollWidth <= widthPx
    ? []
    : all(root, '*')
        .filter(one => {
          const { left, right } = one.getBoundingClientRect()
          return right > widthPx + 0.5 || left < -0.5
        })
        .map(one => `${one.localName}.${one.className} "${wordsOf(one).slice(0, 40)}"`)
