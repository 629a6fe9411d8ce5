import { readFileSync } from 'node:fs'
import * as Y from 'yjs'
import { toCalendarDate } from '../../src/calendar-date.ts'
import { catalogueSchema } from '../../src/chair/chair-model.ts'
import type { CaseId } from '../../src/ids.ts'
import { FitMemory } from '../../src/outcome/fit-memory.ts'
import { CaseDocument } from '../../sync/case-document.ts'
import { createCasebook } from '../../sync/open-casebook.ts'
import { outcomeRules } from '../../sync/outcome-rules.ts'
import type { AnyOutcome, Rules } from '../../sync/rules.ts'
import { signatureOf, signEntry, signedMessage, textOf } from '../../sync/signed-entry.ts'
import { createMemoryStorage } from '../../sync/storage/memory.ts'
import { createDeviceKey, type DeviceKey, importVerifier } from '../../sync/trust/device-key.ts'
import { expectOk } from '../support/casebooks.ts'
import { median, printTable, ratio, round, timed } from './measure.ts'
import { type RealisticCase, realisticCase } from './realistic-cases.ts'

const CASES = 1000
const CHANGED = 300
const RUNS = 3
const TODAY = toCalendarDate('2026-11-25')
const CATALOGUE = new URL('../../demo/practice-catalogue.json', import.meta.url)

const noRules: Rules<AnyOutcome, null> = {
  version: 'none',
  outcomeOf: () => ({ changesOn: null }),
  briefOf: () => null,
}

interface Change {
  readonly caseId: CaseId
  readonly update: Uint8Array
  readonly signed: readonly Uint8Array[]
}

/** A casebook of a thousand cases with the practice catalogue, its cases taken in and worked out. */
const filledCasebook = async <Outcome extends AnyOutcome, Brief>(
  founder: DeviceKey,
  cases: readonly RealisticCase[],
  rules: Rules<Outcome, Brief>,
  loadedLimit: number,
) => {
  const casebook = expectOk(
    await createCasebook({
      storage: createMemoryStorage().open(),
      deviceKey: founder,
      rules,
      clock: () => 1_790_000_000_000,
      today: () => TODAY,
      founderName: 'Founder',
      loadedLimit,
    }),
  )
  for (const model of catalogueSchema.parse(JSON.parse(readFileSync(CATALOGUE, 'utf8'))).models)
    expectOk(await casebook.setModel(model.key, model))
  for (const { caseId, document } of cases) {
    const { refused } = await casebook.admitUpdate(caseId, document.snapshot())
    if (refused.length > 0) throw new Error(refused[0]?.message)
  }
  await casebook.settled()
  return casebook
}

/** A day's work elsewhere: two forms in each of 300 cases. One form in three measures the body again, as fitting reads it. */
const changesOf = async (device: DeviceKey, cases: readonly RealisticCase[]): Promise<readonly Change[]> => {
  const changes: Change[] = []
  for (const [index, { caseId, document }] of cases.slice(0, CHANGED).entries()) {
    const elsewhere = new CaseDocument()
    elsewhere.apply(document.snapshot(), [])
    const before = elsewhere.stateVector()
    const sets = [
      {
        tyreReading: {
          on: '2026-11-24',
          tyre: 'rear-left',
          foundKPa: 200 + (index % 90),
          celsius: 24,
          altitudeM: 1200,
        },
        review: { visitedOn: '2026-11-24', fit: 'ok', skin: 'ok', chair: 'ok', skills: 'ok', note: `Seen ${index}` },
      },
      index % 3 === 0
        ? { hipWidthMm: { typed: 380 + (index % 60), unit: 'mm', how: 'callipers' }, shoulderPain: 'some' }
        : { localRepairer: `Workshop ${index}`, caregiverName: `Invented ${index}` },
    ]
    const signed: Uint8Array[] = []
    for (const [form, set] of sets.entries()) {
      const at = 1_790_000_000_000 + index * 10 + form
      const entry = expectOk(await signEntry(device, { case: caseId, at, kind: 'save', set, over: [] }))
      elsewhere.put([entry])
      signed.push(entry.signed)
    }
    changes.push({ caseId, update: elsewhere.updateSince(before), signed })
  }
  return changes
}

/** Runs some work with every signature taken as good, to tell what signatures cost apart. Never outside a benchmark. */
const withoutSignatureChecks = async <Value>(work: () => Promise<Value>): Promise<Value> => {
  const { subtle } = globalThis.crypto
  const { verify } = subtle
  subtle.verify = () => Promise.resolve(true)
  try {
    return await work()
  } finally {
    subtle.verify = verify
  }
}

