import { ContextProvider } from '@lit/context'
import { expect as axe, fixture, html } from '@open-wc/testing'
import { afterEach, describe, expect, it } from 'vitest'
import { type AppContext, appContext } from '../../../components/app/context.ts'
import { languageSpoken } from '../../../components/paper/spoken-language.ts'
import '../../../components/paper/spoke-paper.ts'
import type { PaperKind, SpokePaper } from '../../../components/paper/spoke-paper.ts'
import { tokensText } from '../../../components/styles/tokens.ts'
import { changeLanguage } from '../../../components/text/text.ts'
import { build, choose, handOver, train, type Work } from '../../../demo/practice/chair-work.ts'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import type { CaseId } from '../../../src/ids.ts'
import { CASE_DAY, type PracticeCase, practiceCase } from '../../support/practice-case.ts'

const tokens = new CSSStyleSheet()
tokens.replaceSync(tokensText)
document.adoptedStyleSheets = [...document.adoptedStyleSheets, tokens]

const words = (text: string | null | undefined): string => (text ?? '').replace(/\s+/g, ' ').trim()

/** Everything that a person reads, shadow roots included. */
const textOf = (node: Node): string => {
  if (node.nodeType === Node.TEXT_NODE) return node.textContent ?? ''
  if (node instanceof HTMLStyleElement) return ''
  const inner = node instanceof Element && node.shadowRoot ? node.shadowRoot : node
  return [...inner.childNodes].map(textOf).join(' ')
}

/** Every element below, shadow roots included. */
const everyElement = (root: Element): readonly HTMLElement[] =>
  [...(root.shadowRoot ?? root).querySelectorAll<HTMLElement>('*')].flatMap(one =>
    one.shadowRoot ? [one, ...everyElement(one)] : [one],
  )

const until = (isSo: () => boolean): Promise<void> =>
  new Promise(resolve => {
    const look = (): void => {
      if (isSo()) resolve()
      else requestAnimationFrame(look)
    }
    look()
  })

const show = async (app: AppContext, what: PaperKind, caseId: CaseId | null): Promise<SpokePaper> => {
  const around = await fixture<HTMLElement>(html`<main></main>`)
  new ContextProvider(around, { context: appContext, initialValue: app })
  const element = document.createElement('spoke-paper')
  element.what = what
  element.caseId = caseId
  around.append(element)
  await element.updateComplete
  await until(() => !textOf(element).includes('Opening…'))
  return element
}

const sheetIn = (paper: SpokePaper, name: string): ShadowRoot => {
  const root = paper.shadowRoot?.querySelector(name)?.shadowRoot
  if (!root) throw new Error(`no ${name} in ${textOf(paper)}`)
  return root
}

const workOn = ({ casebook, technician, caseId }: PracticeCase): Work => ({
  casebook,
  hand: technician,
  caseId,
  on: CASE_DAY,
})

/** Sunniva with a chair chosen, nothing built yet. */
const withChair = async (): Promise<PracticeCase> => {
  const practice = await practiceCase('sunniva')
  await choose(workOn(practice))
  return practice
}

afterEach(() => changeLanguage('en'))

describe('the page that a sheet is printed from', () => {
  it('says when the case is not here, and when nothing is chosen yet', async () => {
    const practice = await practiceCase('sunniva')
    const unknown = await show(practice.app, 'summary', 'AAAAAAAAAAAAAAAAAAAAAA' as CaseId)
    expect(textOf(unknown)).toContain('This case is not on this device.')
    const early = await show(practice.app, 'build-sheet', practice.caseId)
    await until(() => textOf(early).includes('No chair is chosen'))
  })

  it('opens, and says in words when the case cannot be read', async () => {
    const practice = await practiceCase('sunniva')
    const failing = new Proxy(practice.casebook, {
      get: (target, name) =>
        name === 'view'
          ? () => Promise.reject(new Error('the row does not open'))
          : (Reflect.get(target, name).bind?.(target) ?? Reflect.get(target, name)),
    })
    const paper = await show({ ...practice.app, casebook: failing }, 'summary', practice.caseId)
    await until(() => textOf(paper).includes('the row does not open'))
    expect(textOf(paper)).toContain('What was saved is safe')
  })

  it('sets the page of the document while it is shown, and only then', async () => {
    const practice = await withChair()
    const pageRules = (): number =>
      document.adoptedStyleSheets.filter(sheet => [...sheet.cssRules].some(rule => rule instanceof CSSPageRule)).length
    const before = pageRules()
    const paper = await show(practice.app, 'build-sheet', practice.caseId)
    expect(pageRules()).toBe(before + 1)
    paper.remove()
    expect(pageRules()).toBe(before)
  })
})

