import '../../../sync/content-rules.ts'
import practiceCatalogue from '../../../demo/practice-catalogue.json' with { type: 'json' }
import { catalogueSchema } from '../../../src/chair/chair-model.ts'
import type { CaseId } from '../../../src/ids.ts'
import type { Outcome } from '../../../src/outcome/outcome.ts'
import { fromBase64Url, toBase64Url } from '../../../sync/bytes.ts'
import type { Casebook, CasebookOptions, Statement } from '../../../sync/casebook.ts'
import type { ExchangeAccount } from '../../../sync/exchange/exchange.ts'
import { Inventory } from '../../../sync/exchange/inventory.ts'
import { createCasebook, openCasebook } from '../../../sync/open-casebook.ts'
import { type OutcomeBrief, outcomeRules } from '../../../sync/outcome-rules.ts'
import { platformRandom } from '../../../sync/secret-keeper.ts'
import { openPractice } from '../../../sync/storage/open-device.ts'
import { isCase } from '../../../sync/team-state.ts'
import { platformTimer } from '../../../sync/timer.ts'
import { FRAME, FRAME_BYTES } from '../../../sync/transport/frames.ts'
import type { Opened } from '../../../sync/transport/gate.ts'
import { HUB_PATH } from '../../../sync/transport/hub-path.ts'
import { joinInvited, takeWelcome, welcome } from '../../../sync/transport/invitation.ts'
import { type Meeting, meet } from '../../../sync/transport/meeting.ts'
import { meetNearby, type Nearby } from '../../../sync/transport/nearby.ts'
import type { ClosedBecause } from '../../../sync/transport/transport.ts'
import { type Met, standingIn, TwoCodes } from '../../../sync/transport/two-codes.ts'
import { expectOk, TODAY } from '../../support/casebooks.ts'

/** One phone that pairs by codes; a test carries them from page to page. */
const device = expectOk(await openPractice({ indexedDB, name: 'field-pairing' }))
const options: CasebookOptions<Outcome, OutcomeBrief> = {
  storage: device.storage,
  deviceKey: device.deviceKey,
  rules: outcomeRules(),
  clock: () => Date.now(),
  today: () => TODAY,
}
const stored = await openCasebook(options)
if (!stored.ok && stored.failure.type !== 'no-casebook') throw new Error(stored.failure.message)
let casebook: Casebook<Outcome, OutcomeBrief> | undefined
let tellHeld: () => void = () => undefined
const isHeld = new Promise<void>(resolve => {
  tellHeld = resolve
})
const hold = (opened: Casebook<Outcome, OutcomeBrief>): Casebook<Outcome, OutcomeBrief> => {
  casebook = opened
  tellHeld()
  return opened
}
if (stored.ok) hold(stored.value)
let attempt: TwoCodes | undefined

const held = (): Casebook<Outcome, OutcomeBrief> => {
  if (!casebook) throw new Error('no casebook on this phone')
  return casebook
}
const begin = (): TwoCodes => {
  attempt = new TwoCodes({
    deviceKey: device.deviceKey,
    ...(casebook ? { casebookId: casebook.casebookId } : {}),
    standing: standingIn(() => held().crew()),
    timer: platformTimer,
    randomBytes: platformRandom,
  })
  return attempt
}
const current = (): TwoCodes => {
  if (!attempt) throw new Error('no attempt on this phone')
  return attempt
}

/** By a clock that all pages of one machine share. */
const nowMs = (): number => performance.timeOrigin + performance.now()
let rawArrival: Promise<number> | undefined
/** As much as an exchange lets wait. */
const RAW_WAITING_BYTES = 1024 * 1024
const caseIds = (): readonly CaseId[] => [...held().hashes().keys()].filter(isCase)
const channels = (): readonly RTCDataChannel[] =>
  [...(current().lobby?.connections().webrtcConns.values() ?? [])].flatMap(({ peer }) => peer._channel ?? [])

/** The line breaks when so many frames of the data channel have come: in the middle of a message more often than not. */
const cutAfter = (frames: number): void => {
  let left = frames
  for (const channel of channels())
    channel.addEventListener('message', () => {
      left -= 1
      if (left === 0) channel.close()
    })
}

