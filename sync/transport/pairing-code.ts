import { type CasebookId, type DeviceId, deviceIdSchema } from '../../src/ids.ts'
import { failure, type Result, success } from '../../src/result.ts'
import { ByteReader, ByteWriter, equalBytes, fromBase64Url, toBase64Url, UnreadableBytes } from '../bytes.ts'
import { sha256AtOnce } from '../trust/digest.ts'
import { fromBase45, toBase45 } from './base45.ts'

const VERSION = 1
const DEVICE_BYTES = 16
const FINGERPRINT_BYTES = 32
const MARK_BYTES = 4
const CHECKSUM_BYTES = 2
/** A code of three addresses of the longest kind is still a QR code of version 8 at level M. */
const MOST_ADDRESSES = 3
/** ICE characters (RFC 8839, 5.4): letters, digits, + and /, six bits each. */
const ICE_CHARACTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/'
const SETUPS = ['actpass', 'active', 'passive'] as const
const PASTED_PREFIX = 'outspoke-'

/** Where a device can be reached: an IPv4 or IPv6 address, or a name made for this connection alone (mDNS). */
export interface Address {
  readonly kind: 'ipv4' | 'ipv6' | 'name'
  readonly bytes: Uint8Array
  readonly port: number
}

/**
 * What one device shows to the other, by QR code or as text: where it can be reached, with which certificate, who it is and
 * which casebook it holds. Nothing in it is secret for longer than the page lives, and nothing says anything of a person.
 */
export interface PairingCode {
  readonly role: 'offer' | 'answer'
  readonly setup: (typeof SETUPS)[number]
  readonly iceName: string
  readonly icePassword: string
  /** SHA-256 of the certificate of this connection. */
  readonly fingerprint: Uint8Array
  readonly addresses: readonly Address[]
  readonly device: DeviceId
  /** First bytes of a hash of the casebook's id; zeros on a device that holds none. */
  readonly casebookMark: Uint8Array
}

export interface PairingFailure {
  readonly type: 'no-address' | 'not-a-code' | 'other-code-version' | 'damaged-code' | 'strange-description'
  readonly message: string
}

const FAILURES: Readonly<Record<PairingFailure['type'], string>> = {
  'no-address':
    'This device knows no address at which the other one could reach it, so a code would lead nowhere. Nothing was shown. Join the same hotspot, allow the camera (that lets the browser know its own address), and try again; or carry a bundle.',
  'not-a-code': 'This is not a code of this app. Nothing was changed. Scan the code on the other screen.',
  'other-code-version':
    'The code comes from a later version of the app. Nothing was changed. Update this one, or carry a bundle.',
  'damaged-code': 'The code was not read whole. Nothing was changed. Scan it again, nearer and straight on.',
  'strange-description':
    'This browser describes the connection in a way that the app does not know. Nothing was shown. Use the hub or carry a bundle.',
}
const fail = (type: PairingFailure['type']): Result<never, PairingFailure> => failure({ type, message: FAILURES[type] })

export const NO_CASEBOOK_MARK = new Uint8Array(MARK_BYTES)
export const casebookMark = (casebook: CasebookId): Uint8Array =>
  sha256AtOnce(new TextEncoder().encode(`outspoke pairing 1\n${casebook}`)).slice(0, MARK_BYTES)
export const isMarkOf = (mark: Uint8Array, casebook: CasebookId): boolean => equalBytes(mark, casebookMark(casebook))

/** A session description (RFC 8866, RFC 8841) of one data channel. */
export interface Description {
  readonly type: 'offer' | 'answer'
  readonly sdp: string
}

const lineOf = (sdp: string, name: string): string | undefined => new RegExp(`^a=${name}:(\\S+)`, 'm').exec(sdp)?.[1]

const hexBytes = (text: string): Uint8Array =>
  Uint8Array.from(text.match(/[0-9a-f]{2}/gi) ?? [], pair => Number.parseInt(pair, 16))
const hex = (bytes: Uint8Array): readonly string[] => Array.from(bytes, byte => byte.toString(16).padStart(2, '0'))

const MDNS_NAME = /^([0-9a-f]{8})-([0-9a-f]{4})-([0-9a-f]{4})-([0-9a-f]{4})-([0-9a-f]{12})\.local$/i

/** Eight groups of 16 bits, or undefined for what is no address; `::` stands for as many zeros as are missing. */
const ipv6Bytes = (text: string): Uint8Array | undefined => {
  const halves = text.split('::')
  if (halves.length > 2) return undefined
  const [head = [], tail] = halves.map(half => (half === '' ? [] : half.split(':')))
  const zeros = tail ? 8 - head.length - tail.length : 0
  const groups = [...head, ...Array<string>(Math.max(0, zeros)).fill('0'), ...(tail ?? [])]
  if (groups.length !== 8 || !groups.every(group => /^[0-9a-f]{1,4}$/i.test(group))) return undefined
  return Uint8Array.from(groups.flatMap(group => [Number.parseInt(group, 16) >> 8, Number.parseInt(group, 16) & 255]))
}

