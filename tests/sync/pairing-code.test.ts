import encodeQR from 'qr'
import decodeQR from 'qr/decode.js'
import { describe, expect, it } from 'vitest'
import { casebookIdSchema, deviceIdSchema } from '../../src/ids.ts'
import { UnreadableBytes } from '../../sync/bytes.ts'
import { fromBase45, toBase45 } from '../../sync/transport/base45.ts'
import {
  type Description,
  descriptionOf,
  isMarkOf,
  NO_CASEBOOK_MARK,
  type PairingCode,
  pairingCodeOf,
  readPairingCode,
  writeForPasting,
  writeForQr,
} from '../../sync/transport/pairing-code.ts'
import { expectOk } from '../support/casebooks.ts'
import { CHROMIUM_DESCRIPTIONS } from '../support/chromium-descriptions.ts'

const CASEBOOK = casebookIdSchema.parse('Casebook-of-this-testA')
/** The same in every run: a checksum of two bytes lets one change in 65,536 through. */
const device = deviceIdSchema.parse('Device-of-this-test--A')
const written = (network: 'named' | 'addressed', type: 'offer' | 'answer'): Description => ({
  type,
  sdp: CHROMIUM_DESCRIPTIONS[network][type],
})
const codeOf = (description: Description): PairingCode => expectOk(pairingCodeOf(description, device, CASEBOOK))
const typeOf = (result: { readonly ok: boolean; readonly failure?: { readonly type: string } }): string =>
  result.failure?.type ?? 'ok'
const lines = (sdp: string, start: string): readonly string[] =>
  sdp.split('\r\n').filter(line => line.startsWith(start))
/** Modules of one side, without the quiet zone: 21 for version 1, 4 more for each (ISO/IEC 18004, 5.3.1). */
const qrVersion = (text: string): number => (encodeQR(text, 'raw', { ecc: 'medium', border: 1 }).length - 2 - 17) / 4

describe('base45', () => {
  // RFC 9285, 4.3 and 4.4.
  it.each([
    ['AB', 'BB8'],
    ['Hello!!', '%69 VD92EX0'],
    ['base-45', 'UJCLQE7W581'],
    ['ietf!', 'QED8WEX0'],
  ])('writes %j as %j, as RFC 9285 does', (plain, text) => {
    expect(toBase45(new TextEncoder().encode(plain))).toBe(text)
    expect(new TextDecoder().decode(fromBase45(text))).toBe(plain)
  })
  // RFC 9285, 6: values that no two bytes have must be rejected.
  it.each(['GGW', ':::', '::', 'A', 'ab', 'AB;'])('refuses %j', text => {
    expect(() => fromBase45(text)).toThrow(UnreadableBytes)
  })
})