let nearby: Nearby | undefined
let meeting: Meeting | undefined
const inventory = new Inventory()

/** What one round did, at this phone. */
interface Round {
  readonly as: Met['as']
  readonly status: ExchangeAccount['status']
  readonly refused: readonly string[]
  readonly changedDocuments: number
  readonly entriesReceived: number
  readonly entriesSent: number
  readonly bytesSent: number
  readonly bytesReceived: number
  readonly beganMs: number
  readonly endedMs: number
}
/** What happened nearby, in order, and who waits for the next of it. */
const news: string[] = []
let tellNews: () => void = () => undefined
const noteNews = (what: string): void => {
  news.push(what)
  tellNews()
}

const isMember = (device: Opened['device']): boolean => standingIn(() => held().crew())(device) === 'member'

/** One end of a connection through the hub, as a test in another process holds it; bytes travel as text. */
let end: Opened['transport'] | undefined
const ownEnd = (): Opened['transport'] => {
  if (!end) throw new Error('no connection on this phone')
  return end
}

const nearbyOptions = () => ({
  hub: `ws://${location.host}${HUB_PATH}`,
  deviceKey: device.deviceKey,
  casebookId: held().casebookId,
  secrets: held().secrets(),
  admits: isMember,
  timer: platformTimer,
  randomBytes: platformRandom,
})

