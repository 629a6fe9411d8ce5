import { deflateRawSync } from 'node:zlib'
import { joinCasebook } from '../../sync/open-casebook.ts'
import { signatureOf, textOf } from '../../sync/signed-entry.ts'
import { createMemoryStorage } from '../../sync/storage/memory.ts'
import { makeBundle, readBundle } from '../../sync/transport/bundle.ts'
import { takeBundle } from '../../sync/transport/take-bundle.ts'
import { currentSecret } from '../../sync/trust/casebook-secret.ts'
import { createDeviceKey } from '../../sync/trust/device-key.ts'
import { expectOk, foundCasebook, invite } from '../support/casebooks.ts'
import { median, printTable, ratio, round, timed } from './measure.ts'
import { realisticCase } from './realistic-cases.ts'

const CASES = 1000
const RUNS = 3

/** A sealed bundle of a thousand cases of forty forms: bytes a case against plainer ways, and the time it takes. */
export const run = async (): Promise<void> => {
  const founder = await foundCasebook('Founder')
  const devices = [founder, await invite(founder, 'Two'), await invite(founder, 'Three')].map(({ key }) => key)
  const sizes = { update: 0, deflatedEach: 0, text: 0, signatures: 0 }
  const texts: string[] = []
  for (let seed = 1; seed <= CASES; seed += 1) {
    const { caseId, entries, document } = await realisticCase(seed, devices)
    const update = document.snapshot()
    sizes.update += update.length
    sizes.deflatedEach += deflateRawSync(update).length
    for (const { signed } of entries) {
      const text = new TextDecoder().decode(textOf(signed))
      texts.push(text)
      sizes.text += textOf(signed).length
      sizes.signatures += signatureOf(signed).length
    }
    const report = await founder.casebook.admitUpdate(caseId, update)
    if (report.refused.length > 0) throw new Error(report.refused[0]?.message)
  }
  await founder.casebook.settled()
  const secret = currentSecret(founder.casebook.secrets())
  if (!secret) throw new Error('no secret')
  const { casebookId } = founder.casebook

  const making: number[] = []
  const reading: number[] = []
  const taking: number[] = []
  const again: number[] = []
  let file = new Uint8Array() as Uint8Array
  for (let turn = 0; turn < RUNS; turn += 1) {
    const made = await timed(() => makeBundle(founder.casebook, secret))
    file = made.value
    making.push(made.ms)
    reading.push((await timed(() => readBundle(casebookId, [secret], file))).ms)
    const { deviceKey } = await createDeviceKey()
    const storage = createMemoryStorage().open()
    const empty = expectOk(await joinCasebook({ ...founder.options, storage, deviceKey, casebookId }))
    const taken = await timed(() => takeBundle(empty, [secret], file))
    if (expectOk(taken.value).entriesNew < CASES * 40) throw new Error('not everything was taken')
    taking.push(taken.ms)
    again.push((await timed(() => takeBundle(empty, [secret], file))).ms)
    await empty.settled()
  }

  const plain = deflateRawSync(`[${texts.join(',')}]`).length
  const aCase = (bytes: number): number => Math.round(bytes / CASES)
  const row = (what: string, bytes: number) => ({
    what,
    'bytes a case': aCase(bytes),
    'sealed bundle to this': ratio(file.length, bytes),
  })
  printTable(`${CASES} cases of 40 forms with 2 to 7 fields, signed`, [
    row('sealed bundle, all in one', file.length),
    row('signatures alone (they do not compress)', sizes.signatures),
    row('plain JSON text of the entries', sizes.text),
    row('plain JSON, deflated in one, unsigned', plain),
    row('plain JSON, deflated in one, with bare signatures', plain + sizes.signatures),
    row('raw Yjs updates (second format)', sizes.update),
    row('raw Yjs updates, each deflated', sizes.deflatedEach),
  ])
  printTable(`Time for the bundle of ${CASES} cases, median of ${RUNS}`, [
    { what: 'make', ms: round(median(making)), 'ms a case': round(median(making) / CASES, 2) },
    { what: 'open and look through', ms: round(median(reading)), 'ms a case': round(median(reading) / CASES, 2) },
    {
      what: 'open and take in, nothing here before',
      ms: round(median(taking)),
      'ms a case': round(median(taking) / CASES, 2),
    },
    { what: 'open and take in once more', ms: round(median(again)), 'ms a case': round(median(again) / CASES, 2) },
  ])
}
