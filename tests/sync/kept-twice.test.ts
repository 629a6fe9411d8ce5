import 'fake-indexeddb/auto'
import { IDBFactory as Place } from 'fake-indexeddb'
import * as fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { caseIdSchema } from '../../src/ids.ts'
import { createCasebook, openCasebook } from '../../sync/open-casebook.ts'
import { Database } from '../../sync/storage/database.ts'
import { KeptTwice, STORE_ID } from '../../sync/storage/kept-twice.ts'
import { type OpenDevice, openDevice } from '../../sync/storage/open-device.ts'
import { SealedRows } from '../../sync/storage/sealed-rows.ts'
import { expectOk, type SmallCasebook } from '../support/casebooks.ts'
import { optionsOn } from '../support/devices.ts'
import { testKeys } from '../support/sealed-stores.ts'
import { runs } from '../support/seed.ts'

const PASSPHRASE = 'mill weir ford bridge reed otter'
const NAME = 'twice'
const one = caseIdSchema.parse('Case-one-of-this-testQ')
const two = caseIdSchema.parse('Case-two-of-this-testQ')
const bytes = (text: string): Uint8Array => new TextEncoder().encode(text)
const text = (read: Uint8Array): string => new TextDecoder().decode(read)

/** A browser that keeps two places; either can be lost whole, as Chromium loses one with a damaged log. */
class Browser {
  #places: [IDBFactory, IDBFactory] = [new Place(), new Place()]
  get first(): IDBFactory {
    return this.#places[0]
  }
  get second(): IDBFactory {
    return this.#places[1]
  }
  lose(which: 0 | 1): void {
    this.#places[which] = new Place()
  }
  device() {
    return openDevice({ indexedDB: this.first, second: async () => this.second, name: NAME })
  }
}

const placesIn = async (casebook: SmallCasebook): Promise<readonly string[]> => {
  const [found] = casebook.summaries()
  if (!found) return []
  const entries = await casebook.record(found.caseId)
  return entries
    .flatMap(({ counted }) => ('place' in counted.entry.set ? [String(counted.entry.set.place)] : []))
    .sort()
}
const place = (name: string) => ({ kind: 'save' as const, set: { place: name } })
const typesOf = (device: OpenDevice): readonly string[] => device.notices().map(({ type }) => type)

const setOut = async (browser: Browser) => {
  const device = expectOk(await expectOk(await browser.device()).create(PASSPHRASE))
  const casebook = expectOk(await createCasebook({ ...optionsOn(device), founderName: 'Ana' }))
  const { caseId } = expectOk(await casebook.addCase(place('Low Ford')))
  return { device, casebook, caseId }
}
const comeBack = async (browser: Browser) => {
  const locked = expectOk(await browser.device())
  expect(locked.isNew).toBe(false)
  const device = expectOk(await locked.unlock(PASSPHRASE))
  return { device, casebook: expectOk(await openCasebook(optionsOn(device))) }
}

describe('a device that keeps two copies', () => {
  it('loses nothing when the browser deletes the first, and says so', async () => {
    const browser = new Browser()
    const { device, casebook, caseId } = await setOut(browser)
    expectOk(await casebook.save(caseId, place('Weir')))
    device.close()
    browser.lose(0)
    const back = await comeBack(browser)
    expect(back.device.deviceKey.device).toBe(device.deviceKey.device)
    expect(await placesIn(back.casebook)).toEqual(['Low Ford', 'Weir'])
    expect(typesOf(back.device)).toContain('store-restored')
    back.device.close()
    // Told once: at the next start both are in step.
    const later = await comeBack(browser)
    expect(typesOf(later.device)).not.toContain('store-restored')
    later.device.close()
  })

  it('makes a second copy anew that was lost, and can lose the first after that', async () => {
    const browser = new Browser()
    const { device } = await setOut(browser)
    device.close()
    browser.lose(1)
    const back = await comeBack(browser)
    expect(typesOf(back.device)).toEqual([])
    back.device.close()
    browser.lose(0)
    const again = await comeBack(browser)
    expect(await placesIn(again.casebook)).toEqual(['Low Ford'])
    again.device.close()
  })

  it('is new again when both are gone', async () => {
    const browser = new Browser()
    const { device } = await setOut(browser)
    device.close()
    browser.lose(0)
    browser.lose(1)
    expect(expectOk(await browser.device()).isNew).toBe(true)
  })

  it('goes on saving when the second takes nothing more, says that there is one copy only, and levels them later', async () => {
    const browser = new Browser()
    const { device, casebook, caseId } = await setOut(browser)
    // As after a write that the second did not take.
    const elsewhere = expectOk(await Database.open(browser.second, NAME))
    expectOk(await elsewhere.write([{ store: 'keys', put: 0, key: 'writes' }]))
    elsewhere.close()
    expectOk(await casebook.save(caseId, place('Weir')))
    expect(typesOf(device)).toEqual(['no-second-copy'])
    device.close()
    const levelled = await comeBack(browser)
    expect(typesOf(levelled.device)).toEqual([])
    levelled.device.close()
    browser.lose(0)
    const back = await comeBack(browser)
    expect(await placesIn(back.casebook)).toEqual(['Low Ford', 'Weir'])
    back.device.close()
  })

  it('never mixes copies of two stores', async () => {
    const [browser, other] = [new Browser(), new Browser()]
    for (const each of [browser, other]) (await setOut(each)).device.close()
    const mixed = { indexedDB: browser.first, second: async () => other.second, name: NAME }
    const device = expectOk(await expectOk(await openDevice(mixed)).unlock(PASSPHRASE))
    expect(typesOf(device)).toEqual(['no-second-copy'])
    expect(await placesIn(expectOk(await openCasebook(optionsOn(device))))).toEqual(['Low Ford'])
    device.close()
    const untouched = await comeBack(other)
    expect(typesOf(untouched.device)).toEqual([])
    untouched.device.close()
  })

  it('changes the passphrase of both', async () => {
    const browser = new Browser()
    const { device } = await setOut(browser)
    expectOk(await device.changePassphrase(PASSPHRASE, 'another passphrase'))
    device.close()
    browser.lose(0)
    const locked = expectOk(await browser.device())
    expect((await locked.unlock(PASSPHRASE)).ok).toBe(false)
    expectOk(await locked.unlock('another passphrase')).close()
  })
})