const addressOf = (host: string, port: number): Address | undefined => {
  if (MDNS_NAME.test(host)) return { kind: 'name', bytes: hexBytes(host.replace('.local', '')), port }
  const parts = host.split('.').map(Number)
  if (parts.length === 4 && parts.every(part => part >= 0 && part <= 255))
    return { kind: 'ipv4', bytes: Uint8Array.from(parts), port }
  const bytes = ipv6Bytes(host)
  return bytes && { kind: 'ipv6', bytes, port }
}

/** 127.0.0.0/8 and ::1, at which a device reaches itself (RFC 6890, 2.2.2 and 2.2.3). */
const isLoopback = ({ kind, bytes }: Address): boolean =>
  kind === 'ipv4' ? bytes[0] === 127 : bytes.every((byte, index) => byte === (index === bytes.length - 1 ? 1 : 0))

/**
 * Those that the other device can use directly: UDP, of this host. Names and IPv4 first, since they fit best. Loopback
 * leads nowhere from there (RFC 8445, 5.1.1.1); browsers leave it out, a program in Node may name it: it takes nobody's place.
 */
const addressesIn = (sdp: string): readonly Address[] => {
  const order = ['ipv4', 'name', 'ipv6']
  const found = [...sdp.matchAll(/^a=candidate:\S+ 1 udp \d+ (\S+) (\d+) typ host/gim)].flatMap(
    ([, host = '', port]) => addressOf(host, Number(port)) ?? [],
  )
  const reachable = found.filter(address => !isLoopback(address))
  return (reachable.length > 0 ? reachable : found)
    .sort((a, b) => order.indexOf(a.kind) - order.indexOf(b.kind))
    .slice(0, MOST_ADDRESSES)
}

/** The code for what the browser says of its end of a connection. `casebook` is undefined on a device that holds none. */
export const pairingCodeOf = (
  { type, sdp }: Description,
  device: DeviceId,
  casebook: CasebookId | undefined,
): Result<PairingCode, PairingFailure> => {
  const [iceName, icePassword] = [lineOf(sdp, 'ice-ufrag'), lineOf(sdp, 'ice-pwd')]
  const setup = SETUPS.find(each => each === lineOf(sdp, 'setup'))
  const fingerprint = hexBytes(/^a=fingerprint:sha-256 (\S+)/im.exec(sdp)?.[1] ?? '')
  if (!iceName || !icePassword || !setup || fingerprint.length !== FINGERPRINT_BYTES) return fail('strange-description')
  if (![...iceName, ...icePassword].every(each => ICE_CHARACTERS.includes(each))) return fail('strange-description')
  const addresses = addressesIn(sdp)
  if (addresses.length === 0) return fail('no-address')
  const mark = casebook ? casebookMark(casebook) : NO_CASEBOOK_MARK
  return success({ role: type, setup, iceName, icePassword, fingerprint, addresses, device, casebookMark: mark })
}

const hostOf = ({ kind, bytes }: Address): string => {
  if (kind === 'ipv4') return bytes.join('.')
  const text = hex(bytes).join('')
  if (kind === 'name') return `${text.replace(/^(.{8})(.{4})(.{4})(.{4})/, '$1-$2-$3-$4-')}.local`
  return (text.match(/.{4}/g) ?? []).join(':')
}

/** RFC 8445, 5.1.2: the preference of a host's UDP candidate, the first address first. */
const priorityOf = (position: number): number => 2 ** 24 * 126 + 2 ** 8 * (65_535 - position) + 255

/** The description that the browser of the other device takes: everything that is not in the code is the same for all. */
export const descriptionOf = (code: PairingCode): Description => ({
  type: code.role,
  sdp: [
    'v=0',
    'o=- 1 2 IN IP4 127.0.0.1',
    's=-',
    't=0 0',
    'a=group:BUNDLE 0',
    'a=msid-semantic: WMS',
    'm=application 9 UDP/DTLS/SCTP webrtc-datachannel',
    'c=IN IP4 0.0.0.0',
    ...code.addresses.map(
      (address, position) =>
        `a=candidate:${position + 1} 1 udp ${priorityOf(position)} ${hostOf(address)} ${address.port} typ host generation 0`,
    ),
    `a=ice-ufrag:${code.iceName}`,
    `a=ice-pwd:${code.icePassword}`,
    `a=fingerprint:sha-256 ${hex(code.fingerprint).join(':').toUpperCase()}`,
    `a=setup:${code.setup}`,
    'a=mid:0',
    'a=sctp-port:5000',
    'a=max-message-size:262144',
    '',
  ].join('\r\n'),
})

const packIce = (text: string): Uint8Array => {
  const bytes = new Uint8Array(Math.ceil((text.length * 6) / 8))
  let [held, bits, at] = [0, 0, 0]
  for (const each of text) {
    held = (held << 6) | ICE_CHARACTERS.indexOf(each)
    bits += 6
    if (bits < 8) continue
    bits -= 8
    bytes[at] = (held >> bits) & 255
    at += 1
  }
  if (bits > 0) bytes[at] = (held << (8 - bits)) & 255
  return bytes
}

