import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { meet } from '../../demo/trip/meetings.ts'
import { createNotebook, type Notebook } from '../../demo/trip/notebook.ts'
import { prove } from '../../demo/trip/proof.ts'
import { type PlayedTrip, playTrip } from '../../demo/trip/story.ts'
import { state } from '../../demo/trip/trip.ts'
import { call } from '../support/command-line.ts'

interface Played extends PlayedTrip {
  readonly notebook: Notebook
  readonly text: string
}

const play = async (): Promise<Played> => {
  const printed: string[] = []
  const notebook = createNotebook(text => printed.push(text))
  const played = await playTrip(notebook)
  return { ...played, notebook, text: printed.join('\n') }
}

const devicesOf = ({ trip }: Played) => [trip.coordinator, trip.therapist, trip.technician]
/** Digests cover random case ids: they differ from run to run, and only they. */
const withoutDigests = (text: string): string => text.replaceAll(/[0-9a-f]{64}/g, 'digest')

let played: Played
/** Played a second time, and then changed on one device. */
let again: Played
beforeAll(async () => {
  played = await play()
  again = await play()
}, 120_000)

describe('the practice trip', () => {
  it('takes every turn that the work in the valley asks for', () => {
    const turns = played.notebook.turns()
    expect(turns.filter(({ happened }) => !happened)).toEqual([])
    expect(turns.map(({ name }) => name)).toEqual([
      'the technician has the crew, the chairs and the referral list on his phone',
      'an earlier chair brings its dues along',
      'people who need more than a chair are held and referred',
      'a hip width typed in the wrong unit is set aside',
      'the right unit brings a set-up',
      'a line that breaks loses nothing and is not begun again from the start',
      'a sealed file brings the coordinator level',
      'a difference that changes the chair holds the handover',
      'a difference that changes nothing is shown and holds nothing',
      'one woman stands in the casebook twice',
      'a chair is built, checked and ready to be handed over',
      'the recommended and the wanted axle move after the merge',
      'the brake check goes stale',
      'the build sheet shows only what is redone, and with which tools',
      'a present sore holds the chair and refers the person',
      'measuring again settles the difference',
      'one of two readings is kept, with a reason',
      'the steps are redone and the stale checks repeated',
      'a risk that is unticked without a reason stays held',
      'three chairs are handed over',
      'a priority case is seen after six weeks, another one after six months',
      'a child outgrows the chair within a window that is told beforehand',
      'a tyre that loses air is forecast',
      'an exit ends every due',
      'what a struck phone brings later is kept and does not count',
      'it counts once somebody of the crew stands up for it',
      'an erased case comes back by no bundle',
      'a review that was due is done and the next one follows',
      'a risk is lowered by a person who says why, and the chair is handed over',
      'they meet until nothing moves, and nobody has a problem to show',
      'the coordinator reads from her list who has a chair and who is next',
      'the three outcomes are byte-identical',
    ])
  })

  it('ends with three digests that are equal, each worked out on its own device', () => {
    const { statements, holds } = played.proof
    expect(holds).toBe(true)
    expect(statements.map(({ device }) => device)).toEqual([
      "the coordinator's laptop",
      "the therapist's phone",
      "the technician's phone",
    ])
    expect(new Set(statements.map(({ outcomes }) => outcomes)).size).toBe(1)
    expect(statements[0]?.outcomes).toMatch(/^[0-9a-f]{64}$/)
    expect(statements[0]?.caseCount).toBeGreaterThanOrEqual(24)
  })

  it('is short enough to be read, and shows no key, id or broken value', () => {
    expect(played.text.split('\n').length).toBeLessThanOrEqual(120)
    expect(played.text).not.toMatch(/undefined|NaN|null|\[object/)
    const { trip } = played
    const secret = [
      ...trip.cases.values(),
      ...devicesOf(played).map(({ casebook }) => casebook.device),
      ...trip.coordinator.casebook.secrets().map(one => one.secret),
    ]
    expect(secret.length).toBeGreaterThan(30)
    expect(secret.filter(text => played.text.includes(text))).toEqual([])
  })

  it('tells the same story each time, whatever keys and ids come up', () => {
    expect(again.trip.coordinator.casebook.casebookId).not.toBe(played.trip.coordinator.casebook.casebookId)
    expect(withoutDigests(again.text)).toBe(withoutDigests(played.text))
  })
})

describe('the proof', () => {
  it('fails when one device holds one entry that changes an outcome, and holds again once it was handed on', async () => {
    const { trip } = again
    const today = trip.calendar.today()
    await state(trip, trip.technician, 'pavo', { loads: [{ massKg: 9, at: 'handles', when: 'usual' }] })
    const apart = await prove(devicesOf(again), today)
    expect(apart.holds).toBe(false)
    const [coordinator, therapist, technician] = apart.statements
    expect(therapist?.outcomes).toBe(coordinator?.outcomes)
    expect(technician?.outcomes).not.toBe(coordinator?.outcomes)

    await meet(trip.technician, trip.therapist)
    await meet(trip.technician, trip.coordinator)
    expect((await prove(devicesOf(again), today)).holds).toBe(true)
  })

  it('fails as well when the entry changes no outcome: the entries themselves are compared', async () => {
    const { trip } = again
    await state(trip, trip.therapist, 'pavo', { goals: 'Go to school, and to the river' })
    const { statements, holds } = await prove(devicesOf(again), trip.calendar.today())
    expect(holds).toBe(false)
    expect(new Set(statements.map(({ outcomes }) => outcomes)).size).toBe(1)
    expect(new Set(statements.map(({ roots }) => roots)).size).toBe(2)
  })
})

describe('the notebook', () => {
  it('says in its place what did not happen, and keeps it for the exit status', () => {
    const printed: string[] = []
    const notebook = createNotebook(text => printed.push(text))
    notebook.turn('the axle moves', undefined, () => 'It moved.')
    notebook.turn('the brakes go stale', 0, count => `${count} brakes.`)
    expect(printed).toEqual(['- DID NOT HAPPEN: the axle moves.', '- 0 brakes.'])
    expect(notebook.turns().map(({ happened }) => happened)).toEqual([false, true])
  })
})

describe('outspoke walkthrough', () => {
  let folder: string
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'outspoke trip '))
  })
  afterAll(() => rm(folder, { recursive: true }))

  it('leaves bundles and keys that collect and show take, and no name of a person in a file name', async () => {
    const out = join(folder, 'new')
    const { status, stdout, stderr } = await call('walkthrough', '--out', out)
    expect([status, stderr]).toEqual([0, ''])
    expect(stdout).toContain(`show '${join(out, 'all.trip.outspoke-bundle')}'`)
    const files = [
      'coordinator.trip.outspoke-bundle',
      'technician.trip.outspoke-bundle',
      'therapist.trip.outspoke-bundle',
    ]
    expect((await readdir(out)).sort()).toEqual([...files, 'trip-keys.json'])

    const keys = ['--keys', join(out, 'trip-keys.json')]
    const all = join(out, 'all.trip.outspoke-bundle')
    const collected = await call('collect', ...files.map(name => join(out, name)), ...keys, '--out', all)
    expect([collected.status, collected.stderr]).toEqual([0, ''])
    const shown = await call('show', all, ...keys, '--today', '2026-06-24', '--json')
    const lines: { stage: string }[] = JSON.parse(shown.stdout)
    expect(lines.length).toBeGreaterThanOrEqual(24)
    expect(lines.filter(({ stage }) => stage === 'follow-up')).toHaveLength(4)
  }, 60_000)

  it('refuses a folder in which its files stand already, before the story begins', async () => {
    const kept = join(folder, 'therapist.trip.outspoke-bundle')
    await writeFile(kept, 'mine')
    const { status, stdout, stderr } = await call('walkthrough', '--out', folder)
    expect([status, stdout]).toEqual([2, ''])
    expect(stderr).toContain('is there already and was left as it is')
    expect(await readFile(kept, 'utf8')).toBe('mine')
  })

  it('refuses a folder that cannot be made, in words', async () => {
    const file = join(folder, 'a-file')
    await writeFile(file, '')
    const { status, stderr } = await call('walkthrough', '--out', file)
    expect(status).toBe(2)
    expect(stderr).toContain('cannot be made a folder')
  })
})