describe('the build sheet', () => {
  it('lists settings, tools, every step with its box, and the checks', async () => {
    const practice = await withChair()
    const outcome = await practice.casebook.outcome(practice.caseId, CASE_DAY)
    const paper = await show(practice.app, 'build-sheet', practice.caseId)
    const root = sheetIn(paper, 'spoke-paper-build-sheet')
    const steps = [...root.querySelectorAll('ol.ticks > li')]
    expect(steps).toHaveLength(outcome?.build?.steps.length ?? 0)
    for (const step of steps) expect(step.querySelector('.box')).not.toBe(null)
    expect([...root.querySelectorAll('ul.ticks > li')]).toHaveLength(outcome?.checks.length ?? 0)
    const text = words(textOf(root.querySelector('.sheet') ?? root))
    expect(text).toContain('Sunniva Tarrek')
    expect(text).toContain('Kesse crew, Lower Kesse valley')
    expect(text).toContain(`${outcome?.target?.setUp.seatWidthMm} mm`)
    expect(text).toContain('Torque, pressure and load limits printed on the part win')
    expect(text).toMatch(/\d+ kPa · \d+ psi · [\d.]+ bar/)
  })

  it('says beside each setting what was read from the chair, with a line only for what was not', async () => {
    const practice = await withChair()
    const { casebook, caseId } = practice
    await casebook.save(caseId, { kind: 'save', set: { builtSeatWidthMm: 395, serialNumber: 'RL 0417' }, over: [] })
    const paper = await show(practice.app, 'build-sheet', caseId)
    await until(() => textOf(paper).includes('RL 0417'))
    const sheet = sheetIn(paper, 'spoke-paper-build-sheet')
    const rows = [...sheet.querySelectorAll<HTMLElement>('.rows .row.three')]
    const row = (name: string) => rows.find(one => words(one.querySelector('dt')?.textContent) === name)
    expect(words(row('Seat width')?.textContent)).toContain('395 mm')
    expect(row('Seat width')?.querySelector('.blank')).toBe(null)
    expect(row('Back height')?.querySelector('.blank')).not.toBe(null)
    // On a phone the three columns stand below each other: each then says what it is, and the heads are gone.
    paper.style.inlineSize = '328px'
    const shown = (one: Element | null | undefined) => one && getComputedStyle(one).display
    expect(shown(sheet.querySelector('.heads'))).toBe('none')
    expect(shown(row('Seat width')?.querySelector('.said'))).toBe('inline')
    paper.style.inlineSize = '720px'
    expect(shown(sheet.querySelector('.heads'))).not.toBe('none')
    expect(shown(row('Seat width')?.querySelector('.said'))).toBe('none')
  })

  it('keeps its lines where what was read is of another model', async () => {
    const practice = await withChair()
    const { casebook, caseId } = practice
    const chosen = (await casebook.outcome(caseId, CASE_DAY))?.target?.setUp.chair
    const other = casebook.context().catalogue.models.find(model => model.key !== chosen)
    await casebook.save(caseId, { kind: 'save', set: { builtChair: other?.key, builtSeatWidthMm: 395 }, over: [] })
    const paper = await show(practice.app, 'build-sheet', caseId)
    await until(() => textOf(paper).includes('another than the one chosen'))
    const rows = [...sheetIn(paper, 'spoke-paper-build-sheet').querySelectorAll('.rows .row.three')]
    expect(rows.length).toBeGreaterThan(0)
    expect(rows.filter(row => row.querySelector('.blank') === null)).toEqual([])
  })

  it('shows only what is left, and names what was done', async () => {
    const practice = await withChair()
    const all = (await practice.casebook.outcome(practice.caseId, CASE_DAY))?.build?.steps.length ?? 0
    await build(workOn(practice), 'LK-0021', 3)
    const paper = await show(practice.app, 'build-sheet', practice.caseId)
    const root = sheetIn(paper, 'spoke-paper-build-sheet')
    expect([...root.querySelectorAll('ol.ticks > li')]).toHaveLength(all - 3)
    expect(textOf(root)).toContain('Done before:')
  })

  it('passes the accessibility check and is black on white in the dark', async () => {
    const practice = await withChair()
    const paper = await show(practice.app, 'build-sheet', practice.caseId)
    await axe(paper).to.be.accessible()
    const host = paper.shadowRoot?.querySelector('spoke-paper-build-sheet')
    if (!host) throw new Error('no sheet')
    expect(getComputedStyle(host).backgroundColor).toBe('rgb(255, 255, 255)')
    expect(getComputedStyle(host).color).toBe('rgb(0, 0, 0)')
  })
})

