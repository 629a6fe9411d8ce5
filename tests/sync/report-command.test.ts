import { mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { pairOf } from '../../src/doubles/links.ts'
import { type CaseId, caseIdSchema } from '../../src/ids.ts'
import { signEntry } from '../../sync/signed-entry.ts'
import { makeBundle } from '../../sync/transport/bundle.ts'
import { currentSecret } from '../../sync/trust/casebook-secret.ts'
import { expectOk, foundCasebook, invite, meet, type TestDevice } from '../support/casebooks.ts'
import { call } from '../support/command-line.ts'

let folder: string
const at = (name: string) => join(folder, name)
const TABLES = ['agreement.csv', 'parts.csv', 'people.csv', 'report.json', 'stock.csv', 'waits.csv']

/** A device that joined by hand has no secret of its own: it seals under that of whoever invited it. */
const writeFiles = async (name: string, { casebook }: TestDevice, keeper: TestDevice) => {
  const secret = currentSecret(keeper.casebook.secrets())
  if (!secret) throw new Error('no secret')
  await writeFile(at(`${name}.bundle`), await makeBundle(casebook, secret))
  const keys = { casebook: casebook.casebookId, secrets: { [secret.epoch]: secret.secret } }
  await writeFile(at(`${name}.json`), JSON.stringify(keys))
}
/** As a device of the crew says it that lets its people link cases. */
const saySamePerson = async ({ casebook, key }: TestDevice, cases: readonly [CaseId, CaseId]) => {
  const document = caseIdSchema.parse(casebook.casebookId)
  const set = { samePerson: { cases, same: true } }
  const signed = await signEntry(key, { case: document, at: 1_790_000_000_000, kind: 'save', set, over: [] })
  const { added, refused } = await casebook.admitEntries('team', [expectOk(signed).signed])
  if (added.length !== 1) throw new Error(refused[0]?.message)
}
const person = (personName: string, more: Readonly<Record<string, unknown>> = {}) => ({
  kind: 'save' as const,
  set: { personName, sex: 'female', referredOn: '2026-11-05', ...more },
})

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'outspoke-'))
  const ana = await foundCasebook('Ana')
  const ben = await invite(ana, 'Ben')
  expectOk(await ana.casebook.addCase(person('Known to both', { place: '=Dorrow' })))
  await meet(ana.casebook, ben.casebook)
  for (let index = 0; index < 4; index += 1) expectOk(await ana.casebook.addCase(person(`Only Ana ${index}`)))
  expectOk(await ben.casebook.addCase(person('Only Ben', { sex: 'male' })))
  expectOk(await ana.casebook.moveStock({ movement: { line: 'tyre-24', place: 'Store', amount: -2 } }))
  await writeFiles('ana', ana, ana)
  await writeFiles('ben', ben, ana)
  const far = await foundCasebook('Far')
  const once = expectOk(await far.casebook.addCase(person('In another casebook'))).caseId
  const again = expectOk(await far.casebook.addCase(person('In another casebook'))).caseId
  await saySamePerson(far, pairOf(once, again))
  await writeFiles('far', far, far)
}, 60_000)
afterAll(async () => {
  await rm(folder, { recursive: true, force: true })
})

const TODAY = ['--today', '2026-11-25'] as const
const KEYS = () => ['--keys', at('ana.json'), '--keys', at('far.json')] as const
const bundles = (...names: readonly string[]) => names.map(name => at(`${name}.bundle`))
const peopleIn = async (name: string) => (await readFile(join(at(name), 'people.csv'), 'utf8')).split('\r\n')

