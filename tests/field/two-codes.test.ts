import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { afterEach, beforeEach, describe, expect, inject, it } from 'vitest'
import {
  beginJoining,
  carryCodes,
  found,
  foundAndLetIn,
  goTo,
  holdTheSame,
  letIn,
  paste,
  press,
  sees,
  shownCode,
  unlockAfterReload,
  writeDown,
} from './crew-steps.ts'
import { filmCode } from './film.ts'
import { Phone, type PhoneOptions } from './phone.ts'
import { Site } from './site.ts'

let folder: string
let site: Site
const phones: Phone[] = []
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'outspoke-codes-'))
  site = await Site.open(inject('builtApp'))
})
afterEach(async () => {
  for (const phone of phones.splice(0)) await phone.close()
  await site.stop()
  await rm(folder, { recursive: true })
})

/** A phone of its own, its camera allowed: that lets the browser know its own addresses where no route leads out. */
const openPhone = async (options: PhoneOptions = {}): Promise<Page> => {
  const phone = await Phone.open(options)
  phones.push(phone)
  await phone.context.grantPermissions(['camera'])
  return phone.openTab(site.address)
}

describe('two phones with the built app and no service in between', () => {
  it('let somebody new in by codes sent as text; after a reload of both they meet again', async () => {
    const wenna = await openPhone()
    const bram = await openPhone()
    await foundAndLetIn(wenna, bram)
    // Each is named to the other as the crew list says, whose entries are signed.
    await wenna.getByRole('heading', { name: 'Bram Oskel' }).waitFor()
    await bram.getByRole('heading', { name: 'Wenna Dalmor' }).waitFor()
    await bram.getByRole('link', { name: 'To the people' }).click()
    await sees(bram, 'Ilse Dorn')

    for (const page of [wenna, bram]) await unlockAfterReload(page)
    await bram.getByRole('heading', { name: 'Upper Kesse valley' }).waitFor()
    await writeDown(bram, 'Tove Marn')
    for (const page of [wenna, bram]) await goTo(page, '#/two-codes')
    await carryCodes(bram, wenna)
    await holdTheSame(wenna, bram)
    await sees(wenna, '1 entry came in, for 1 person.')
    await wenna.getByRole('link', { name: 'To the people' }).click()
    await sees(wenna, 'Tove Marn')
    for (const phone of phones) expect(phone.trouble).toEqual([])
  })

  it('read the code by the camera', async () => {
    const wenna = await openPhone()
    await found(wenna, 'Ilse Dorn')
    await goTo(wenna, '#/two-codes')
    await press(wenna, 'Show the first code')
    const film = join(folder, 'code.y4m')
    await filmCode(film, await shownCode(wenna))

    const bram = await openPhone({ film })
    await beginJoining(bram)
    await press(bram, 'Scan the first code')
    await sees(bram, 'Now they scan this')
    const answer = await shownCode(bram)
    await press(wenna, 'Now scan theirs')
    await paste(wenna, answer)
    await letIn(wenna, 'Bram Oskel')
    await holdTheSame(wenna, bram)
    for (const phone of phones) expect(phone.trouble).toEqual([])
  })
})
