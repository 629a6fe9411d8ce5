import encodeQR from 'qr'
import { InputError } from './command.ts'
import { KeepDevice } from './keep-device.ts'
import { isKeepFolder, type KeepFolder, openKeepFolder } from './keep-folder.ts'
import { bringWebRtc } from './node-webrtc.ts'
import { openTerminal, type Terminal } from './terminal.ts'

/** What `--keep` adds to a hub. */
export interface Keep {
  /** Joins the hub at this address for signalling, and lets this device be invited where it was not yet. */
  start(hub: string): Promise<void>
  close(): Promise<void>
}

type Say = (words: string) => void

const say: Say = words => {
  process.stderr.write(`${words}\n`)
}

/** Opens the folder with the passphrase that is asked for; a new one is asked for twice. */
const unlockKeepFolder = async (folder: string, terminal: Terminal): Promise<KeepFolder> => {
  const isThere = await isKeepFolder(folder)
  if (!isThere) say(`${folder}: a new device. Six words make a good passphrase; nobody can restore it.`)
  const passphrase = await terminal.ask('Passphrase: ', 'secret')
  if (passphrase === undefined) throw new InputError('--keep: no passphrase was given. Nothing was started.')
  if (!isThere && (await terminal.ask('The same once more: ', 'secret')) !== passphrase)
    throw new InputError('--keep: the two passphrases are not the same. Nothing was started.')
  return openKeepFolder(folder, passphrase)
}

/** Half a line for each row, so that it fits a window of 80 letters; in colours of its own, so that it reads on any. */
const qrInTerminal = (text: string): string =>
  encodeQR(text, 'ascii')
    .trimEnd()
    .split('\n')
    .map(line => `\u001b[40;97m${line}\u001b[0m`)
    .join('\n')

const INVITE_WORDS = `This device is not of the crew yet. Somebody of the crew opens "Two codes" in the app, chooses "Scan the first code" and
scans this, or takes it as text. Then the answer: there, "Send the code as text", and paste it here.`

/** Shows one code after the other until somebody of the crew has invited this device, or there are no more lines. */
const askToBeInvited = async (device: KeepDevice, terminal: Terminal, say: Say): Promise<void> => {
  while (!device.isOfCrew) {
    const begun = await device.beInvited()
    if (!begun.ok) {
      say(begun.failure.message)
      return
    }
    const { shown, readAnswer, ended, giveUp } = begun.value
    say(`\n${INVITE_WORDS}\n\n${qrInTerminal(shown.forQr)}\n${shown.forPasting}\n`)
    for (;;) {
      const text = await terminal.ask('Their answer: ')
      if (text === undefined) {
        giveUp()
        return
      }
      const taken = readAnswer(text)
      if (taken.ok) break
      say(taken.failure.message)
    }
    say('They are finding each other. Then this device is named there; it waits for that.')
    const joined = await ended
    say(joined.ok ? 'This device is of the crew now.' : joined.failure.message)
  }
}

/** Opens the device in `folder` before anything is started. */
export const openKeep = async (folder: string): Promise<Keep> => {
  await bringWebRtc()
  const terminal = openTerminal()
  const opened = await unlockKeepFolder(folder, terminal).catch((error: unknown) => {
    terminal.close()
    throw error
  })
  let device: KeepDevice | undefined
  let isClosed = false
  // That a code leads nowhere any more is no news to whoever ends the program.
  const sayUntilClosed: Say = words => {
    if (!isClosed) say(words)
  }
  return {
    async start(hub) {
      device = await KeepDevice.open({ folder: opened, hub, say: sayUntilClosed })
      void askToBeInvited(device, terminal, sayUntilClosed)
    },
    async close() {
      isClosed = true
      terminal.close()
      await device?.close()
      await opened.close()
    },
  }
}
