import { execFile } from 'node:child_process'
import { fileURLToPath } from 'node:url'
import { expect, it } from 'vitest'

const ROOT = fileURLToPath(new URL('../..', import.meta.url))

it('a browser test that asks for anything beyond its origin fails the run, though it passed itself', async () => {
  const { status, said } = await new Promise<{ status: number | null; said: string }>(settle => {
    const args = ['run', '-s', 'browser', '--', '--files', 'tests/field/asks-outside/asks-outside.ts']
    const child = execFile('npm', args, { cwd: ROOT }, (_error, stdout, stderr) =>
      settle({ status: child.exitCode, said: stdout + stderr }),
    )
  })
  expect(said).toContain('1 passed, 0 failed')
  expect(said).toContain('Request beyond its own origin')
  expect(said).toContain('https://elsewhere.invalid/')
  expect(status).toBe(1)
})