describe('the work of the day', () => {
  it('merges the tools, prints each chair, and leaves out whom somebody unticks', async () => {
    const practice = await withChair()
    const second = await practiceCaseIn(practice, 'zeyna')
    await practice.casebook.settled()
    const paper = await show(practice.app, 'day', null)
    const day = paper.shadowRoot?.querySelector('spoke-paper-day')
    await until(() => day?.shadowRoot?.querySelector('spoke-paper-day-sheet') != null)
    const sheet = (): ShadowRoot => {
      const root = day?.shadowRoot?.querySelector('spoke-paper-day-sheet')?.shadowRoot
      if (!root) throw new Error('no sheet of the day')
      return root
    }
    await until(() => [...sheet().querySelectorAll('.job')].length === 2)
    const outcomes = await Promise.all([practice.caseId, second].map(id => practice.casebook.outcome(id, CASE_DAY)))
    const tools = new Set(outcomes.flatMap(one => one?.build?.tools ?? []))
    expect([...sheet().querySelectorAll('ul.half:not(.job ul) > li')]).toHaveLength(tools.size)
    const box = day?.shadowRoot?.querySelector<HTMLInputElement>('input')
    box?.click()
    await until(() => [...sheet().querySelectorAll('.job')].length === 1)
    await axe(paper).to.be.accessible()
  })

  it('says so when no chair is to be prepared', async () => {
    const practice = await practiceCase('sunniva')
    await practice.casebook.settled()
    const paper = await show(practice.app, 'day', null)
    await until(() => textOf(paper).includes('No chair is to be prepared'))
  })
})

/** Another person in the same casebook, with a chair chosen. */
const practiceCaseIn = async (practice: PracticeCase, key: string): Promise<CaseId> => {
  const { factsOf } = await import('../../support/practice-case.ts')
  const added = await practice.casebook.addCase({ kind: 'save', set: factsOf(key) })
  if (!added.ok) throw new Error(added.failure.message)
  await choose({ ...workOn(practice), caseId: added.value.caseId })
  return added.value.caseId
}

