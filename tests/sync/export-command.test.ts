import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import type { CaseId } from '../../src/ids.ts'
import { makeBundle } from '../../sync/transport/bundle.ts'
import { currentSecret } from '../../sync/trust/casebook-secret.ts'
import { expectOk, foundCasebook } from '../support/casebooks.ts'
import { call } from '../support/command-line.ts'

let folder: string
let caseId: CaseId
const at = (...names: readonly string[]) => join(folder, ...names)
const keys = () => ['--keys', at('keys.json')] as const

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'outspoke-'))
  const { casebook } = await foundCasebook('Ana')
  const set = {
    personName: '=Karuni, "the tall"',
    sex: 'female',
    hipWidthMm: { typed: 16, unit: 'in', how: 'tape' },
    builtFootrestLeftMm: null,
    repair: { repairedOn: '2026-11-20', part: '-tyre', fault: 'flat', chairUsable: true },
  }
  caseId = expectOk(await casebook.addCase({ kind: 'save', set })).caseId
  const secret = currentSecret(casebook.secrets())
  if (!secret) throw new Error('no secret')
  await writeFile(at('ana.bundle'), await makeBundle(casebook, secret))
  await writeFile(at('keys.json'), JSON.stringify({ casebook: casebook.casebookId, secrets: { 0: secret.secret } }))
}, 60_000)
afterAll(async () => {
  await rm(folder, { recursive: true, force: true })
})

describe('export', () => {
  test('without names writes cases, what happened and the dictionary, and no name', async () => {
    const called = await call('export', at('ana.bundle'), ...keys(), '--out', at('plain'))
    expect(called).toMatchObject({ status: 0, stderr: '' })
    expect(JSON.parse(called.stdout)).toEqual({ out: at('plain'), cases: 1, names: false })
    expect((await readdir(at('plain'))).sort()).toEqual(['cases.csv', 'dictionary.csv', 'events.csv'])
    for (const name of ['cases.csv', 'events.csv']) {
      const text = await readFile(at('plain', name), 'utf8')
      expect(text).toContain(caseId)
      expect(text).not.toMatch(/Karuni|tyre/)
    }
    expect(await readFile(at('plain', 'dictionary.csv'), 'utf8')).toContain('cases,hipWidthMm,measuring,measure')
  })

  test('with names gives what read-table reads back to the letter', async () => {
    expect((await call('export', at('ana.bundle'), ...keys(), '--names', '--out', at('named'))).status).toBe(0)
    const read = await call('read-table', at('named', 'cases.csv'), '--events', at('named', 'events.csv'))
    expect(read).toMatchObject({ status: 0, stderr: '' })
    expect(JSON.parse(read.stdout)).toEqual({
      cases: [
        {
          case: caseId,
          differences: [],
          notRead: [],
          // 16 in x 25.4 mm = 406.4 mm, in whole millimetres.
          values: { personName: '=Karuni, "the tall"', sex: 'female', hipWidthMm: 406, builtFootrestLeftMm: null },
        },
      ],
      events: [
        {
          case: caseId,
          entry: expect.stringMatching(/^[\w-]{22}$/),
          field: 'repair',
          value: { repairedOn: '2026-11-20', part: '-tyre', fault: 'flat', chairUsable: true },
        },
      ],
      faulty: [],
    })
  })

  test('the same entries give the same bytes', async () => {
    const called = await call('export', at('ana.bundle'), at('ana.bundle'), ...keys(), '--names', '--out', at('twice'))
    expect(called.status).toBe(0)
    for (const name of await readdir(at('named')))
      expect(await readFile(at('twice', name))).toEqual(await readFile(at('named', name)))
  })

  test('says in words what it cannot do, with status 2, and leaves nothing behind', async () => {
    await writeFile(at('noise.bundle'), 'a letter')
    await writeFile(at('noise.csv'), 'a letter')
    const wrong: readonly (readonly [readonly string[], RegExp])[] = [
      [['export', at('noise.bundle'), ...keys(), '--out', at('never')], /noise\.bundle: .*not a bundle/],
      [['export', at('ana.bundle'), ...keys(), '--out', at('plain')], /is not empty and was left as it is/],
      [['export', at('ana.bundle'), ...keys()], /needs --out/],
      [['export', ...keys(), '--out', at('never')], /at least one BUNDLE/],
      [['read-table', at('noise.csv')], /noise\.csv: does not begin with a column "case"/],
      [['read-table', at('missing.csv')], /there is no such file/],
      [['read-table'], /takes one CASES\.csv/],
    ]
    for (const [args, words] of wrong) {
      const called = await call(...args)
      expect(called, args.join(' ')).toMatchObject({ status: 2, stdout: '' })
      expect(called.stderr).toMatch(words)
    }
    expect((await readdir(folder)).filter(name => /never|part/.test(name))).toEqual([])
  }, 60_000)
})
