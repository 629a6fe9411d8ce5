import { expect, it } from 'vitest'
import { AppWorker, type WorkerSurroundings } from '../../../components/app/service-worker.ts'

const surroundings = (workers: ServiceWorkerContainer | undefined, reload = () => undefined): WorkerSurroundings => ({
  workers,
  locks: navigator.locks,
  page: window,
  reload,
})

it('no offline copy is promised where the browser or the address keeps none', async () => {
  const worker = new AppWorker(surroundings(undefined))
  const told: string[] = []
  worker.subscribe(() => told.push(worker.offlineCopy))
  await worker.start()
  expect(told).toEqual(['impossible'])
  expect(worker.updateReady).toBe(false)
})

it('a page whose worker was changed under it by another window offers to load anew, and does so only when asked', async () => {
  const active = Object.assign(new EventTarget(), { state: 'activated' })
  const registration = Object.assign(new EventTarget(), { active, installing: null, waiting: null })
  const workers = Object.assign(new EventTarget(), { controller: active, register: async () => registration })
  let reloads = 0
  const worker = new AppWorker(
    surroundings(workers as unknown as ServiceWorkerContainer, () => {
      reloads += 1
    }),
  )
  await worker.start()
  expect([worker.offlineCopy, worker.updateReady]).toEqual(['in-place', false])

  workers.dispatchEvent(new Event('controllerchange'))
  expect([worker.updateReady, reloads]).toEqual([true, 0])
  expect(await worker.takeUpdate()).toEqual({ ok: true, value: undefined })
  expect(reloads).toBe(1)
})
