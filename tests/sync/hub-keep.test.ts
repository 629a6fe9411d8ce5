import { spawn } from 'node:child_process'
import { mkdtemp, readdir, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterAll, beforeAll, expect, it } from 'vitest'
import { openKeepFolder } from '../../sync/desk/keep-folder.ts'

const MAIN = fileURLToPath(new URL('../../sync/desk/main.ts', import.meta.url))
const PASSPHRASE = 'seven slow carts cross the wet bridge'

let folder: string
let app: string
let device: string
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'outspoke-hub-keep-'))
  app = await mkdtemp(join(tmpdir(), 'outspoke-hub-app-'))
  device = join(folder, 'device')
  await writeFile(join(app, 'index.html'), '<h1>The app</h1>')
  await (await openKeepFolder(device, PASSPHRASE)).close()
})
afterAll(() => Promise.all([folder, app].map(each => rm(each, { recursive: true }))))

/** The command with these lines typed at it, and no more. */
const hubKeeping = (keep: string, ...typed: readonly string[]) =>
  new Promise<{ readonly status: number | null; readonly stdout: string; readonly stderr: string }>(settle => {
    const args = ['hub', '--name', 'localhost', '--port', '0', '--folder', app, '--keep', keep]
    const program = spawn(process.execPath, ['--import', import.meta.resolve('tsx'), MAIN, ...args])
    let [stdout, stderr] = ['', '']
    program.stdout.on('data', chunk => {
      stdout += String(chunk)
    })
    program.stderr.on('data', chunk => {
      stderr += String(chunk)
    })
    program.once('close', status => settle({ status, stdout, stderr }))
    program.stdin.end(typed.map(line => `${line}\n`).join(''))
  })

it('starts nothing without a passphrase, with a short one, or with two that are not the same', async () => {
  const fresh = join(folder, 'fresh')
  for (const [typed, words] of [
    [[], 'no passphrase was given'],
    [['short', 'short'], 'at least 8 letters'],
    [[PASSPHRASE, 'seven slow carts'], 'are not the same'],
  ] as const) {
    const { status, stdout, stderr } = await hubKeeping(fresh, ...typed)
    expect([status, stdout]).toEqual([2, ''])
    expect(stderr).toContain(words)
    expect(await readdir(fresh)).toEqual([])
  }
})

it('starts nothing with another passphrase, and shows none of those that were typed', async () => {
  const { status, stdout, stderr } = await hubKeeping(device, 'seven dry carts miss the bridge')
  expect([status, stdout]).toEqual([2, ''])
  expect(stderr).toContain('does not open the casebook')
  expect(stderr).not.toContain('carts')
})

it('starts nothing in a folder that another program works on', async () => {
  const held = await openKeepFolder(device, PASSPHRASE)
  const { status, stdout, stderr } = await hubKeeping(device, PASSPHRASE)
  await held.close()
  expect([status, stdout]).toEqual([2, ''])
  expect(stderr).toContain(`is in use by another program (process ${process.pid})`)
})
