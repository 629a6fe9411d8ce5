import { ContextProvider } from '@lit/context'
import { html, type LitElement, render, type TemplateResult } from 'lit'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { type AppContext, appContext } from '../../../components/app/context.ts'
import '../../../components/app/spoke-hand-on.ts'
import '../../../components/app/spoke-ready.ts'
import '../../../components/app/spoke-settings.ts'
import '../../../components/crew/spoke-crew.ts'
import { CASE_SECTIONS } from '../../../components/case/section-registry.ts'
import '../../../components/case/spoke-case.ts'
import type { SpokeTheSum } from '../../../components/fit/spoke-the-sum.ts'
import '../../../components/paper/spoke-paper.ts'
import '../../../components/people/spoke-new-referral.ts'
import '../../../components/people/spoke-people.ts'
import { changeLanguage, speechIn } from '../../../components/text/text.ts'
import type { Setting } from '../../../src/fitting/reason.ts'
import type { CaseId } from '../../../src/ids.ts'
import { openApp } from '../app/test-session.ts'
import { all, button, until } from '../case/practice-case.ts'
import { practiceList } from '../people/practice-list.ts'
import { foreignWords, givenTexts, type Translated, textsOf, vocabularyOf, withoutGiven } from './screen-words.ts'

/** Words that stand on a screen in every language, and why. */
const EVERYWHERE: Readonly<Record<string, string>> = {
  english: 'each language is offered by its own name',
  español: 'each language is offered by its own name',
  français: 'each language is offered by its own name',
  العربية: 'each language is offered by its own name',
  arctan: 'sign of mathematics, ISO 80000-2; its words stand in the line above',
  cos: 'sign of mathematics, ISO 80000-2; its words stand in the line above',
  ln: 'sign of mathematics, ISO 80000-2; its words stand in the line above',
  int: 'sign of mathematics, ISO 80000-2; its words stand in the line above',
  min: 'sign of mathematics, ISO 80000-2; its words stand in the line above',
  max: 'sign of mathematics, ISO 80000-2; its words stand in the line above',
  localhost: 'a part of the address of this page',
}
const SHEETS = ['build-sheet', 'handover', 'summary', 'label', 'day'] as const
/** So many people have every question, form and landmark opened; what these say does not hang on the person. */
const OPENED_WHOLLY = 2

let app: AppContext
let given: readonly string[]
let people: readonly CaseId[]

/** What the sentences of a case are made from: stage, holds, dues, checks, rules, chair. */
const kindsOf = async (caseId: CaseId): Promise<readonly string[]> => {
  const outcome = await app.casebook.outcome(caseId, app.today())
  if (!outcome) throw new Error(`no outcome of ${caseId}`)
  const { stage, holds, dues, checks, differences, doubts, recommendation, target } = outcome
  const settings: readonly Setting[] = target?.settings ? Object.values(target.settings) : []
  return [
    `stage ${stage}`,
    ...holds.map(({ key }) => `hold ${key}`),
    ...dues.items.map(({ kind, state }) => `due ${kind} ${state}`),
    ...checks.map(({ state }) => `check ${state}`),
    ...differences.map(({ field, effect }) => `difference ${field} ${effect}`),
    ...doubts.map(({ likely }) => `doubt ${likely}`),
    ...recommendation.excluded.map(({ rule }) => `rule ${rule}`),
    ...recommendation.wouldHelp.map(({ lever }) => `lever ${lever}`),
    ...settings.flatMap(setting =>
      setting.type === 'missing' ? ['missing'] : setting.reasons.map(({ rule }) => `${setting.type} ${rule}`),
    ),
    `chair ${target?.setUp.chair}`,
  ]
}

/** People enough that each kind of sentence that the practice trip has is met. */
const peopleOfEveryKind = async (): Promise<readonly CaseId[]> => {
  const seen = new Set<string>()
  const chosen: CaseId[] = []
  for (const { caseId } of app.casebook.summaries()) {
    const kinds = await kindsOf(caseId)
    if (kinds.every(kind => seen.has(kind))) continue
    for (const kind of kinds) seen.add(kind)
    chosen.push(caseId)
  }
  return chosen
}

beforeAll(async () => {
  app = await practiceList()
  // The letters of a device are random.
  const letters = [...app.casebook.crew().members.keys()].map(device => device.slice(0, 4))
  given = [...(await givenTexts(app.casebook as never)), ...letters]
  people = await peopleOfEveryKind()
})
afterAll(async () => {
  await changeLanguage('en')
  location.hash = ''
})

