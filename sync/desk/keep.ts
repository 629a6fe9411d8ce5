import encodeQR from 'qr'
import type { Result } from '../../src/result.ts'
import { AnswerBox } from './answer-box.ts'
import { InputError } from './command.ts'
import type { HubOptions } from './hub-server.ts'
import { type Invitation, KeepDevice, type Refusal } from './keep-device.ts'
import { isKeepFolder, type KeepFolder, openKeepFolder } from './keep-folder.ts'
import { bringWebRtc } from './node-webrtc.ts'
import { openTerminal, type Terminal } from './terminal.ts'

/** What `--keep` adds to a hub. */
export interface Keep {
  /** Answers requests to the hub that are for this device; false for any other. */
  readonly answers: NonNullable<HubOptions['answers']>
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

const INVITE_WORDS = `This device is not of the crew yet. Somebody of the crew opens this hub in the app, there "Two codes" and "Scan the first
code", scans this and gives the answer to the hub; then they name this device. A visitor who reads is enough: it writes
nothing. Or by text: send them the line below the code, and paste their answer here.`

/** Shows one code after the other until somebody of the crew has invited this device. */
const letBeInvited = async (device: KeepDevice, terminal: Terminal, box: AnswerBox, say: Say): Promise<void> => {
  let invitation: Invitation | undefined
  const take = (text: string): Result<undefined, Refusal> => {
    if (!invitation) throw new Error('an answer before there was a code')
    const taken = invitation.readAnswer(text)
    say(
      taken.ok
        ? 'They are finding each other. Then this device is named there; it waits for that.'
        : taken.failure.message,
    )
    return taken
  }
  const readLines = async (): Promise<void> => {
    for (;;) {
      const text = await terminal.ask('')
      if (text === undefined || !device.waitsForInvitation) return
      take(text)
    }
  }
  let isRead = false
  while (device.waitsForInvitation) {
    const begun = await device.beInvited()
    if (!begun.ok) {
      say(begun.failure.message)
      return
    }
    invitation = begun.value
    const { shown, ended } = invitation
    box.open(shown, take)
    say(`\n${INVITE_WORDS}\n\n${qrInTerminal(shown.forQr)}\n${shown.forPasting}\n`)
    if (!isRead) void readLines()
    isRead = true
    const joined = await ended
    box.close()
    say(joined.ok ? 'This device is of the crew now.' : joined.failure.message)
  }
  terminal.close()
}

/** Opens the device in `folder` before anything is started. */
export const openKeep = async (folder: string): Promise<Keep> => {
  await bringWebRtc()
  const terminal = openTerminal()
  const opened = await unlockKeepFolder(folder, terminal).catch((error: unknown) => {
    terminal.close()
    throw error
  })
  const box = new AnswerBox()
  let device: KeepDevice | undefined
  let isClosed = false
  // That a code leads nowhere any more is no news to whoever ends the program.
  const sayUntilClosed: Say = words => {
    if (!isClosed) say(words)
  }
  return {
    answers: (request, response) => box.handle(request, response),
    async start(hub) {
      device = await KeepDevice.open({ folder: opened, hub, say: sayUntilClosed })
      void letBeInvited(device, terminal, box, sayUntilClosed)
    },
    async close() {
      isClosed = true
      terminal.close()
      await device?.close()
      await opened.close()
    },
  }
}
