import { execFile } from 'node:child_process'
import { fileURLToPath } from 'node:url'

const MAIN = fileURLToPath(new URL('../../sync/desk/main.ts', import.meta.url))

export interface Called {
  readonly status: number
  readonly stdout: string
  readonly stderr: string
}

/** Calls the command line as a person would, in a process of its own. */
export const call = (...args: readonly string[]): Promise<Called> =>
  new Promise(resolve => {
    const child = execFile(
      process.execPath,
      ['--import', 'tsx', MAIN, ...args],
      { maxBuffer: 64 * 1024 * 1024 },
      (_, stdout, stderr) => {
        resolve({ status: child.exitCode ?? -1, stdout, stderr })
      },
    )
  })
