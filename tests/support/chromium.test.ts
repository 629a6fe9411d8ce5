import { describe, expect, it } from 'vitest'
import { chromiumOn, type Machine } from './chromium.ts'

/** A machine with these programs; `installs` appear once the package is installed. */
const machineWith = (
  programs: readonly string[],
  more: { readonly CHROME_PATH?: string; readonly isRoot?: boolean; readonly installs?: string } = {},
): Machine & { readonly calls: string[] } => {
  const there = new Set(programs)
  const calls: string[] = []
  return {
    calls,
    env: { PATH: '/usr/local/bin:bin:/usr/bin', CHROME_PATH: more.CHROME_PATH },
    isProgram: path => there.has(path),
    isDebian: true,
    isRoot: more.isRoot ?? false,
    installChromium: () => {
      calls.push('install')
      if (more.installs) there.add(more.installs)
      return more.installs !== undefined
    },
  }
}

describe('the browser that tests run in', () => {
  it('is the one that CHROME_PATH names, before any on the PATH', () => {
    const machine = machineWith(['/opt/browser', '/usr/bin/chromium'], { CHROME_PATH: '/opt/browser' })
    expect(chromiumOn(machine)).toBe('/opt/browser')
  })

  it('is not quietly another one when CHROME_PATH is wrong', () => {
    expect(() => chromiumOn(machineWith(['/usr/bin/chromium'], { CHROME_PATH: '/opt/browser' }))).toThrow(
      'CHROME_PATH is /opt/browser',
    )
  })

  it('is chromium or google-chrome on the PATH, never one of a folder that depends on where the call was made', () => {
    expect(chromiumOn(machineWith(['/usr/bin/chromium']))).toBe('/usr/bin/chromium')
    expect(chromiumOn(machineWith(['bin/chromium', '/usr/bin/google-chrome']))).toBe('/usr/bin/google-chrome')
  })

  it('is installed from Debian where we are root, and only when there is none', () => {
    const bare = machineWith([], { isRoot: true, installs: '/usr/bin/chromium' })
    expect(chromiumOn(bare)).toBe('/usr/bin/chromium')
    const equipped = machineWith(['/usr/bin/chromium'], { isRoot: true })
    chromiumOn(equipped)
    expect([bare.calls, equipped.calls]).toEqual([['install'], []])
  })

  it.each([
    ['we are not root', machineWith([], { installs: '/usr/bin/chromium' })],
    ['the package cannot be installed', machineWith([], { isRoot: true })],
  ])('is asked for in words when %s', (_when, machine) => {
    expect(() => chromiumOn(machine)).toThrow(/CHROME_PATH[\s\S]*apt-get install chromium/)
  })
})
