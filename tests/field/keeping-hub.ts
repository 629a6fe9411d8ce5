import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { fileURLToPath } from 'node:url'
import decodeQR from 'qr/decode.js'

const MAIN = fileURLToPath(new URL('../../sync/desk/main.ts', import.meta.url))

/** Pixels for a square of a code. */
const SCALE = 6

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

  /** The code that it drew with half blocks, read as a camera reads it. */
  codeInTerminal(): string {
    const lines = [...this.everything.matchAll(/\[40;97m([█▀▄ ]+)/g)].map(([, line = '']) => line)
    // Light where there is ink on the black ground: above, below, or both.
    const rows = lines.flatMap(line => ['█▀', '█▄'].map(inks => [...line].map(letter => inks.includes(letter))))
    const size = lines[0]?.length ?? 0
    const [width, height] = [size * SCALE, rows.length * SCALE]
    const data = new Uint8Array(width * height * 4)
    for (let at = 0; at < width * height; at += 1) {
      const isLight = rows[Math.floor(at / width / SCALE)]?.[Math.floor((at % width) / SCALE)] ?? true
      data.set(isLight ? [255, 255, 255, 255] : [0, 0, 0, 255], at * 4)
    }
    return decodeQR({ width, height, data })
  }

  /** Ended as a person ends it. */
  end(): Promise<number | null> {
    this.#program.kill('SIGINT')
    return this.#ended
  }
}
