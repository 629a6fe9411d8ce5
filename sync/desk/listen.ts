import type { Server } from 'node:net'
import { InputError } from './command.ts'

export const DEFAULT_PORT = 4690
const LAST_PORT = 65_535

/** The port that a call names; without one, the same for every command: what a browser keeps, it keeps by address. */
export const portOf = (text: string | undefined): number => {
  if (text === undefined) return DEFAULT_PORT
  const port = Number(text)
  if (!/^\d+$/.test(text) || port > LAST_PORT) throw new InputError(`--port ${text}: a whole number up to ${LAST_PORT}`)
  return port
}

const bind = (server: Server, port: number, host: string): Promise<number> =>
  new Promise((settle, refuse) => {
    server.once('error', refuse)
    server.listen(port, host, () => {
      server.off('error', refuse)
      const bound = server.address()
      if (bound === null || typeof bound === 'string') throw new Error(`bound to ${bound}`)
      settle(bound.port)
    })
  })

/** Waits for callers at `port`, or at any that is free for port 0, and gives the port. What cannot be is said in words. */
export const listen = async (server: Server, port: number, host: string): Promise<number> => {
  try {
    return await bind(server, port, host)
  } catch (error) {
    throw new InputError(
      error instanceof Error && 'code' in error && error.code === 'EADDRINUSE'
        ? `Port ${port} is in use, so nothing was started. If Outspoke runs already, open http://localhost:${port}/ . Another port can be given with --port; cases are kept by address, so another port shows another, empty store.`
        : `Port ${port} cannot be used, so nothing was started: ${error}`,
    )
  }
}

/** Comes when a person ends the program with Control-C, or the system asks it to end. */
export const askedToEnd = (): Promise<void> =>
  new Promise(settle => {
    for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => settle())
  })
