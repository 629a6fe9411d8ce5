import '../../components/fit/spoke-fit-drawing.ts'
import type { SettingMoved } from '../../components/fit/setting-moved.ts'
import { settingMoved } from '../../components/fit/setting-moved.ts'
import { tokensText } from '../../components/styles/tokens.ts'
import { practiceFacts } from '../browser/fit/practice-fit.ts'

/** One change from the event to a page that is laid out again, ms. Painting comes on top, on its own thread. */
export const timesOf = async (key: string, changes: number): Promise<readonly number[]> => {
  const style = document.createElement('style')
  style.textContent = tokensText
  document.head.append(style)
  const facts = practiceFacts(key)
  if (!facts) throw new Error(`no chair serves ${key}`)
  const element = document.createElement('spoke-fit-drawing')
  element.facts = facts
  document.body.replaceChildren(element)
  const model = facts.catalogue.models.find(one => one.key === facts.chosen.chair)
  if (!model) throw new Error('the chair is not in the catalogue')
  const nextFrame = (): Promise<number> => new Promise(done => requestAnimationFrame(done))
  for (let frame = 0; frame < 3; frame += 1) await nextFrame()
  const moves: readonly SettingMoved[] = [
    ...model.axlePositions.map(one => ({ setting: 'axle', value: one.key }) as const),
    ...[model.footrest.minMm, model.footrest.minMm + 2 * model.footrest.stepMm].map(
      value => ({ setting: 'footrests', value }) as const,
    ),
    ...model.cushions.map(one => ({ setting: 'cushion', value: one.key }) as const),
  ]
  const views = ['spoke-side-view', 'spoke-rear-view', 'spoke-fit-controls'] as const
  const times: number[] = []
  for (let index = 0; index < changes; index += 1) {
    const move = moves[(index * 5) % moves.length]
    if (!move) throw new Error('nothing to move')
    await nextFrame()
    const start = performance.now()
    element.dispatchEvent(settingMoved(move))
    await element.updateComplete
    for (const name of views)
      for (const view of element.shadowRoot?.querySelectorAll(name) ?? []) await view.updateComplete
    document.body.getBoundingClientRect()
    times.push(performance.now() - start)
  }
  return times
}

Object.assign(globalThis, { timesOf })
