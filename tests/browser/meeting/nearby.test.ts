import { expect as axe } from '@open-wc/testing'
import { html } from 'lit'
import { afterEach, describe, expect, it } from 'vitest'
import { HubStay } from '../../../components/app/hub-stay.ts'
import '../../../components/meeting/spoke-nearby.ts'
import type { SpokeNearby } from '../../../components/meeting/spoke-nearby.ts'
import { platformRandom } from '../../../sync/secret-keeper.ts'
import { platformTimer } from '../../../sync/timer.ts'
import { HubVisit } from '../../../sync/transport/hub-visit.ts'
import type { NearbyOptions } from '../../../sync/transport/nearby.ts'
import { createDeviceKey } from '../../../sync/trust/device-key.ts'
import { all, bramsPhone, button, has, newCase, noorsPhone, show, until, wordsOf } from '../case/practice-case.ts'
import { here, lineBetween, type PhoneHere } from './phones-here.ts'

afterEach(() => {
  document.body.replaceChildren()
})

const twoHere = async (): Promise<readonly [PhoneHere, PhoneHere]> => {
  const noor = await noorsPhone()
  const bram = await bramsPhone(noor)
  return [here(noor), here(bram)]
}
const page = (phone: PhoneHere): Promise<SpokeNearby> => show(phone, html`<spoke-nearby></spoke-nearby>`)

describe('the Nearby page', () => {
  it('says what is on this device only, that nobody is here, and how to begin', async () => {
    const [, bram] = await twoHere()
    await newCase(bram, { personName: 'Tove Marn' })
    const element = await page(bram)
    await until(element, () => has(element, '.notice.warn'))
    expect(wordsOf(element)).toContain('1 entry written here is on no other device yet. It is about 1 person.')
    expect(wordsOf(element)).toContain('No other device is connected.')
    expect(all(element, 'a.go').map(link => link.getAttribute('href'))).toEqual(['#/two-codes', '#/hand-on'])
    expect(wordsOf(element)).toContain('Noor Not met by this device yet')
    await axe(element).to.be.accessible()
  })

  it('shows who comes, what came and went, that nothing is here only any more, and when they last met', async () => {
    const [noor, bram] = await twoHere()
    await newCase(bram, { personName: 'Tove Marn' })
    await newCase(noor, { personName: 'Ilan Dusk' })
    await newCase(noor, { personName: 'Sunna Vey' })
    const element = await page(bram)
    const line = lineBetween(noor, bram)
    await until(element, () => wordsOf(element).includes('Both now hold the same.'))
    expect(wordsOf(element)).toContain('2 entries came in, for 2 people.')
    expect(wordsOf(element)).toContain('1 entry went over.')
    await until(element, () =>
      wordsOf(element).includes('Everything written on this device is on another device of the crew too.'),
    )
    expect(wordsOf(element)).toContain('Noor 12 May, 09:42, both held the same: 3 cases')
    await axe(element).to.be.accessible()
    line.close()
    await until(element, () => wordsOf(element).includes('The connection broke off.'))
    await newCase(bram, { personName: 'Later' })
    await until(element, () => wordsOf(element).includes('1 entry written here is on no other device yet.'))
  })

  it('shows what either lacks while the exchange runs', async () => {
    const [noor, bram] = await twoHere()
    for (const name of ['Ilan Dusk', 'Sunna Vey', 'Orrin Pell']) await newCase(noor, { personName: name })
    await newCase(bram, { personName: 'Tove Marn' })
    const element = await page(bram)
    const seen: string[] = []
    bram.meetings.subscribe(() => {
      void element.updateComplete.then(() => seen.push(wordsOf(element)))
    })
    lineBetween(noor, bram)
    await until(element, () => wordsOf(element).includes('Both now hold the same.'))
    expect(seen.some(words => words.includes('3 cases there are not here yet. 1 case here is not there yet.'))).toBe(
      true,
    )
  })

  it('leads to the case that somebody has open', async () => {
    const [noor, bram] = await twoHere()
    const caseId = await newCase(noor, { personName: 'Ilan Dusk' })
    const element = await page(bram)
    lineBetween(noor, bram)
    await until(element, () => wordsOf(element).includes('Both now hold the same.'))
    noor.meetings.presence.here({ caseId, section: 'choosing', field: null })
    await until(element, () => has(element, '.met a'))
    const [link] = all(element, '.met a')
    expect([link && wordsOf(link), link?.getAttribute('href')]).toEqual([
      'Has Ilan Dusk open',
      `#/case/${caseId}/choosing`,
    ])
  })

  it('says in practice why nobody is met', async () => {
    const phone = await noorsPhone()
    const element = await show<SpokeNearby>(phone, html`<spoke-nearby></spoke-nearby>`)
    expect(wordsOf(element)).toContain('practice is each device’s own')
    expect(has(element, 'a.go')).toBe(false)
    await axe(element).to.be.accessible()
  })

  it('says so when what is here cannot be read, and looks again when asked', async () => {
    const [, bram] = await twoHere()
    let isBroken = true
    const casebook = new Proxy(bram.casebook, {
      get: (real, name) => {
        if (name === 'notHandedOn' && isBroken) return () => Promise.reject(new Error('a bad block'))
        const value: unknown = Reflect.get(real, name, real)
        return typeof value === 'function' ? value.bind(real) : value
      },
    })
    const element = await page({ ...bram, app: { ...bram.app, casebook } })
    await until(element, () => has(element, '[role="alert"]'))
    isBroken = false
    button(element, 'Try again').click()
    await until(element, () => wordsOf(element).includes('Everything written on this device'))
  })
})

describe('a hub on the Nearby page', () => {
  const withHub = async () => {
    const [noor] = await twoHere()
    const { deviceKey } = await createDeviceKey()
    const asked: NearbyOptions[] = []
    let isThere = true
    const hub = new HubStay({
      place: { protocol: 'https:', host: 'hub.river-crew.example' },
      casebook: noor.casebook,
      deviceKey,
      meetings: noor.meetings,
      timer: platformTimer,
      randomBytes: platformRandom,
      loadHub: async () => ({
        HubVisit,
        meetNearby: async (options: NearbyOptions) => {
          asked.push(options)
          return { rooms: [], isReached: () => isThere, leave: () => undefined }
        },
      }),
    })
    const element = await page({ ...noor, app: { ...noor.app, hub } })
    const reach = (answers: boolean): void => {
      isThere = answers
      for (const options of asked) options.onReach?.()
    }
    return { element, asked, reach }
  }

  it('is joined by one tap at the address that the app came from, and left', async () => {
    const { element, asked, reach } = await withHub()
    button(element, 'Join the hub at hub.river-crew.example').click()
    await until(element, () => wordsOf(element).includes('At the hub hub.river-crew.example.'))
    expect(asked.map(({ hub }) => hub)).toEqual(['wss://hub.river-crew.example/signal'])
    await axe(element).to.be.accessible()
    reach(false)
    await until(element, () => wordsOf(element).includes('The hub does not answer.'))
    reach(true)
    asked[0]?.onFailure({ type: 'not-in-crew', message: 'in words' })
    await until(element, () => wordsOf(element).includes('One of the crew can invite it by two codes.'))
    button(element, 'Leave the hub').click()
    await until(element, () => !wordsOf(element).includes('Leave the hub'))
  })
})