describe('the handover sheet', () => {
  const handedOver = async (more: Readonly<Record<string, unknown>> = {}): Promise<PracticeCase> => {
    const practice = await withChair()
    await build(workOn(practice), 'LK-0021')
    await train(workOn(practice))
    if (Object.keys(more).length > 0) await practice.technician.change(practice.caseId, { on: CASE_DAY, set: more })
    await handOver({ ...workOn(practice), on: toCalendarDate('2026-05-14') }, 'LK-0021')
    return practice
  }

  it('gives the person their own numbers, the picture, care, dates and whom to call', async () => {
    const practice = await handedOver({
      pressureReliefPlan: 'lean forward while the kettle boils',
      localRepairer: 'Orsa, bicycle mender at the mill',
      caregiverName: 'Ilka',
    })
    const outcome = await practice.casebook.outcome(practice.caseId, CASE_DAY)
    const paper = await show(practice.app, 'handover', practice.caseId)
    const root = sheetIn(paper, 'spoke-paper-handover')
    await until(() => root.querySelector('svg.picture') !== null)
    const text = words(textOf(root.querySelector('.sheet') ?? root))
    const setUp = outcome?.target?.setUp
    expect(text).toContain('number LK-0021')
    expect(text).toContain(`Seat: ${setUp?.seatWidthMm} mm wide`)
    // Sunniva drives with her left foot: no plate hangs on that side.
    expect(setUp?.footrestLeftMm).toBe(null)
    expect(text).toContain(`Footrests: left taken off, right ${setUp?.footrestRightMm} mm`)
    expect(text).toContain('lean forward while the kettle boils')
    expect(text).toContain('Orsa, bicycle mender at the mill')
    expect(text).toContain('Also shown to: Ilka')
    // First review six weeks or six months after the handover (WHO 2008, 3.3.9): a date stands on the sheet.
    expect(outcome?.dues.items.length).toBeGreaterThan(0)
    expect(text).toContain('Review of fit, skin, chair and skills: ')
    expect(text).toContain('try new things with somebody behind you')
    const marks = [...root.querySelectorAll('.mark-number')].map(one => one.textContent)
    expect(marks).toEqual([...root.querySelectorAll('.count')].map(one => one.textContent))
    await axe(paper).to.be.accessible()
  })

  it('says whom to call and on which number, else leaves a line to write it on', async () => {
    const practice = await handedOver()
    const paper = await show(practice.app, 'handover', practice.caseId)
    const callOn = (): string => words(textOf(sheetIn(paper, 'spoke-paper-handover'))).replace(/.*Whom to call/, '')
    await until(() => callOn().includes('Telephone:'))
    const said = await practice.casebook.setContact({ who: 'Workshop at Dorrow', telephone: '+000 55 01' })
    expect(said.ok).toBe(true)
    const anew = await show(practice.app, 'handover', practice.caseId)
    const text = words(textOf(sheetIn(anew, 'spoke-paper-handover')))
    expect(text).toMatch(/Workshop at Dorrow ?: \+000 55 01/)
    expect(text).not.toContain('Telephone:')
  })

  it('says what was read from the real chair, not what was planned', async () => {
    const practice = await handedOver({ builtFootrestLeftMm: 333 })
    const paper = await show(practice.app, 'handover', practice.caseId)
    await until(() => textOf(paper).includes('Footrests: left 333'))
  })

  it('says until when a temporary chair is lent, by the latest handover', async () => {
    const practice = await handedOver()
    const earlier = { ...workOn(practice), on: toCalendarDate('2026-05-14') }
    await practice.technician.say(practice.caseId, [
      {
        on: CASE_DAY,
        set: { handover: { handedOverOn: CASE_DAY, serialNumber: 'LK-0077', temporaryUntil: '2026-08-01' } },
      },
    ])
    for (let again = 0; again < 3; again += 1) await handOver(earlier, `LK-000${again}`)
    const paper = await show(practice.app, 'handover', practice.caseId)
    await until(() => textOf(paper).includes('Your wheelchair'))
    expect(textOf(paper)).toContain('This chair is lent until 1 August 2026')
    expect(textOf(paper)).toContain('number\u00a0LK-0077')
  })
})

describe('the case summary', () => {
  it('says everything that is recorded, who measured, and what is not settled', async () => {
    const practice = await practiceCase('hanneth')
    await practice.technician.say(practice.caseId, [
      { on: CASE_DAY, set: { hipWidthMm: { typed: 379, unit: 'mm', how: 'callipers' } } },
    ])
    const paper = await show(practice.app, 'summary', practice.caseId)
    const text = words(textOf(sheetIn(paper, 'spoke-paper-summary').querySelector('.sheet') as Node))
    expect(text).toContain('Hip width 379 mm or 387 mm: not settled')
    expect(text).toContain('Sira Vellanke')
    expect(text).toContain('Referral')
    expect(text).toContain('Hip width: 379 mm or 387 mm. It changes the chair.')
    await axe(paper).to.be.accessible()
  })
})