describe('a pairing code', () => {
  it.each([
    ['named', 'offer'],
    ['named', 'answer'],
    ['addressed', 'offer'],
    ['addressed', 'answer'],
  ] as const)('carries all that the other browser needs of a %s %s', (network, type) => {
    const original = written(network, type)
    const back = descriptionOf(expectOk(readPairingCode(writeForQr(codeOf(original)))))
    expect(back.type).toBe(type)
    for (const line of ['a=ice-ufrag:', 'a=ice-pwd:', 'a=fingerprint:', 'a=setup:', 'a=mid:', 'a=sctp-port:'])
      expect(lines(back.sdp, line)).toEqual(lines(original.sdp, line))
    const udp = (sdp: string): readonly string[] =>
      lines(sdp, 'a=candidate:').flatMap(line => {
        const [, , protocol, , host = '', port] = line.split(' ')
        return protocol === 'udp'
          ? [`${new URL(`http://${host.includes(':') ? `[${host}]` : host}`).hostname} ${port}`]
          : []
      })
    expect([...udp(back.sdp)].sort()).toEqual([...udp(original.sdp)].sort())
  })

  // RFC 8445, 5.1.1.1: addresses of a loopback interface are no candidates. Lines as libwebrtc writes them in Node.
  it('gives no place to an address at which a device reaches only itself, while there is another', () => {
    const candidates = (...hosts: readonly string[]): Description => {
      const [before = ''] = written('addressed', 'offer').sdp.split(/a=candidate:/)
      const lineOf = (host: string, at: number) =>
        `a=candidate:${at} 1 udp 2122${at} ${host} 5000${at} typ host generation 0\r\n`
      const after = lines(written('addressed', 'offer').sdp, 'a=').filter(line => !line.startsWith('a=candidate:'))
      return { type: 'offer', sdp: `${before}${hosts.map(lineOf).join('')}${after.join('\r\n')}\r\n` }
    }
    const portsIn = (description: Description) => codeOf(description).addresses.map(({ port }) => port)
    expect(portsIn(candidates('127.0.0.1', '192.0.2.7', '::1', '198.51.100.4', 'fd00::2'))).toEqual([
      50001, 50003, 50004,
    ])
    expect(portsIn(candidates('127.0.0.1', '::1'))).toEqual([50000, 50001])
  })

  it('says who shows it, and marks the casebook without naming it', () => {
    const code = expectOk(readPairingCode(writeForQr(codeOf(written('named', 'offer')))))
    expect(code.device).toBe(device)
    expect(isMarkOf(code.casebookMark, CASEBOOK)).toBe(true)
    expect(isMarkOf(code.casebookMark, casebookIdSchema.parse('Casebook-of-others---A'))).toBe(false)
    const without = expectOk(pairingCodeOf(written('named', 'answer'), device, undefined))
    expect(without.casebookMark).toEqual(NO_CASEBOOK_MARK)
  })

  it('is a QR code of version 6 at level M with one address, 8 with more, and is read back from its picture', () => {
    const addresses = codeOf(written('addressed', 'offer')).addresses
    const names = codeOf(written('named', 'offer')).addresses
    const [one, ...more] = [...addresses, ...names]
    if (!one) throw new Error('no address')
    for (const address of [one, ...more]) {
      const code = { ...codeOf(written('named', 'offer')), addresses: [address] }
      expect(qrVersion(writeForQr(code))).toBeLessThanOrEqual(6)
    }
    const [first, second] = names
    if (!first || !second) throw new Error('no names')
    expect(
      qrVersion(writeForQr({ ...codeOf(written('named', 'offer')), addresses: [first, second, first] })),
    ).toBeLessThanOrEqual(8)
    const text = writeForQr(codeOf(written('addressed', 'offer')))
    const dots = encodeQR(text, 'raw', { ecc: 'medium', border: 4, scale: 4 })
    const data = Uint8ClampedArray.from(dots.flat().flatMap(dark => (dark ? [0, 0, 0, 255] : [255, 255, 255, 255])))
    expect(decodeQR({ width: dots.length, height: dots.length, data })).toBe(text)
  })

  it('can be pasted, also broken into lines by a message', () => {
    const text = writeForPasting(codeOf(written('addressed', 'answer')))
    expect(text).toMatch(/^outspoke-[\w-]+$/)
    const broken = ` ${text.slice(0, 40)}\r\n${text.slice(40)} \n`
    expect(readPairingCode(broken)).toEqual(readPairingCode(writeForQr(codeOf(written('addressed', 'answer')))))
  })

  it('is not made where no address is known, and the words say what helps', () => {
    const { type, sdp } = written('named', 'offer')
    const bare = { type, sdp: sdp.replaceAll(/^a=candidate.*\r\n/gm, '') }
    const refused = pairingCodeOf(bare, device, CASEBOOK)
    expect(typeOf(refused)).toBe('no-address')
    expect(!refused.ok && refused.failure.message).toMatch(/allow the camera/)
  })

  it.each([
    ['without a certificate', (sdp: string) => sdp.replace(/^a=fingerprint.*$/m, '')],
    ['without a password', (sdp: string) => sdp.replace(/^a=ice-pwd.*$/m, '')],
    ['with an unknown set-up', (sdp: string) => sdp.replace('a=setup:actpass', 'a=setup:holdconn')],
  ])('is not made of a description %s', (_, changed) => {
    const { type, sdp } = written('named', 'offer')
    expect(typeOf(pairingCodeOf({ type, sdp: changed(sdp) }, device, CASEBOOK))).toBe('strange-description')
  })

  it('is refused in words when it is damaged anywhere, cut anywhere, or something else', () => {
    const text = writeForQr(codeOf(written('named', 'offer')))
    const bytes = fromBase45(text)
    const types = new Map<string, number>()
    const count = (result: { readonly ok: boolean; readonly failure?: { readonly type: string } }): void => {
      const type = typeOf(result)
      types.set(type, (types.get(type) ?? 0) + 1)
    }
    for (let at = 0; at < bytes.length; at += 1)
      for (let bit = 0; bit < 8; bit += 1) {
        const changed = bytes.slice()
        changed[at] = (changed[at] ?? 0) ^ (1 << bit)
        count(readPairingCode(toBase45(changed)))
      }
    for (let length = 0; length < bytes.length; length += 1) count(readPairingCode(toBase45(bytes.subarray(0, length))))
    for (const other of ['', 'https://example.org', 'outspoke-', 'outspoke-!', '{"a":1}', 'WIFI:S:net;;'])
      count(readPairingCode(other))
    expect(types.get('ok')).toBeUndefined()
    expect([...types.keys()].sort()).toEqual(['damaged-code', 'not-a-code', 'other-code-version'])
  })
})
