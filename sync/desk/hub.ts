import { networkInterfaces } from 'node:os'
import { parseArgs } from 'node:util'
import encodeQR from 'qr'
import { HUB_PATH } from '../transport/hub-path.ts'
import { BUILT_APP } from './app-files.ts'
import { type Command, InputError } from './command.ts'
import { readCertificate } from './hub-certificate.ts'
import { HUB_LIMITS } from './hub-limits.ts'
import { startHub } from './hub-server.ts'
import type { Keep } from './keep.ts'
import { askedToEnd, DEFAULT_PORT, portOf } from './listen.ts'

const THIS_MACHINE = '127.0.0.1'
/** Every network that this machine is on: a hotspot has addresses of this kind. */
const EVERY_NETWORK = '0.0.0.0'

const nameOf = (text: string): string => {
  if (!/^[a-z0-9.-]+$/i.test(text) || !URL.canParse(`http://${text}`)) {
    throw new InputError(`--name ${text}: a host name or an IPv4 address alone, such as hub.team.example`)
  }
  return new URL(`http://${text}`).hostname
}

const originOf = (text: string): string => {
  if (!URL.canParse(text) || new URL(text).origin !== text) {
    throw new InputError(
      `--origin ${text}: where pages come from, as browsers write it, such as https://app.team.example`,
    )
  }
  return text
}

/** This machine's addresses on the networks that it is on. */
const networkAddresses = (): readonly string[] =>
  Object.values(networkInterfaces())
    .flatMap(entries => entries ?? [])
    .filter(({ family, internal }) => family === 'IPv4' && !internal)
    .map(({ address }) => address)

/** Its code, and the library that it needs, are loaded for it alone. */
const withKeep = async (folder: string, work: (keep: Keep) => Promise<void>): Promise<void> => {
  const { openKeep } = await import('./keep.ts')
  const keep = await openKeep(folder)
  try {
    await work(keep)
  } finally {
    await keep.close()
  }
}

const PLAIN_WORDS = `This is plain http. At localhost on this machine the whole app works. A browser that opens any other address of this
hub offers the practice trip only: without a certificate it keeps no keys, opens no camera and works only while the hub
does. For real cases give the team's certificate (--certificate, --key, --name), pair by two codes, or carry a bundle.`

/** `outspoke hub`: serves the app on a hotspot and introduces phones to each other. */
export const hub: Command = {
  summary: 'serve the app on a hotspot and introduce phones to each other',
  usage: `outspoke hub [--certificate FILE --key FILE --name HOST] [--port N] [--folder DIR] [--origin ORIGIN]...
             [--keep FOLDER]

  Serves the built app, introduces devices that look for others of their casebook, and prints its address, also as a QR
  code; Control-C ends it. What the devices tell each other is encrypted before it comes here: without --keep the hub has
  no key, keeps nothing and logs nothing of it.
  A browser keeps cases by address: phones have to open the hub by the name at which their app was installed.

  --certificate FILE   the team's certificate, PEM, with those that it rests on after it
  --key FILE           its private key, PEM, without a passphrase
  --name HOST          the name by which phones reach this laptop; the certificate has to stand for it.
                       --name localhost: for this machine alone
  --port N             the port (without it: ${DEFAULT_PORT})
  --folder DIR         the built app (without it: dist/ of this checkout)
  --origin ORIGIN      pages from elsewhere that may look for others here, such as https://app.team.example; may be
                       given several times
  --keep FOLDER        makes this laptop a device of the crew that is always there: it keeps the casebook in FOLDER, sealed
                       with a passphrase that is asked for at each start, and hands on to everybody of the crew who
                       comes. It has to be invited once, by two codes, and can be struck off like any other. Whoever
                       has the laptop and the passphrase, or the laptop while this runs, can read the casebook.`,
  run: async args => {
    const { values } = parseArgs({
      args: [...args],
      options: {
        certificate: { type: 'string' },
        key: { type: 'string' },
        name: { type: 'string' },
        port: { type: 'string' },
        folder: { type: 'string' },
        origin: { type: 'string', multiple: true },
        keep: { type: 'string' },
      },
    })
    const name = values.name === undefined ? undefined : nameOf(values.name)
    const hasBoth = values.certificate !== undefined && values.key !== undefined
    if ((values.certificate ?? values.key) !== undefined && !(hasBoth && name !== undefined)) {
      throw new InputError('--certificate FILE, --key FILE and --name HOST belong together. Nothing was started.')
    }
    const certificate =
      values.certificate !== undefined && values.key !== undefined && name !== undefined
        ? await readCertificate(values.certificate, values.key, name, new Date())
        : undefined
    const names = name !== undefined ? [name] : [...networkAddresses(), 'localhost']
    const serve = async (keep?: Keep): Promise<void> => {
      const started = await startHub({
        folder: values.folder ?? BUILT_APP,
        port: portOf(values.port),
        host: name === 'localhost' ? THIS_MACHINE : EVERY_NETWORK,
        name: names[0] ?? 'localhost',
        ...(certificate && { certificate }),
        origins: (values.origin ?? []).map(originOf),
        limits: HUB_LIMITS,
        ...(keep && { answers: keep.answers }),
      })
      // Before the words that say so: whoever reads them may be quicker than this program.
      const ended = askedToEnd()
      const scheme = certificate ? 'https' : 'http'
      const addresses = names.map(each => new URL(`${scheme}://${each}:${started.port}/`).href)
      process.stdout.write(`${addresses.join('\n')}\n`)
      process.stderr.write(`${encodeQR(addresses[0] ?? '', 'term')}\n`)
      for (const words of [certificate ? certificate.warning : PLAIN_WORDS, 'Control-C ends the program.']) {
        if (words) process.stderr.write(`${words}\n`)
      }
      try {
        await keep?.start(`${certificate ? 'wss' : 'ws'}://localhost:${started.port}${HUB_PATH}`)
        await ended
      } finally {
        await started.close()
      }
    }
    if (values.keep === undefined) await serve()
    else {
      await withKeep(values.keep, serve)
      // Everything is closed; the library that connects would keep the program alive with threads of its own.
      process.exit(0)
    }
    return 0
  },
}