describe('report', () => {
  test('counts each person of several casebooks once, whatever bundles hold them, and names nobody', async () => {
    const called = await call('report', ...bundles('ana', 'ben', 'far'), ...KEYS(), ...TODAY, '--out', at('all'))
    expect(called).toMatchObject({ status: 0 })
    expect(JSON.parse(called.stdout)).toEqual({ out: at('all'), casebooks: 2, cases: 8, released: false })
    expect((await readdir(at('all'))).sort()).toEqual(TABLES)
    const lines = await peopleIn('all')
    // Six women: one that both hold, four of Ana's, one of the other casebook with two cases; and Ben's man.
    expect(lines[0]).toBe('\uFEFFmeasure,breakdown,category,people')
    expect(lines).toEqual(
      expect.arrayContaining(['registered,,,7', 'registered,sex,female,6', 'registered,sex,male,1']),
    )
    // From 5 to 25 November.
    expect(await readFile(join(at('all'), 'waits.csv'), 'utf8')).toContain('\r\nwaiting-now,7,20,20,20\r\n')
    for (const name of TABLES) {
      const text = await readFile(join(at('all'), name), 'utf8')
      expect(text).not.toMatch(/Known to|Only|In another/)
    }
    expect(called.stderr).not.toMatch(/Known to|Only|In another|Dorrow/)
  })

  test('a place that a spreadsheet would compute is guarded in the table, as typed in the JSON', async () => {
    expect(await peopleIn('all')).toContain("registered,place,'=Dorrow,1")
    expect(await readFile(join(at('all'), 'report.json'), 'utf8')).toContain('"=Dorrow"')
  })

  test('numbers below zero stay numbers', async () => {
    expect(await readFile(join(at('all'), 'stock.csv'), 'utf8')).toContain('\r\ntyre-24,0,-2\r\n')
  })

  test('the same entries give the same bytes, in whatever order the files are named', async () => {
    const keys = ['--keys', at('far.json'), '--keys', at('ana.json')]
    const called = await call('report', ...bundles('far', 'ben', 'ana'), ...keys, ...TODAY, '--out', at('again'))
    expect(called.status).toBe(0)
    for (const name of TABLES)
      expect(await readFile(join(at('again'), name))).toEqual(await readFile(join(at('all'), name)))
  })

  test('--released shows no cell under five, nor what would give one away', async () => {
    const called = await call(
      'report',
      ...bundles('ana', 'ben', 'far'),
      ...KEYS(),
      ...TODAY,
      '--released',
      '--out',
      at('out'),
    )
    expect(called.status).toBe(0)
    const lines = await peopleIn('out')
    const numbers = lines.slice(1).flatMap(line => line.split(',').at(-1) || [])
    expect(numbers.filter(number => Number(number) > 0 && Number(number) < 5)).toEqual([])
    // One man among seven: neither he nor the six women, from whom he would follow.
    expect(lines).toEqual(expect.arrayContaining(['registered,,,7', 'registered,sex,female,', 'registered,sex,male,']))
    expect(JSON.parse(await readFile(join(at('out'), 'report.json'), 'utf8'))).not.toHaveProperty('cases')
  })

  test('says in words what it cannot do, with status 2, and leaves nothing behind', async () => {
    const good = await readFile(at('ana.bundle'))
    await writeFile(at('short.bundle'), good.subarray(0, good.length - 9))
    const damaged = Uint8Array.from(good)
    damaged[200] = (damaged[200] ?? 0) ^ 1
    await writeFile(at('damaged.bundle'), damaged)
    await mkdir(at('full'))
    await writeFile(join(at('full'), 'kept.txt'), 'kept')
    const out = ['--out', at('never')] as const
    const wrong: readonly (readonly [readonly string[], RegExp])[] = [
      [[...bundles('short', 'ana', 'damaged'), ...KEYS(), ...out], /short.*\(truncated\)\n.*damaged.*\(damaged\)/],
      [[...bundles('ana'), '--keys', at('far.json'), ...out], /another casebook.*\(other-casebook\)/],
      [[...bundles('ana'), ...KEYS(), '--out', at('full')], /is not empty and was left as it is/],
      [[...bundles('ana'), ...KEYS(), '--out', at('ana.json')], /cannot be used as a folder/],
      [[...bundles('ana'), ...KEYS()], /needs --out/],
      [[...bundles('ana'), ...out], /needs --keys/],
      [[...bundles('missing'), ...KEYS(), ...out], /there is no such file/],
      [[...bundles('ana'), ...KEYS(), ...KEYS(), ...out], /another key file/],
      [[...KEYS(), ...out], /at least one BUNDLE/],
      [[...bundles('ana'), ...KEYS(), ...out, '--today', '2026-02-30'], /not a date/],
    ]
    for (const [args, words] of wrong) {
      const called = await call('report', ...args)
      expect(called, args.join(' ')).toMatchObject({ status: 2, stdout: '' })
      expect(called.stderr).toMatch(words)
    }
    expect((await readdir(folder)).filter(name => /never|part/.test(name))).toEqual([])
    expect(await readdir(at('full'))).toEqual(['kept.txt'])
  }, 60_000)
})
