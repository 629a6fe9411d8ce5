import { spawnSync } from 'node:child_process'
import { accessSync, constants, existsSync, statSync } from 'node:fs'
import { delimiter, isAbsolute, join } from 'node:path'

/** What the finder asks of the machine; passed in so that each answer can be tried. */
export interface Machine {
  readonly env: Readonly<Record<string, string | undefined>>
  isProgram(path: string): boolean
  readonly isDebian: boolean
  readonly isRoot: boolean
  /** Installs Debian's package; true when it is there afterwards. */
  installChromium(): boolean
}

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome'] as const
const MAC_PROGRAMS = [
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
] as const

const NOT_FOUND = `No Chromium or Chrome was found, so nothing was tested in a browser.
  Set CHROME_PATH to the program, or put "chromium" or "google-chrome" on the PATH.
  Debian, Ubuntu: sudo apt-get install chromium     Fedora: sudo dnf install chromium     macOS: brew install chromium`

const onPath = (machine: Machine): string | undefined =>
  (machine.env.PATH ?? '')
    .split(delimiter)
    .filter(isAbsolute)
    .flatMap(folder => NAMES.map(name => join(folder, name)))
    .find(path => machine.isProgram(path))

/**
 * The path of the browser that tests and pictures run in: CHROME_PATH, else one on the PATH, else Debian's package,
 * installed where that is allowed. Throws with words how to get one.
 */
export const chromiumOn = (machine: Machine): string => {
  const named = machine.env.CHROME_PATH
  if (named) {
    if (machine.isProgram(named)) return named
    throw new Error(`CHROME_PATH is ${named}, and no program can be started there. Correct it, or unset it.`)
  }
  const found = onPath(machine) ?? MAC_PROGRAMS.find(path => machine.isProgram(path))
  if (found) return found
  const installed = machine.isDebian && machine.isRoot && machine.installChromium() ? onPath(machine) : undefined
  if (installed) return installed
  throw new Error(NOT_FOUND)
}

const isProgram = (path: string): boolean => {
  try {
    accessSync(path, constants.X_OK)
    return statSync(path).isFile()
  } catch {
    // Not there, or not ours to start: either way not a program for us.
    return false
  }
}

const aptGet = (...args: readonly string[]): boolean =>
  spawnSync('apt-get', ['-q', '-y', ...args], {
    stdio: ['ignore', 2, 2],
    env: { ...process.env, DEBIAN_FRONTEND: 'noninteractive' },
  }).status === 0

/** DejaVu has the Latin and Arabic letters that the pictures need; a bare machine has no fonts at all. */
const installChromium = (): boolean => {
  process.stderr.write('No Chromium here: installing the Debian package.\n')
  return aptGet('update') && aptGet('install', '--no-install-recommends', 'chromium', 'fonts-dejavu-core')
}

/** The browser on this machine. */
export const findChromium = (): string =>
  chromiumOn({
    env: process.env,
    isProgram,
    isDebian: existsSync('/etc/debian_version'),
    isRoot: process.getuid?.() === 0,
    installChromium,
  })

/** No name and no address leads anywhere but to this machine and one more host. */
export const onlyReaching = (host: string): string =>
  `--host-resolver-rules=MAP * ~NOTFOUND , EXCLUDE localhost , EXCLUDE 127.0.0.1 , EXCLUDE ${host}`

/**
 * Flags for every start: root and small containers need the first two; the third lets no name resolve but this machine,
 * so that nothing a page asks for can leave it.
 */
export const CHROMIUM_FLAGS: readonly string[] = ['--no-sandbox', '--disable-dev-shm-usage', onlyReaching('localhost')]
