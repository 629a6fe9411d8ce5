import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { catalogueSchema } from '../../src/chair/chair-model.ts'
import type { CaseId } from '../../src/ids.ts'
import { makeBundle, readBundle } from '../../sync/transport/bundle.ts'
import { type CasebookSecret, currentSecret } from '../../sync/trust/casebook-secret.ts'
import { expectOk, foundCasebook, heldBy, invite, meet, type TestDevice } from '../support/casebooks.ts'
import { call } from '../support/command-line.ts'

const CATALOGUE = fileURLToPath(new URL('../../demo/practice-catalogue.json', import.meta.url))
const mm = (typed: number) => ({ typed, unit: 'mm', how: 'tape' })
/** An invented adult: enough to fit a chair. */
const BODY = {
  massKg: { typed: 68, unit: 'kg', how: 'scale' },
  thighDepthLeftMm: mm(480),
  thighDepthRightMm: mm(480),
  calfLengthLeftMm: mm(420),
  calfLengthRightMm: mm(420),
  ribHeightMm: mm(270),
  scapulaHeightMm: mm(440),
  elbowHeightMm: mm(230),
  statureMm: mm(1700),
  trunkNeed: 'some',
  propulsion: ['hands'],
  ground: 'mixed',
}
const hip = (typed: number) => ({ hipWidthMm: { typed, unit: 'mm', how: 'tape' } })

let folder: string
let ana: TestDevice
let ben: TestDevice
let shared: CaseId
let secret: CasebookSecret
const at = (name: string) => join(folder, name)

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'outspoke-'))
  ana = await foundCasebook('Ana')
  ben = await invite(ana, 'Ben')
  const first = currentSecret(ana.casebook.secrets())
  if (!first) throw new Error('no secret')
  secret = first
  const catalogue = catalogueSchema.parse(JSON.parse(await readFile(CATALOGUE, 'utf8')))
  for (const model of catalogue.models) expectOk(await ana.casebook.setModel(model.key, model))
  const set = { personName: 'Invented \u0007Person', presentSore: true, ...BODY, ...hip(400) }
  shared = expectOk(await ana.casebook.addCase({ kind: 'save', set })).caseId
  await meet(ana.casebook, ben.casebook)
  expectOk(await ana.casebook.addCase({ kind: 'save', set: { personName: 'Only Ana' } }))
  expectOk(await ben.casebook.save(shared, { kind: 'save', set: hip(452) }))
  await writeFile(at('ana.bundle'), await makeBundle(ana.casebook, secret))
  await writeFile(at('ben.bundle'), await makeBundle(ben.casebook, secret))
  const keys = { casebook: ana.casebook.casebookId, secrets: { 0: secret.secret } }
  await writeFile(at('keys.json'), JSON.stringify(keys))
})
afterAll(async () => {
  await rm(folder, { recursive: true, force: true })
})

const keysOption = () => ['--keys', at('keys.json')] as const

