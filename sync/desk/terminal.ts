import { createInterface } from 'node:readline'
import { Writable } from 'node:stream'

/** Whoever sits at this program, or a script in their place: a line at a time. */
export interface Terminal {
  /** Asks in words on stderr. `secret`: what is typed is not shown. Undefined when there are no more lines. */
  ask(words: string, secret?: 'secret'): Promise<string | undefined>
  close(): void
}

export const openTerminal = (): Terminal => {
  const isPerson = process.stdin.isTTY === true
  let isMuted = false
  const echo = new Writable({
    write(chunk, _, done) {
      if (!isMuted) process.stderr.write(chunk)
      done()
    },
  })
  const reading = createInterface({ input: process.stdin, output: echo, terminal: isPerson })
  // While lines are read, Control-C comes here and no further.
  reading.on('SIGINT', () => process.kill(process.pid, 'SIGINT'))
  const lines = reading[Symbol.asyncIterator]()
  return {
    async ask(words, secret) {
      process.stderr.write(words)
      isMuted = secret === 'secret'
      const line = await lines.next()
      isMuted = false
      if (secret || !isPerson) process.stderr.write('\n')
      return line.done ? undefined : line.value
    },
    close: () => reading.close(),
  }
}