describe('the chair label', () => {
  it('carries the serial number, and no name', async () => {
    const practice = await withChair()
    await build(workOn(practice), 'LK-0021')
    const paper = await show(practice.app, 'label', practice.caseId)
    const label = sheetIn(paper, 'spoke-chair-label')
    await until(() => label.querySelector('svg') !== null)
    expect(textOf(label)).toContain('LK-0021')
    expect(textOf(label)).not.toContain('Sunniva')
  })
})

describe('on a small phone with large letters', () => {
  it('no sheet is wider than 320 px at twice the text, and every control can be hit', async () => {
    const practice = await withChair()
    await practice.casebook.settled()
    for (const what of ['build-sheet', 'day', 'handover', 'summary', 'label'] as const) {
      const paper = await show(practice.app, what, what === 'day' ? null : practice.caseId)
      const around = paper.parentElement
      if (!around) throw new Error('the page stands nowhere')
      document.documentElement.style.fontSize = '200%'
      around.style.inlineSize = '320px'
      await until(() => everyElement(paper).some(one => one.matches('.sheet, .tag')))
      const wide = everyElement(paper).filter(one => !one.closest('svg') && one.scrollWidth > 320)
      expect([what, wide.map(one => `${one.localName}.${one.className}`)]).toEqual([what, []])
      const low = everyElement(paper)
        .filter(one => one.matches('button, select, .others a'))
        .filter(one => one.getBoundingClientRect().height < 48)
      expect([what, low.map(one => one.localName)]).toEqual([what, []])
      document.documentElement.style.fontSize = ''
      paper.remove()
    }
  })
})

describe('the handover sheet of somebody who speaks Arabic', () => {
  it('is written from right to left in Arabic, while the app stays English', async () => {
    const practice = await withChair()
    await practice.technician.change(practice.caseId, { on: CASE_DAY, set: { spokenLanguage: 'Arabic' } })
    const paper = await show(practice.app, 'handover', practice.caseId)
    const sheet = (): Element | null | undefined =>
      paper.shadowRoot?.querySelector('spoke-paper-handover')?.shadowRoot?.querySelector('.sheet')
    await until(() => sheet()?.getAttribute('lang') === 'ar')
    expect(sheet()?.getAttribute('dir')).toBe('rtl')
    expect(sheet()?.querySelector('h1')?.textContent).toBe('كرسيك المتحرك')
    expect(textOf(paper)).toContain('Back to the case')
    const picture = sheet()?.querySelector('svg')?.getBoundingClientRect()
    const numbers = sheet()?.querySelector('.numbers')?.getBoundingClientRect()
    if (!picture || !numbers) throw new Error('no picture')
    // Mirrored: what comes first stands at the right, or above where there is no room beside it.
    expect(picture.left >= numbers.right || picture.bottom <= numbers.top).toBe(true)
    await axe(paper).to.be.accessible()
  })

  it('speaks another language as soon as one is chosen', async () => {
    const practice = await withChair()
    const paper = await show(practice.app, 'handover', practice.caseId)
    const select = paper.shadowRoot?.querySelector('select')
    if (!select) throw new Error('no choice of language')
    select.value = 'fr'
    select.dispatchEvent(new Event('change'))
    await until(() => textOf(paper).includes('Votre fauteuil roulant'))
    expect(textOf(paper)).not.toContain('Your wheelchair')
  })
})

describe('the language that somebody speaks, as written down', () => {
  it.each([
    ['Spanish', 'es'],
    ['español', 'es'],
    ['ESPAGNOL', 'es'],
    ['Kesse, and French at school', 'fr'],
    ['francés', 'fr'],
    ['العربية', 'ar'],
    ['Arabe', 'ar'],
    ['English and Arabic', 'en'],
  ])('%s is %s', (written, language) => {
    expect(languageSpoken(written)).toBe(language)
  })

  it('is unknown where the app does not speak it', () => {
    expect(languageSpoken('Kesse')).toBe(undefined)
    expect(languageSpoken(undefined)).toBe(undefined)
  })
})