describe('collect', () => {
  test('makes one bundle that holds what all of them hold, and gives an account', async () => {
    const out = at('all.bundle')
    const called = await call('collect', at('ana.bundle'), at('ben.bundle'), ...keysOption(), '--out', out)
    expect(called).toMatchObject({ status: 0, stderr: '' })
    expect(JSON.parse(called.stdout)).toMatchObject({ cases: 2, entries: 3, entriesNew: 12, refusedCount: 0, epoch: 0 })
    await meet(ana.casebook, ben.casebook)
    const opened = expectOk(await readBundle(ana.casebook.casebookId, [secret], await readFile(out)))
    expect(opened.documents.map(({ key }) => key)).toEqual(Object.keys(await heldBy(ana.casebook)))
    for (const { key, hash } of opened.documents) expect(ana.casebook.hashes().get(key)).toEqual(hash)
  })

  test('writes nothing when a file is bad, names every one of them, and never writes over a file', async () => {
    const good = await readFile(at('ana.bundle'))
    await writeFile(at('short.bundle'), good.subarray(0, 100))
    await writeFile(at('noise.bundle'), 'this is a letter')
    const called = await call(
      'collect',
      ...['ana.bundle', 'short.bundle', 'noise.bundle'].map(at),
      ...keysOption(),
      '--out',
      at('never.bundle'),
    )
    expect(called).toMatchObject({ status: 2, stdout: '' })
    expect(called.stderr).toMatch(
      /short\.bundle: .*cut short.*\(truncated\)\n.*noise\.bundle: .*not a bundle.*\(not-a-bundle\)/,
    )
    const over = await call('collect', at('ben.bundle'), ...keysOption(), '--out', at('ana.bundle'))
    expect(over).toMatchObject({ status: 2, stdout: '' })
    expect(over.stderr).toContain('is there already')
    expect(await readFile(at('ana.bundle'))).toEqual(good)
    expect((await readdir(folder)).filter(name => /never|part/.test(name))).toEqual([])
  })

  test('never prints a key, not even from a key file that cannot be read', async () => {
    const broken = JSON.stringify({ casebook: ana.casebook.casebookId, secrets: { 0: secret.secret } })
    const wrong: Record<string, string> = {
      'cut.json': broken.slice(0, -3),
      'short.json': broken.replace(secret.secret, secret.secret.slice(0, 40)),
      'list.json': JSON.stringify([secret.secret]),
      'named.json': JSON.stringify({ [secret.secret]: 1 }),
    }
    for (const [name, text] of Object.entries(wrong)) {
      await writeFile(at(name), text)
      const called = await call('show', at('ana.bundle'), '--keys', at(name))
      expect(called).toMatchObject({ status: 2, stdout: '' })
      expect(called.stderr).toContain('Nothing was changed')
      expect(called.stderr).not.toContain(secret.secret.slice(0, 12))
    }
  })
})

describe('show', () => {
  test('lists each case with stage, holds, what differs and what is due', async () => {
    const both = at('both.bundle')
    expect((await call('collect', at('ben.bundle'), at('ana.bundle'), ...keysOption(), '--out', both)).status).toBe(0)
    const json = await call('show', both, ...keysOption(), '--today', '2026-11-25', '--json')
    expect(json).toMatchObject({ status: 0, stderr: '' })
    const lines: { case: string; name: string; holds: string[]; differences: string[]; stage: string }[] = JSON.parse(
      json.stdout,
    )
    expect(lines).toHaveLength(2)
    const line = lines.find(one => one.case === shared)
    expect(line).toMatchObject({ differences: ['hipWidthMm'], entries: 2 })
    // Open sores are held and referred: team policy, common practice, no source.
    expect(line?.holds.join(' ')).toMatch(/sore/i)
    const table = await call('show', both, ...keysOption(), '--today', '2026-11-25')
    expect(table.status).toBe(0)
    expect(table.stdout.split('\n')).toHaveLength(4)
    expect(table.stdout).toContain('Invented  Person')
    expect(table.stdout).not.toContain('\u0007')
  })

  test('prints one case as its entries say it is, and what follows from them', async () => {
    const called = await call('show', at('ana.bundle'), ...keysOption(), `--case=${shared}`, '--today', '2026-11-25')
    expect(called).toMatchObject({ status: 0, stderr: '' })
    const { view, outcome } = JSON.parse(called.stdout)
    expect(view).toMatchObject({ caseId: shared, values: { hipWidthMm: 400, presentSore: true }, entryCount: 1 })
    expect(outcome).toMatchObject({ today: '2026-11-25' })
  })

  test('says in words what it cannot do, with status 2', async () => {
    const wrong: readonly (readonly [readonly string[], RegExp])[] = [
      [['show', at('ana.bundle'), ...keysOption(), '--case=AAAAAAAAAAAAAAAAAAAAAA'], /no such case/],
      [['show', at('ana.bundle'), ...keysOption(), '--today', '2026-02-30'], /not a date/],
      [['show', ...keysOption()], /takes one BUNDLE/],
      [['show', at('ana.bundle')], /needs --keys/],
      [['show', at('ana.bundle'), '--bogus'], /Unknown option/],
      [['sing'], /no command "sing"/],
      [[], /outspoke COMMAND/],
    ]
    for (const [args, words] of wrong) {
      const called = await call(...args)
      expect(called, args.join(' ')).toMatchObject({ status: 2, stdout: '' })
      expect(called.stderr).toMatch(words)
    }
    const help = await call('show', '--help')
    expect(help).toMatchObject({ status: 0, stderr: '' })
    expect(help.stdout).toContain('--case ID')
  })
})
