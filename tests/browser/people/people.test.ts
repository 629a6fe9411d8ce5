import { expect as axe, html } from '@open-wc/testing'
import { sendKeys, setViewport } from '@web/test-runner-commands'
import { afterEach, beforeAll, describe, expect, it } from 'vitest'
import { onAnnounce } from '../../../components/app/announce.ts'
import type { AppContext } from '../../../components/app/context.ts'
import '../../../components/paper/spoke-paper-day.ts'
import type { SpokePaperDay } from '../../../components/paper/spoke-paper-day.ts'
import '../../../components/people/spoke-new-referral.ts'
import type { SpokeNewReferral } from '../../../components/people/spoke-new-referral.ts'
import '../../../components/people/spoke-people.ts'
import type { SpokePeople } from '../../../components/people/spoke-people.ts'
import { changeLanguage } from '../../../components/text/text.ts'
import { all, button, find, show, smallTargets, typeInto, until, wordsOf } from '../case/practice-case.ts'
import { emptyList, practiceList } from './practice-list.ts'

let app: AppContext
beforeAll(async () => {
  app = await practiceList()
})
afterEach(async () => {
  location.hash = ''
  await setViewport({ width: 360, height: 740 })
  await changeLanguage('en')
})

const listOf = (context: AppContext | undefined): Promise<SpokePeople> =>
  show<SpokePeople>(context && { casebook: context.casebook, app: context }, html`<spoke-people></spoke-people>`)
const rows = (list: SpokePeople): readonly HTMLElement[] => all(list, 'li.person')
const rowOf = (list: SpokePeople, name: string): string =>
  wordsOf(rows(list).find(row => wordsOf(row).includes(name)) ?? document.createTextNode(''))