const settled = async (element: LitElement): Promise<void> => {
  await element.updateComplete
  await until(element, () => all(element, '[aria-busy=true]').length === 0)
}

const show = async (template: TemplateResult): Promise<LitElement> => {
  const place = document.createElement('div')
  document.body.append(place)
  new ContextProvider(place, { context: appContext, initialValue: app })
  render(template, place)
  const element = place.firstElementChild as LitElement
  await settled(element)
  return element
}

/** Opens what is folded, sums too. */
const unfold = async (element: HTMLElement): Promise<void> => {
  for (const one of all(element, 'details') as readonly HTMLDetailsElement[]) one.open = true
  for (const sum of all(element, 'spoke-the-sum') as readonly SpokeTheSum[]) {
    sum.open = true
    await sum.updateComplete
  }
}

/** Questions, forms and landmarks of a part, which open one at a time. */
const openersIn = (element: HTMLElement): readonly HTMLElement[] =>
  all(element, '.inside [aria-expanded=false], .inside [aria-expanded=true], .inside .lists button')

const isTranslated = (language: Translated): void => {
  it('says nothing in words that come from none of its tables', async () => {
    await changeLanguage(language)
    const vocabulary = vocabularyOf(language, await speechIn(language))
    const strip = withoutGiven(given)
    const known = new Map<string, readonly string[]>()
    const foreign = new Map<string, string>()
    const look = (element: HTMLElement, where: string): void => {
      for (const text of textsOf(element)) {
        const words = known.get(text) ?? foreignWords(strip(text), vocabulary)
        known.set(text, words)
        for (const word of words)
          if (!Object.hasOwn(EVERYWHERE, word) && !foreign.has(word)) foreign.set(word, `${where}: ${text.trim()}`)
      }
    }
    const read = async (template: TemplateResult, where: string, wholly = false): Promise<void> => {
      const element = await show(template)
      await unfold(element)
      look(element, where)
      for (let index = 0; wholly && index < openersIn(element).length; index += 1) {
        openersIn(element)[index]?.click()
        await settled(element)
        look(element, where)
      }
      element.parentElement?.remove()
    }

    await read(html`<spoke-people></spoke-people>`, 'people')
    await read(html`<spoke-new-referral></spoke-new-referral>`, 'new referral')
    await read(html`<spoke-ready></spoke-ready>`, 'ready')
    await read(html`<spoke-settings></spoke-settings>`, 'settings')
    await read(html`<spoke-hand-on></spoke-hand-on>`, 'hand on')
    await read(html`<spoke-crew></spoke-crew>`, 'crew')
    for (const [index, caseId] of people.entries()) {
      for (const { key } of CASE_SECTIONS)
        await read(html`<spoke-case .caseId=${caseId} .section=${key}></spoke-case>`, key, index < OPENED_WHOLLY)
      for (const what of SHEETS) await read(html`<spoke-paper .caseId=${caseId} .what=${what}></spoke-paper>`, what)
    }
    // Far more than one page of one person: or the walk has missed what it is for.
    expect(known.size).toBeGreaterThan(1500)
    expect(Object.fromEntries(foreign)).toEqual({})
  })

  it('says nothing else at the door either', async () => {
    await changeLanguage(language)
    const vocabulary = vocabularyOf(language, await speechIn(language))
    const strip = withoutGiven([location.origin])
    const foreign: string[] = []
    const look = (element: HTMLElement): void => {
      for (const text of textsOf(element))
        for (const word of foreignWords(strip(text), vocabulary))
          if (!Object.hasOwn(EVERYWHERE, word)) foreign.push(`${word}: ${text.trim()}`)
    }
    const { app: door, end } = await openApp()
    look(door)
    button(door, (await speechIn(language)).say('door.found')).click()
    await until(door, () => all(door, '[type=submit]').length > 0)
    look(door)
    button(door, (await speechIn(language)).say('door.foundNow')).click()
    await until(door, () => all(door, '.error').some(one => !one.hidden))
    look(door)
    await end()
    expect(foreign).toEqual([])
  })
}

describe('Spanish', () => isTranslated('es'))
describe('French', () => isTranslated('fr'))
describe('Arabic', () => isTranslated('ar'))