/** What is done to a store, and what the browser may do to it between two openings. */
const stepArbitrary = fc.oneof(
  { weight: 6, arbitrary: fc.record({ do: fc.constant('save' as const), on: fc.constantFrom(one, two) }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('compact' as const), on: fc.constantFrom(one, two) }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('remove' as const), on: fc.constantFrom(one, two) }) },
  {
    weight: 2,
    arbitrary: fc.record({ do: fc.constant('lose' as const), copy: fc.constantFrom(0 as const, 1 as const) }),
  },
  { weight: 1, arbitrary: fc.record({ do: fc.constant('cut' as const), on: fc.constantFrom(one, two) }) },
)

describe('property: a store kept twice', () => {
  it('gives back exactly what it said it has, whichever copy is lost and wherever it is cut', async () => {
    await fc.assert(
      fc.asyncProperty(fc.array(stepArbitrary, { minLength: 1, maxLength: 25 }), async steps => {
        const browser = new Browser()
        const keys = await testKeys()
        const open = async () => {
          const twice = expectOk(await KeptTwice.open(NAME, browser.first, browser.second))
          return { twice, rows: new SealedRows(twice, keys) }
        }
        let { twice, rows } = await open()
        expectOk(await twice.write([{ store: 'keys', put: 'this store', key: STORE_ID }]))
        const said = new Map<typeof one, string[]>([
          [one, []],
          [two, []],
        ])
        const again = async (): Promise<void> => {
          twice.close()
          ;({ twice, rows } = await open())
        }
        let count = 0
        for (const step of steps) {
          if (step.do === 'save') {
            count += 1
            const word = `word ${count}`
            expectOk(await rows.append(step.on, [bytes(word)], bytes('summary')))
            said.get(step.on)?.push(word)
          } else if (step.do === 'compact') {
            const { rows: read } = await rows.readRows(step.on)
            const merged = read.map(row => text(row.bytes)).join('|')
            if (merged === '') continue
            expectOk(
              await rows.compact(
                step.on,
                bytes(merged),
                read.map(row => row.key),
                bytes('summary'),
              ),
            )
          } else if (step.do === 'remove') {
            expectOk(await rows.remove(step.on))
            said.set(step.on, [])
          } else if (step.do === 'lose') {
            twice.close()
            browser.lose(step.copy)
            ;({ twice, rows } = await open())
          } else {
            // Cut between the two writes: the first copy alone has this one, and nobody was told that it is saved.
            const { rows: before } = await rows.readRows(step.on)
            twice.close()
            const first = expectOk(await Database.open(browser.first, NAME))
            const alone = new SealedRows(first, keys)
            count += 1
            const word = `cut ${count}`
            expectOk(await alone.append(step.on, [bytes(word)], bytes('summary')))
            const writes = await first.read(['keys'], transaction => {
              const asked: IDBRequest<number> = transaction.objectStore('keys').get('writes')
              return () => asked.result
            })
            expectOk(await first.write([{ store: 'keys', put: writes + 1, key: 'writes' }]))
            first.close()
            ;({ twice, rows } = await open())
            expect((await rows.readRows(step.on)).rows).toHaveLength(before.length + 1)
            // Levelled at the opening, so that from here on it counts as said.
            said.get(step.on)?.push(word)
          }
          expect(twice.isKeptTwice).toBe(true)
        }
        await again()
        for (const [document, words] of said) {
          const found = (await rows.readRows(document)).rows.flatMap(row => text(row.bytes).split('|'))
          expect(found.sort()).toEqual(words.toSorted())
        }
        twice.close()
      }),
      runs(25),
    )
  })
})