const bareCalls = async (cases: readonly RealisticCase[], changes: readonly Change[]): Promise<number> => {
  const documents = cases.slice(0, CHANGED).map(({ document }) => {
    const bare = new Y.Doc()
    Y.applyUpdateV2(bare, document.snapshot())
    return bare
  })
  const { ms } = await timed(() => {
    for (const [index, { update }] of changes.entries()) {
      const document = documents[index]
      if (document) Y.applyUpdateV2(document, update)
    }
  })
  return ms
}

/** What opening the documents costs, had nobody opened them: from one row each. */
const opening = async (cases: readonly RealisticCase[]): Promise<number> => {
  const rows = cases.slice(0, CHANGED).map(({ document }) => document.snapshot())
  return (
    await timed(() => {
      for (const row of rows) Y.applyUpdateV2(new Y.Doc(), row)
    })
  ).ms
}

const signatureChecks = async (device: DeviceKey, changes: readonly Change[]): Promise<number> => {
  const verify = await importVerifier(device.publicKey)
  if (!verify) throw new Error('no key')
  const { ms, value } = await timed(async () => {
    let good = 0
    for (const { signed } of changes)
      for (const entry of signed) if (await verify(signedMessage(textOf(entry)), signatureOf(entry))) good += 1
    return good
  })
  if (value !== CHANGED * 2) throw new Error(`only ${value} signatures hold`)
  return ms
}

/** Merging a day's work into a casebook: what admission and working out cost beside the bare calls that they are made of. */
export const run = async (): Promise<void> => {
  const { deviceKey } = await createDeviceKey()
  const cases: RealisticCase[] = []
  for (let seed = 1; seed <= CASES; seed += 1) cases.push(await realisticCase(seed, [deviceKey]))

  const times: Record<string, number[]> = {}
  const note = (what: string, ms: number): void => {
    times[what] = [...(times[what] ?? []), ms]
  }
  const memory = new FitMemory()
  for (let turn = 0; turn < RUNS; turn += 1) {
    const changes = await changesOf(deviceKey, cases)
    note('bare', await bareCalls(cases, changes))
    note('opening', await opening(cases))
    note('signatures', await signatureChecks(deviceKey, changes))
    const admit = async (casebook: Awaited<ReturnType<typeof filledCasebook>>): Promise<void> => {
      for (const { caseId, update } of changes) {
        const { added, refused } = await casebook.admitUpdate(caseId, update)
        if (added.length !== 2) throw new Error(refused[0]?.message ?? 'not taken')
      }
    }
    await withoutSignatureChecks(async () => {
      const open = await filledCasebook(deviceKey, cases, noRules, CASES + 2)
      note('admit, documents open', (await timed(() => admit(open))).ms)
      const usual = await filledCasebook(deviceKey, cases, noRules, 50)
      note('admit, at most 50 open', (await timed(() => admit(usual))).ms)

      const rules = outcomeRules(memory)
      const worked = await filledCasebook(deviceKey, cases, rules, CASES + 2)
      const warm = await timed(async () => {
        await admit(worked)
        await worked.settled()
      })
      note('admit and work out, warm', warm.ms)

      const forgetful = { ...rules, outcomeOf: outcomeRules(new FitMemory(0)).outcomeOf }
      const coldBook = await filledCasebook(deviceKey, cases, noRules, CASES + 2)
      await admit(coldBook)
      const { ms } = await timed(async () => {
        for (const { caseId } of changes) {
          const view = await coldBook.view(caseId)
          if (view) forgetful.outcomeOf(view, coldBook.context(), TODAY)
        }
      })
      note('work out alone, cold', ms)
      const again = await timed(async () => {
        for (const { caseId } of changes) {
          const view = await worked.view(caseId)
          if (view) rules.outcomeOf(view, worked.context(), TODAY)
        }
      })
      note('work out alone, all remembered', again.ms)
    })
  }
  const bare = median(times.bare ?? [])
  const opened = bare + median(times.opening ?? [])
  printTable(
    `${CHANGED} changed cases (2 forms each) into ${CASES}, median of ${RUNS}; signatures left out but in their own row`,
    Object.entries(times).map(([what, values]) => {
      const ms = median(values)
      return {
        what,
        ms: round(ms),
        'ms a case': round(ms / CHANGED, 3),
        'to the bare calls': ratio(ms, bare),
        'to opening and bare calls': ratio(ms, opened),
      }
    }),
  )
}