describe('the list of people', () => {
  it('waits for a casebook, says so when nobody is there, shows everybody, and says when it fails', async () => {
    expect(wordsOf(await listOf(undefined))).toBe('Opening…')
    expect(wordsOf(await listOf(await emptyList()))).toContain('Nobody is here yet.')
    expect(rows(await listOf(app))).toHaveLength(29)
    const failing = {
      ...app,
      casebook: {
        ...app.casebook,
        summaries: () => {
          throw new Error('the disk is gone')
        },
        subscribe: () => () => undefined,
        crew: () => app.casebook.crew(),
      },
    }
    const words = wordsOf(await listOf(failing as unknown as AppContext))
    expect(words).toContain('the disk is gone')
    expect(words).toContain('What was saved is safe.')
  })

  it('is headed by the place and says of each person in a sentence what is next', async () => {
    const list = await listOf(app)
    expect(wordsOf(find(list, 'h1'))).toBe('Lower Kesse valley')
    expect(wordsOf(find(list, 'header p'))).toBe('28 people · Kesse crew')
    expect(rowOf(list, 'Hanneth Ogiwe')).toContain('Hanneth Ogiwe, 33 measure hip width again: 379 or 387 · Dorrow')
    expect(rowOf(list, 'Davor Quillan')).toContain('open sore: refer first, the chair waits')
    expect(rowOf(list, 'Linnet Okserra')).toContain('follow-up and upkeep: was due 6 May')
    expect(rowOf(list, 'Perpetua Anshel')).toContain('about 53')
  })

  it('leads to the sheet of the day where chairs are to be prepared, and names as many as the sheet then lists', async () => {
    expect(all(await listOf(await emptyList()), 'a[href="#/print/day"]')).toHaveLength(0)
    const link = find(await listOf(app), 'a[href="#/print/day"]')
    const day = await show<SpokePaperDay>({ casebook: app.casebook, app }, html`<spoke-paper-day></spoke-paper-day>`)
    await until(day, () => all(day, '.who input').length > 0)
    expect(wordsOf(link)).toBe(`Day sheet to print: ${all(day, '.who input').length} chairs to prepare`)
    expect(link.getBoundingClientRect().height).toBeGreaterThanOrEqual(48)
  })

  it('put aside, is neither read nor made anew after a merge, and is current in the frame that shows it again', async () => {
    const moved = await practiceList()
    let reads = 0
    const counting = new Proxy(moved.casebook, {
      get: (casebook, name) => {
        if (name === 'summaries') reads += 1
        const value: unknown = Reflect.get(casebook, name)
        return typeof value === 'function' ? value.bind(casebook) : value
      },
    })
    const aside = await listOf({ ...moved, casebook: counting })
    const pane = aside.parentElement as HTMLElement
    pane.hidden = true
    await until(aside, () => aside.getClientRects().length === 0)
    await new Promise(requestAnimationFrame)
    reads = 0
    const shown = await listOf(moved)
    const told = { told: true, agreed: true, by: 'person', on: moved.today() }
    const set = { personName: 'Amberlin Tosk', toldAndAgreed: told }
    expect((await moved.casebook.addCase({ kind: 'save', set })).ok).toBe(true)
    // Both heard of it in the same moment, the one put aside first.
    await until(shown, () => wordsOf(shown).includes('Amberlin Tosk'))
    expect(reads).toBe(0)
    expect(rows(aside)).toHaveLength(29)
    pane.hidden = false
    await new Promise(requestAnimationFrame)
    await new Promise(requestAnimationFrame)
    expect(wordsOf(aside)).toContain('Amberlin Tosk')
    expect(rows(aside)).toHaveLength(30)
  })

  it('opens no case to be shown', async () => {
    const opened: string[] = []
    const watching = new Proxy(app.casebook, {
      get: (casebook, name) => {
        if (name === 'view' || name === 'outcome' || name === 'record') opened.push(name)
        const value: unknown = Reflect.get(casebook, name)
        return typeof value === 'function' ? value.bind(casebook) : value
      },
    })
    expect(rows(await listOf({ ...app, casebook: watching }))).toHaveLength(29)
    expect(opened).toEqual([])
  })

  it('passes the accessibility check, light rows and all, and every target can be hit', async () => {
    const list = await listOf(app)
    await axe(list).to.be.accessible()
    expect(smallTargets(list)).toEqual([])
  })

  it('is worked by keyboard: search, then the first person found', async () => {
    const list = await listOf(app)
    find<HTMLInputElement>(list, 'input').focus()
    await sendKeys({ type: 'nemalla' })
    await until(list, () => rows(list).length === 2)
    await sendKeys({ press: 'Tab' })
    await sendKeys({ press: 'Enter' })
    expect(location.hash).toMatch(/^#\/case\//)
    const caseId = location.hash.split('/')[2]
    expect(app.casebook.summaries().find(one => one.caseId === caseId)?.name).toBe('Nemalla Okuway')
  })

  it('finds a name in another script, says how many, and comes back to everybody', async () => {
    const heard: string[] = []
    const stop = onAnnounce(words => heard.push(words))
    const list = await listOf(app)
    typeInto(find<HTMLInputElement>(list, 'input'), 'ميريل')
    await until(list, () => rows(list).length === 1)
    expect(wordsOf(list)).toContain('Mirel Asvadi')
    expect(heard).toEqual(['1 found'])
    button(list, 'Show everybody').click()
    await until(list, () => rows(list).length === 29)
    stop()
  })

  it('says so when nobody is meant, and does not stay empty', async () => {
    const list = await listOf(app)
    typeInto(find<HTMLInputElement>(list, 'input'), 'zzzzqqq')
    await until(list, () => rows(list).length === 0)
    expect(wordsOf(list)).toContain('Nobody is written like “zzzzqqq”')
  })

  it('shows what another device brought without losing what is typed in the search', async () => {
    const own = await practiceList()
    const list = await listOf(own)
    const input = find<HTMLInputElement>(list, 'input')
    typeInto(input, 'jorun')
    await until(list, () => rows(list).length === 1)
    const caseId = own.casebook.summaries().find(one => one.name === 'Jorun Tessaly')?.caseId
    if (!caseId) throw new Error('Jorun is not on the list')
    await own.casebook.save(caseId, { kind: 'save', set: { presentSore: true } })
    await until(list, () => rowOf(list, 'Jorun').includes('open sore'))
    expect(input.value).toBe('jorun')
  })

  it('loses nothing at 320 px and letters twice as large', async () => {
    await setViewport({ width: 320, height: 740 })
    document.documentElement.style.fontSize = '200%'
    const list = await listOf(app)
    const wide = all(list, '*').filter(
      one =>
        one.scrollWidth > one.clientWidth + 1 && getComputedStyle(one).display !== 'inline' && !one.closest('.unseen'),
    )
    document.documentElement.style.fontSize = ''
    expect(wide.map(one => `${one.localName}.${one.className}`)).toEqual([])
  })

  it('is mirrored for Arabic', async () => {
    const list = await listOf(app)
    await changeLanguage('ar')
    await list.updateComplete
    const [ring, name] = [find(list, '.ring'), find(list, '.who')].map(one => one.getBoundingClientRect())
    expect(document.documentElement.dir).toBe('rtl')
    expect(ring?.left).toBeGreaterThan(name?.right ?? Number.POSITIVE_INFINITY)
  })
})

const formOf = (context: AppContext): Promise<SpokeNewReferral> =>
  show<SpokeNewReferral>({ casebook: context.casebook, app: context }, html`<spoke-new-referral></spoke-new-referral>`)
const byId = (form: SpokeNewReferral, id: string): HTMLInputElement => find(form, `#${id}`)

describe('a new referral', () => {
  it('passes the accessibility check, with words of errors too', async () => {
    const form = await formOf(await emptyList())
    await axe(form).to.be.accessible()
    button(form, 'Save and open').click()
    await until(form, () => wordsOf(form).includes('Write a name first'))
    await axe(form).to.be.accessible()
    expect(smallTargets(form).filter(one => !one.startsWith('input'))).toEqual([])
  })

  it('takes the person at fault to the first thing that is wrong and keeps everything typed', async () => {
    const form = await formOf(await emptyList())
    typeInto(byId(form, 'place'), 'Dorrow')
    button(form, 'Save and open').click()
    await until(form, () => form.shadowRoot?.activeElement?.id === 'name')
    expect(byId(form, 'place').value).toBe('Dorrow')
  })

  it('saves what was told and agreed to, and opens the case', async () => {
    const context = await emptyList()
    const form = await formOf(context)
    typeInto(byId(form, 'name'), 'Ansa Korelle')
    byId(form, 'told').click()
    byId(form, 'agreed-yes').click()
    await form.updateComplete
    byId(form, 'by-guardian').click()
    await form.updateComplete
    typeInto(byId(form, 'byName'), 'Ilmo Korelle')
    button(form, 'Save and open').click()
    await until(form, () => location.hash.startsWith('#/case/'))
    const caseId = context.casebook.summaries()[0]?.caseId
    const view = caseId && (await context.casebook.view(caseId))
    expect(location.hash).toBe(`#/case/${caseId}`)
    expect(view?.values).toMatchObject({
      personName: 'Ansa Korelle',
      toldAndAgreed: { told: true, agreed: true, by: 'guardian', byName: 'Ilmo Korelle' },
    })
  })

  it('shows who may be the same before a second record is made', async () => {
    const form = await formOf(app)
    typeInto(byId(form, 'name'), 'Davor Quilan')
    await until(form, () => wordsOf(form).includes('Davor Quillan, Kesse Mill'))
    button(form, 'Leave without saving').click()
  })

  it('keeps what was typed when one leaves it for the list, and forgets it when told to', async () => {
    const context = await emptyList()
    const first = await formOf(context)
    typeInto(byId(first, 'name'), 'Half a na')
    first.remove()
    const second = await formOf(context)
    expect(byId(second, 'name').value).toBe('Half a na')
    button(second, 'Leave without saving').click()
    expect(byId(await formOf(context), 'name').value).toBe('')
  })

  it('is not lost when the store refuses', async () => {
    const context = await emptyList()
    const refusing = new Proxy(context.casebook, {
      get: (casebook, name) => {
        if (name === 'addCase')
          return async () => ({
            ok: false,
            failure: { type: 'storage-full', message: 'Not saved: this device has no room left.' },
          })
        const value: unknown = Reflect.get(casebook, name)
        return typeof value === 'function' ? value.bind(casebook) : value
      },
    })
    const form = await formOf({ ...context, casebook: refusing })
    typeInto(byId(form, 'name'), 'Ansa Korelle')
    button(form, 'Save and open').click()
    await until(form, () => wordsOf(form).includes('This device has no room left'))
    expect(byId(form, 'name').value).toBe('Ansa Korelle')
  })
})
