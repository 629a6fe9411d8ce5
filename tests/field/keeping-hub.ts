import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { fileURLToPath } from 'node:url'

const MAIN = fileURLToPath(new URL('../../sync/desk/main.ts', import.meta.url))

/** `outspoke hub --keep` in a program of its own, with somebody who types at it. */
export class KeepingHub {
  /** What it said on both outputs, up to where `says` last stood, and after that. */
  #heard = ''
  #unheard = ''
  readonly #program: ChildProcess
  readonly #ended: Promise<number | null>

  /** `app`: the built pages that it serves. `keep`: where it keeps. `port`: that of an earlier start; a new device without. */
  constructor(app: string, keep: string, passphrase: string, port?: string) {
    const args = ['hub', '--name', 'localhost', '--port', port ?? '0', '--folder', app, '--keep', keep]
    this.#program = spawn(process.execPath, ['--import', import.meta.resolve('tsx'), MAIN, ...args])
    for (const stream of [this.#program.stdout, this.#program.stderr])
      stream?.on('data', chunk => {
        this.#unheard += String(chunk)
        this.#program.emit('said')
      })
    this.#ended = new Promise(settle =>
      this.#program.once('close', (status, signal) => {
        if (signal) this.#unheard += `ended by ${signal}`
        settle(status)
      }),
    )
    this.type(passphrase)
    if (port === undefined) this.type(passphrase)
  }

  type(line: string): void {
    this.#program.stdin?.write(`${line}\n`)
  }

  /** Comes when it has said what this finds, from where it last stood, and gives that. */
  async says(words: RegExp): Promise<string> {
    for (;;) {
      const found = words.exec(this.#unheard)
      if (found) {
        this.#heard += this.#unheard.slice(0, found.index + found[0].length)
        this.#unheard = this.#unheard.slice(found.index + found[0].length)
        return found[1] ?? found[0]
      }
      const status = await Promise.race([once(this.#program, 'said').then(() => undefined), this.#ended])
      if (status !== undefined) throw new Error(`the hub ended with ${status}: ${this.everything}`)
    }
  }

  /** All that it said. */
  get everything(): string {
    return this.#heard + this.#unheard
  }

  /** Ended as a person ends it. */
  end(): Promise<number | null> {
    this.#program.kill('SIGINT')
    return this.#ended
  }
}