const unpackIce = (bytes: Uint8Array, length: number): string => {
  let [text, held, bits, at] = ['', 0, 0, 0]
  while (text.length < length) {
    if (bits < 6) {
      held = ((held << 8) | (bytes[at] ?? 0)) & 0xffff
      bits += 8
      at += 1
    }
    bits -= 6
    text += ICE_CHARACTERS.charAt((held >> bits) & 63)
  }
  return text
}

const KINDS = ['ipv4', 'ipv6', 'name'] as const
const KIND_BYTES: Readonly<Record<Address['kind'], number>> = { ipv4: 4, ipv6: 16, name: 16 }

const checksumOf = (bytes: Uint8Array): Uint8Array => sha256AtOnce(bytes).slice(0, CHECKSUM_BYTES)

/** Version, role and set-up in one byte; then the parts in a fixed order, and a checksum over all of them. */
const bytesOf = (code: PairingCode): Uint8Array => {
  const writer = new ByteWriter()
    .number(VERSION | (code.role === 'answer' ? 8 : 0) | (SETUPS.indexOf(code.setup) << 4))
    .fixed(fromBase64Url(code.device))
    .fixed(code.casebookMark)
    .fixed(code.fingerprint)
  for (const text of [code.iceName, code.icePassword]) writer.number(text.length).fixed(packIce(text))
  for (const { kind, bytes, port } of code.addresses)
    writer
      .number(KINDS.indexOf(kind))
      .fixed(bytes)
      .fixed(Uint8Array.from([port >> 8, port & 255]))
  const whole = writer.done()
  return writer.fixed(checksumOf(whole)).done()
}

/** ICE names are at most this long (RFC 8839, 5.4). */
const MOST_ICE_CHARACTERS = 256

const readIce = (reader: ByteReader): string => {
  const length = reader.number()
  if (length === 0 || length > MOST_ICE_CHARACTERS) throw new UnreadableBytes('an ICE name of another length')
  return unpackIce(reader.fixed(Math.ceil((length * 6) / 8)), length)
}

const readAddresses = (reader: ByteReader): readonly Address[] => {
  const addresses: Address[] = []
  while (reader.left > 0) {
    const kind = KINDS[reader.number()]
    if (!kind) throw new UnreadableBytes('an address of another kind')
    const bytes = reader.fixed(KIND_BYTES[kind]).slice()
    const [high = 0, low = 0] = reader.fixed(2)
    addresses.push({ kind, bytes, port: high * 256 + low })
  }
  if (addresses.length === 0 || addresses.length > MOST_ADDRESSES)
    throw new UnreadableBytes('no addresses, or too many')
  return addresses
}

const codeOfBytes = (bytes: Uint8Array): Result<PairingCode, PairingFailure> => {
  const first = bytes[0] ?? 0
  if ((first & 7) !== VERSION)
    return fail(bytes.length > 0 && (first & 7) > VERSION ? 'other-code-version' : 'not-a-code')
  const body = bytes.subarray(0, -CHECKSUM_BYTES)
  if (!equalBytes(checksumOf(body), bytes.subarray(body.length))) return fail('damaged-code')
  const reader = new ByteReader(body.subarray(1))
  const setup = SETUPS[first >> 4]
  if (!setup) return fail('damaged-code')
  const device = deviceIdSchema.parse(toBase64Url(reader.fixed(DEVICE_BYTES)))
  const mark = reader.fixed(MARK_BYTES).slice()
  const fingerprint = reader.fixed(FINGERPRINT_BYTES).slice()
  const [iceName, icePassword] = [readIce(reader), readIce(reader)]
  return success({
    role: first & 8 ? 'answer' : 'offer',
    setup,
    iceName,
    icePassword,
    fingerprint,
    addresses: readAddresses(reader),
    device,
    casebookMark: mark,
  })
}

/** What a QR code carries, in the characters that it writes most tightly. */
export const writeForQr = (code: PairingCode): string => toBase45(bytesOf(code))
/** What can be sent as a message and pasted. */
export const writeForPasting = (code: PairingCode): string => `${PASTED_PREFIX}${toBase64Url(bytesOf(code))}`

/** Reads either form; space around a pasted text, and line breaks that a message has put in, do not matter. */
export const readPairingCode = (text: string): Result<PairingCode, PairingFailure> => {
  const bare = text.replace(/[\r\n\t]/g, '')
  const pasted = bare.replaceAll(' ', '')
  try {
    return codeOfBytes(
      pasted.startsWith(PASTED_PREFIX) ? fromBase64Url(pasted.slice(PASTED_PREFIX.length)) : fromBase45(bare),
    )
  } catch (error) {
    if (error instanceof UnreadableBytes) return fail('not-a-code')
    throw error
  }
}
