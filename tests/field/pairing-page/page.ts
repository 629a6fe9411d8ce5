import '../../../sync/content-rules.ts'
import { fromBase64Url, toBase64Url } from '../../../sync/bytes.ts'
import { createCasebook } from '../../../sync/open-casebook.ts'
import { platformRandom } from '../../../sync/secret-keeper.ts'
import { openPractice } from '../../../sync/storage/open-device.ts'
import { platformTimer } from '../../../sync/timer.ts'
import type { Opened } from '../../../sync/transport/gate.ts'
import { HUB_PATH } from '../../../sync/transport/hub-path.ts'
import { joinInvited, takeWelcome, welcome } from '../../../sync/transport/invitation.ts'
import { type Meeting, meet } from '../../../sync/transport/meeting.ts'
import { meetNearby, type Nearby } from '../../../sync/transport/nearby.ts'
import type { ClosedBecause } from '../../../sync/transport/transport.ts'
import { standingIn, TwoCodes } from '../../../sync/transport/two-codes.ts'
import { expectOk, type SmallCasebook } from '../../support/casebooks.ts'
import { optionsOn } from '../../support/devices.ts'

/** One phone that pairs by codes; a test carries them from page to page. */
const device = expectOk(await openPractice({ indexedDB, name: 'field-pairing' }))
let casebook: SmallCasebook | undefined
let attempt: TwoCodes | undefined

const held = (): SmallCasebook => {
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

let nearby: Nearby | undefined
let meeting: Meeting | undefined
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
    casebook = expectOk(await createCasebook({ ...optionsOn(device), founderName: 'Ana' }))
    for (let count = 1; count <= cases; count += 1)
      expectOk(await casebook.addCase({ kind: 'save', set: { personName: `Invented ${count}` } }))
  },
  showOffer: async () => expectOk(await begin().showOffer()).forPasting,
  readOffer: async (text: string) => expectOk(await begin().readOffer(text)).forPasting,
  readAnswer: (text: string) => void expectOk(current().readAnswer(text)),
  /** Goes on behind the gate: invites or is invited where that is due, then one round of the exchange. */
  meet: async () => {
    const met = expectOk(await current().met)
    if (met.as === 'inviting') expectOk(await welcome(held(), met, { name: 'Ben', role: 'technician' }))
    if (met.as === 'invited')
      casebook = expectOk(await joinInvited(optionsOn(device), expectOk(await takeWelcome(met))))
    return new Promise(resolve => {
      meet(held(), met.transport, {
        timer: platformTimer,
        admits: () => isMember(met.device),
        onAccount: ({ status }) => resolve({ as: met.as, status }),
      })
    })
  },
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
    while (held().summaries().length < count)
      await new Promise<void>(resolve => {
        const stop = held().subscribe(() => {
          stop()
          resolve()
        })
      })
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
