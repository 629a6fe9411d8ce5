import type { ReactiveController } from 'lit'
import { describe, expect, it } from 'vitest'
import { CaseController } from '../../../components/controllers/case-controller.ts'
import type { CasebookChange } from '../../../sync/casebook.ts'
import { practiceCase } from '../../support/practice-case.ts'

/** A host on the page, which is told to render as often as it counts. */
const hostOf = () => {
  const controllers: ReactiveController[] = []
  const host = {
    renders: 0,
    controllers,
    addController: (one: ReactiveController) => void controllers.push(one),
    removeController: () => undefined,
    requestUpdate: () => {
      host.renders += 1
    },
    updateComplete: Promise.resolve(true),
  }
  return host
}

/** A case on screen, and every piece of news of the casebook after it was read. */
const onScreen = async () => {
  const { casebook, app, caseId, therapist } = await practiceCase('hanneth')
  await casebook.settled()
  const host = hostOf()
  const controller = new CaseController(host)
  controller.show(app, caseId)
  controller.hostConnected()
  const news: CasebookChange[] = []
  casebook.subscribe(change => news.push(change))
  /** Whatever was asked of the casebook before has been answered once this is, and has been shown by then. */
  const shown = async (): Promise<void> => {
    await casebook.settled()
    for (let round = 0; round < 3; round += 1) await casebook.outcome(caseId, app.today())
  }
  await shown()
  return { casebook, caseId, therapist, controller, host, news, shown }
}

describe('a case on screen', () => {
  it('is rendered once for a save, not again when its summary is brought up to date', async () => {
    const { casebook, caseId, controller, host, news, shown } = await onScreen()
    const before = host.renders
    expect((await casebook.save(caseId, { kind: 'save', set: { localRepairer: 'The smith at the mill' } })).ok).toBe(
      true,
    )
    await shown()
    expect(news.map(change => change.type)).toEqual(['entries', 'derived'])
    expect(host.renders).toBe(before + 1)
    const { state } = controller
    expect(state.status === 'there' && state.view.values.localRepairer).toBe('The smith at the mill')
  })

  it('is rendered again for news of the crew, though nothing about the case is different', async () => {
    const { casebook, controller, host, shown } = await onScreen()
    const [before, { state }] = [host.renders, controller]
    expect((await casebook.setTitle({ crewName: 'Kesse crew', place: 'Upper Kesse valley' })).ok).toBe(true)
    await shown()
    expect(host.renders).toBeGreaterThan(before)
    const after = controller.state
    expect(state.status === 'there' && after.status === 'there' && after.outcome === state.outcome).toBe(true)
  })
})
