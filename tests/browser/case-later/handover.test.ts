import { expect } from '@open-wc/testing'
import { html } from 'lit'
import decodeQR from 'qr/decode.js'
import { describe, it } from 'vitest'
import '../../../components/case/handover/spoke-handover.ts'
import type { SpokeHandover } from '../../../components/case/handover/spoke-handover.ts'
import { all, answer, button, find, has, show, smallTargets, typeInto, until, wordsOf } from '../case/practice-case.ts'
import { chairAt, outcomeOf, type PracticeChair, pick, viewOf } from './practice-chair.ts'

const showHandover = async (chair: PracticeChair): Promise<SpokeHandover> => {
  const [view, outcome] = await Promise.all([viewOf(chair), outcomeOf(chair)])
  const element = await show<SpokeHandover>(
    chair.phone,
    html`<spoke-handover .view=${view} .outcome=${outcome}></spoke-handover>`,
  )
  await until(element, () => has(element, 'svg'))
  return element
}
const refresh = async (element: SpokeHandover, chair: PracticeChair): Promise<void> => {
  element.view = await viewOf(chair)
  element.outcome = await outcomeOf(chair)
  await element.updateComplete
}
const handovers = async (chair: PracticeChair) => (await viewOf(chair)).events.handover.map(event => event.value)

describe('handover', () => {
  it('says in words what stands in the way, each with the way to it, and records nothing until it is gone', async () => {
    const chair = await chairAt('davor', 'chosen')
    await chair.joss.change(chair.caseId, { on: '2026-05-12' as never, set: { presentSore: true } })
    const element = await showHandover(chair)
    const links = all(element, '.notice a.target').map(one => [
      one.getAttribute('href')?.split('/').at(-1),
      wordsOf(one),
    ])
    expect(links.map(([section]) => section)).to.include.members(['assessment', 'preparing', 'checks'])
    expect(links.map(([, words]) => words).join(' ')).to.contain('Open sore: refer to a health worker first.')
    typeInto(find<HTMLInputElement>(element, '#serial'), 'LK-7009')
    const record = button(element, 'Record the handover')
    expect(record.disabled).to.equal(false)
    record.click()
    await until(element, () => has(element, '.refused'))
    const refused = find(element, '.refused')
    expect(wordsOf(refused)).to.match(/^Not recorded: \d+ things stand in the way\./)
    expect(wordsOf(refused)).to.contain('Open sore')
    expect(element.shadowRoot?.activeElement).to.equal(refused)
    expect(await handovers(chair)).to.deep.equal([])
    // What was filled in stays, also when the part is closed and opened again.
    expect(find<HTMLInputElement>(await showHandover(chair), '#serial').value).to.equal('LK-7009')
    await expect(element).to.be.accessible()
  })

  it('asks why where not everything is written down, and records it with the answer', async () => {
    const chair = await chairAt('davor', 'checked')
    const element = await showHandover(chair)
    expect(wordsOf(element)).to.contain('Nothing stands in the way.')
    expect(wordsOf(element)).to.contain('Not written down yet')
    button(element, 'Record the handover').click()
    await until(element, () => has(element, '#why-error'))
    expect(await handovers(chair)).to.deep.equal([])
    typeInto(find<HTMLTextAreaElement>(element, '#why'), 'Fitted last week on paper')
    button(element, 'Record the handover').click()
    await until(element, () => !has(element, '[aria-busy=true]') && !has(element, '#why-error'))
    expect(await handovers(chair)).to.deep.equal([{ handedOverOn: '2026-05-12', serialNumber: 'LK-7001' }])
    expect((await viewOf(chair)).heads.handover?.map(head => head.why)).to.deep.equal(['Fitted last week on paper'])
  })

  it('records a temporary chair with its day, the cushion issued, and what became of the old chair', async () => {
    const chair = await chairAt('davor', 'trained')
    const element = await showHandover(chair)
    pick(element, 'It is a temporary chair', 'Yes').click()
    await until(element, () => has(element, '#until'))
    button(element, 'Record the handover').click()
    await until(element, () => has(element, '#until-error'))
    typeInto(find<HTMLInputElement>(element, '#until'), '2026-05-12')
    await until(element, () => wordsOf(element).includes('It must lie after the handover.'))
    typeInto(find<HTMLInputElement>(element, '#until'), '2026-08-01')
    answer(element, 'oldChair', 'Scrapped').click()
    button(element, 'Record the handover').click()
    await until(element, () => !has(element, '[aria-busy=true]') && !has(element, '#until-error'))
    const view = await viewOf(chair)
    expect(view.events.handover.map(event => event.value)).to.deep.equal([
      { handedOverOn: '2026-05-12', serialNumber: 'LK-7001', temporaryUntil: '2026-08-01' },
    ])
    const cushion = (await outcomeOf(chair)).target?.setUp.cushion
    expect(view.events.cushionIssued.map(event => event.value)).to.deep.equal([{ on: '2026-05-12', cushion }])
    expect(view.values.oldChair).to.equal('scrapped')
    await refresh(element, chair)
    expect(wordsOf(element)).to.contain('Handed over 12 May 2026, number LK-7001 temporary, until 1 August 2026')
  })

  it('prints a label whose code holds the random number of the case and nothing else', async () => {
    const chair = await chairAt('davor', 'trained')
    const element = await showHandover(chair)
    const label = find(element, 'spoke-chair-label')
    expect(wordsOf(label)).to.contain('Number LK-7001')
    expect(wordsOf(label)).not.to.contain('Davor')
    // Read back by the decoder of the library from the pixels of the drawing.
    const svg = find<HTMLElement>(label, 'svg')
    const source = new XMLSerializer().serializeToString(svg).replace('<svg', '<svg width="360" height="360"')
    const image = new Image()
    image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(source)}`
    await image.decode()
    const canvas = document.createElement('canvas')
    canvas.width = 360
    canvas.height = 360
    const pen = canvas.getContext('2d')
    if (!pen) throw new Error('no canvas')
    pen.drawImage(image, 0, 0, 360, 360)
    const { data, width, height } = pen.getImageData(0, 0, 360, 360)
    expect(decodeQR({ data, width, height })).to.equal(chair.caseId)
  })

  it('has targets for a glove', async () => {
    expect(smallTargets(await showHandover(await chairAt('davor', 'trained')))).to.deep.equal([])
  })
})