const phone = {
  found: async (cases: number) => {
    const founded = hold(expectOk(await createCasebook({ ...options, founderName: 'Ana' })))
    for (let count = 1; count <= cases; count += 1)
      expectOk(await founded.addCase({ kind: 'save', set: { personName: `Invented ${count}` } }))
  },
  showOffer: async () => expectOk(await begin().showOffer()).forPasting,
  readOffer: async (text: string) => expectOk(await begin().readOffer(text)).forPasting,
  /** Gives when it was read. */
  readAnswer: (text: string) => {
    const readMs = nowMs()
    expectOk(current().readAnswer(text))
    return readMs
  },
  /** Goes on behind the gate: invites or is invited where that is due, then one round of the exchange. */
  meet: async ({ cutAfterFrames }: { readonly cutAfterFrames?: number } = {}) => {
    const met = expectOk(await current().met)
    if (met.as === 'inviting') expectOk(await welcome(held(), met, { name: 'Ben', role: 'technician' }))
    if (met.as === 'invited') hold(expectOk(await joinInvited(options, expectOk(await takeWelcome(met)))))
    if (cutAfterFrames) cutAfter(cutAfterFrames)
    const beganMs = nowMs()
    return new Promise<Round>(resolve => {
      meet(held(), met.transport, {
        timer: platformTimer,
        inventory,
        admits: () => isMember(met.device),
        onAccount: account =>
          resolve({
            as: met.as,
            status: account.status,
            refused: account.refused.map(({ type }) => type),
            changedDocuments: account.changed.length,
            entriesReceived: account.entriesReceived,
            entriesSent: account.entriesSent,
            bytesSent: account.bytesSent,
            bytesReceived: account.bytesReceived,
            beganMs,
            endedMs: nowMs(),
          }),
      })
    })
  },
  setCatalogue: async () => {
    for (const model of catalogueSchema.parse(practiceCatalogue).models)
      expectOk(await held().setModel(model.key, model))
  },
  begin: async (set: Statement['set']) => expectOk(await held().addCase({ kind: 'save', set })).caseId,
  /** Over what stands there, or beside it as a repeat. */
  record: async (caseId: CaseId, set: Statement['set'], isRepeat: boolean) => {
    const heads = new Map(Object.entries((await held().view(caseId))?.heads ?? {}))
    const over = isRepeat ? [] : Object.keys(set).flatMap(field => heads.get(field)?.map(({ id }) => id) ?? [])
    expectOk(await held().save(caseId, { kind: 'save', set, over: [...new Set(over)] }))
  },
  caseIds: () => [...caseIds()].sort(),
  /** Everything derived, as text. */
  outcomes: async () => {
    const texts: Record<CaseId, string> = {}
    for (const caseId of [...caseIds()].sort()) texts[caseId] = JSON.stringify(await held().outcome(caseId, TODAY))
    return texts
  },
  /** Sends so many bytes over the same data channel, in frames that every device passes over; gives when it began. */
  sendRaw: async (bytes: number) => {
    const beganMs = nowMs()
    const frame = new Uint8Array(FRAME_BYTES + 1).fill(FRAME.alive)
    for (const channel of channels()) {
      channel.bufferedAmountLowThreshold = RAW_WAITING_BYTES / 4
      for (let left = bytes; left > 0; left -= FRAME_BYTES) {
        if (channel.bufferedAmount > RAW_WAITING_BYTES)
          await new Promise(resolve => channel.addEventListener('bufferedamountlow', resolve, { once: true }))
        channel.send(frame.subarray(0, 1 + Math.min(left, FRAME_BYTES)))
      }
    }
    return beganMs
  },
  /** Listens from now on; `rawArrived` comes, with the time, when so many of those bytes are here. */
  expectRaw: (bytes: number) => {
    rawArrival = new Promise<number>(resolve => {
      let left = bytes
      for (const channel of channels())
        channel.addEventListener('message', ({ data }: MessageEvent<ArrayBuffer>) => {
          left -= data.byteLength - 1
          if (left <= 0) resolve(nowMs())
        })
    })
  },
  rawArrived: () => rawArrival,
  connections: () => {
    const room = current().lobby?.connections()
    return { webrtc: room?.webrtcConns.size, bc: room?.bcConns.size }
  },
  /** Looks for the crew through the hub that this page came from. */
  lookNearby: async () => {
    news.length = 0
    nearby?.leave()
    nearby = await meetNearby({
      ...nearbyOptions(),
      onFailure: ({ type }) => noteNews(type),
      onMet: ({ device: other, transport }) => {
        noteNews('met')
        meeting = meet(held(), transport, {
          timer: platformTimer,
          admits: () => isMember(other),
          onAccount: ({ status }) => noteNews(status),
        })
      },
    })
  },
  /** Comes when that was among the news. */
  untilNews: async (what: string) => {
    while (!news.includes(what))
      await new Promise<void>(resolve => {
        tellNews = resolve
      })
  },
  heardNews: () => [...news],
  nearbyConnections: () =>
    nearby?.rooms.map(room => ({ webrtc: room.connections().webrtcConns.size, bc: room.connections().bcConns.size })),
  roomNames: () => nearby?.rooms.map(room => room.connections().name),
  addCase: async () => {
    expectOk(await held().addCase({ kind: 'save', set: { personName: 'Later' } }))
    meeting?.handOn()
  },
  untilCases: async (count: number) => {
    await isHeld
    while (caseIds().length < count)
      await new Promise<void>(resolve => {
        const stop = held().subscribe(() => {
          stop()
          resolve()
        })
      })
    return nowMs()
  },
  strikeTheOthers: async () => {
    for (const other of held().crew().members.keys())
      if (other !== device.deviceKey.device) expectOk(await held().strike(other))
    meeting?.handOn()
  },
  leaveHub: () => nearby?.leave(),
  /** Meets the first one at the hub and keeps the bare connection. */
  connectEnd: async () => {
    const met = new Promise<Opened>((resolve, reject) => {
      const onFailure = ({ message }: { readonly message: string }) => reject(new Error(message))
      void meetNearby({ ...nearbyOptions(), onFailure, onMet: resolve }).then(joined => {
        nearby = joined
      })
    })
    end = (await met).transport
  },
  endSend: (bytes: string) => ownEnd().send(fromBase64Url(bytes)),
  endReceive: async () => {
    const message = await ownEnd().receive()
    return message ? toBase64Url(message) : null
  },
  endClose: (reason: ClosedBecause) => ownEnd().close(reason),
  endClosed: () => ownEnd().closed,
  breakLine: () => {
    for (const room of nearby?.rooms ?? []) for (const each of room.connections().webrtcConns.values()) each.destroy()
  },
  hashes: () => [...held().hashes()].map(([key, hash]) => `${key} ${toBase64Url(hash)}`).sort(),
  leave: () => current().close(),
}
export type PairingPhone = typeof phone

Reflect.set(globalThis, 'phone', phone)
const heading = document.querySelector('h1')
if (heading) heading.textContent = 'Open'
