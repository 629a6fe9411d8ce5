import { type ChildProcess, spawn } from 'node:child_process'
import { createServer } from 'node:net'
import { join } from 'node:path'

/** A port that was free a moment ago: the program takes its port from its environment, and does not tell one it chose. */
const freePort = (): Promise<number> =>
  new Promise((settle, refuse) => {
    const server = createServer().once('error', refuse)
    server.listen(0, () => {
      const bound = server.address()
      server.close(() => (bound && typeof bound === 'object' ? settle(bound.port) : refuse(new Error('no port'))))
    })
  })

export interface ReferenceServer {
  readonly url: string
  close(): Promise<void>
}

const waitFor = (child: ChildProcess, words: string): Promise<void> =>
  new Promise((settle, refuse) => {
    let said = ''
    child.stdout?.on('data', chunk => {
      said += String(chunk)
      if (said.includes(words)) settle()
    })
    child.once('exit', status => refuse(new Error(`ended with ${status}`)))
  })

/** The signalling server that y-webrtc brings with it, in a process of its own. */
export const runReference = async (): Promise<ReferenceServer> => {
  const port = await freePort()
  const program = join(import.meta.dirname, '../../node_modules/y-webrtc/bin/server.js')
  const child = spawn(process.execPath, [program], {
    env: { ...process.env, PORT: String(port) },
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  await waitFor(child, 'Signaling server running')
  return {
    url: `ws://localhost:${port}/`,
    close: () =>
      new Promise(settle => {
        child.once('exit', () => settle())
        child.kill()
      }),
  }
}
