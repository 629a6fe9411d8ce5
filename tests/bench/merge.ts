import * as Y from 'yjs'
import { toCalendarDate } from '../../src/calendar-date.ts'
import type { CaseId } from '../../src/ids.ts'
import { FitMemory } from '../../src/outcome/fit-memory.ts'
import { CaseDocument } from '../../sync/case-document.ts'
import type { Casebook } from '../../sync/casebook.ts'
import { createCasebook } from '../../sync/open-casebook.ts'
import { outcomeRules } from '../../sync/outcome-rules.ts'
import type { AnyOutcome, Rules } from '../../sync/rules.ts'
import { signatureOf, signEntry, signedMessage, textOf } from '../../sync/signed-entry.ts'
import { createMemoryStorage } from '../../sync/storage/memory.ts'
import { createDeviceKey, type DeviceKey, importVerifier } from '../../sync/trust/device-key.ts'
import { expectOk } from '../support/casebooks.ts'
import { median, printTable, round, timedByProcessor } from './measure.ts'
import { PRACTICE_CATALOGUE, type RealisticCase, realisticCase } from './realistic-cases.ts'

const CASES = 1000
const CHANGED = 300
const RUNS = 5
/** The bare calls take so little that one run of them says nothing. */
const BARE_RUNS = 5
const ALL_OPEN = CASES + 2
const TODAY = toCalendarDate('2026-11-25')
const YESTERDAY = '2026-11-24'

interface Change {
  readonly caseId: CaseId
  readonly update: Uint8Array
  readonly signed: readonly Uint8Array[]
}

interface Kept {
  readonly loadedLimit?: number
  readonly rememberedOutcomes?: number
}

/** A casebook of a thousand cases with the practice catalogue, its cases taken in and worked out. */
const filledCasebook = async <Outcome extends AnyOutcome, Brief>(
  founder: DeviceKey,
  cases: readonly RealisticCase[],
  rules: Rules<Outcome, Brief>,
  kept: Kept = {},
): Promise<Casebook<Outcome, Brief>> => {
  const casebook = expectOk(
    await createCasebook({
      storage: createMemoryStorage().open(),
      deviceKey: founder,
      rules,
      clock: () => 1_790_000_000_000,
      today: () => TODAY,
      founderName: 'Founder',
      ...kept,
    }),
  )
  for (const model of PRACTICE_CATALOGUE.models) expectOk(await casebook.setModel(model.key, model))
  for (const { caseId, document } of cases) {
    const { refused } = await casebook.admitUpdate(caseId, document.snapshot())
    if (refused.length > 0) throw new Error(refused[0]?.message)
  }
  await casebook.settled()
  return casebook
}

type Form = Readonly<Record<string, unknown>>

const visit = (index: number): Form => ({
  tyreReading: { on: YESTERDAY, tyre: 'rear-left', foundKPa: 200 + (index % 90), celsius: 24, altitudeM: 1200 },
  review: { visitedOn: YESTERDAY, fit: 'ok', skin: 'ok', chair: 'ok', skills: 'ok', note: `Seen ${index}` },
})
const arranged = (index: number): Form => ({ localRepairer: `Workshop ${index}`, caregiverName: `Invented ${index}` })
const measured = (index: number): Form => ({
  hipWidthMm: { typed: 380 + (index % 60), unit: 'mm', how: 'callipers', on: YESTERDAY },
  shoulderPain: 'some',
})

/** A day's work elsewhere: two forms in each of 300 cases. */
const changesOf = async (
  device: DeviceKey,
  cases: readonly RealisticCase[],
  formsOf: (index: number) => readonly Form[],
): Promise<readonly Change[]> => {
  const changes: Change[] = []
  for (const [index, { caseId, document }] of cases.slice(0, CHANGED).entries()) {
    const elsewhere = new CaseDocument()
    elsewhere.apply(document.snapshot(), [])
    const before = elsewhere.stateVector()
    const signed: Uint8Array[] = []
    for (const [place, set] of formsOf(index).entries()) {
      const at = 1_790_000_000_000 + index * 10 + place
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

/** The calls that any merge is made of, on documents that are open already. */
const bareCalls = async (cases: readonly RealisticCase[], changes: readonly Change[]): Promise<number> => {
  const documents = cases.slice(0, CHANGED).map(({ document }) => {
    const bare = new Y.Doc()
    Y.applyUpdateV2(bare, document.snapshot())
    return bare
  })
  const { ms } = await timedByProcessor(() => {
    for (const [index, { update }] of changes.entries()) {
      const document = documents[index]
      if (document) Y.applyUpdateV2(document, update)
    }
  })
  return ms
}

/** The same where each document is first opened from its row, as a casebook of which 50 documents are open must. */
const openingAndBareCalls = async (cases: readonly RealisticCase[], changes: readonly Change[]): Promise<number> => {
  const rows = cases.slice(0, CHANGED).map(({ document }) => document.snapshot())
  const { ms } = await timedByProcessor(() => {
    for (const [index, { update }] of changes.entries()) {
      const row = rows[index]
      const document = new Y.Doc()
      if (row) Y.applyUpdateV2(document, row)
      Y.applyUpdateV2(document, update)
    }
  })
  return ms
}

const medianOf = async (count: number, work: () => Promise<number>): Promise<number> => {
  const times: number[] = []
  for (let turn = 0; turn < count; turn += 1) times.push(await work())
  return median(times)
}

const signatureChecks = async (device: DeviceKey, changes: readonly Change[]): Promise<number> => {
  const verify = await importVerifier(device.publicKey)
  if (!verify) throw new Error('no key')
  const { ms, value } = await timedByProcessor(async () => {
    let good = 0
    for (const { signed } of changes)
      for (const entry of signed) if (await verify(signedMessage(textOf(entry)), signatureOf(entry))) good += 1
    return good
  })
  if (value !== CHANGED * 2) throw new Error(`only ${value} signatures hold`)
  return ms
}

interface Merged {
  readonly admissionMs: number
  readonly recomputeMs: number
}

/** As many cases as come in one go before the queue of recompute has its turn. */
const AT_ONCE = 20

/** A day's work, admitted and worked out in turns, as it comes from a peer. */
const merge = async <Outcome extends AnyOutcome, Brief>(
  casebook: Casebook<Outcome, Brief>,
  changes: readonly Change[],
): Promise<Merged> => {
  let admissionMs = 0
  let recomputeMs = 0
  for (let from = 0; from < changes.length; from += AT_ONCE) {
    const admission = await timedByProcessor(async () => {
      for (const { caseId, update } of changes.slice(from, from + AT_ONCE)) {
        const { added, refused } = await casebook.admitUpdate(caseId, update)
        if (added.length !== 2) throw new Error(refused[0]?.message ?? 'not taken')
      }
    })
    const recompute = await timedByProcessor(() => casebook.settled())
    admissionMs += admission.ms
    recomputeMs += recompute.ms
  }
  const failed = casebook.problems()[0]
  if (failed) throw new Error(`not worked out: ${failed.type}`)
  return { admissionMs, recomputeMs }
}

const rowsOf = (how: string, { admissionMs, recomputeMs }: Merged): Readonly<Record<string, number>> => ({
  [`${how}: admission`]: admissionMs,
  [`${how}: recompute`]: recomputeMs,
  [`${how}: both`]: admissionMs + recomputeMs,
})

/** A memory that holds the fits of all cases, as on a laptop that collects; a phone's holds those at hand. */
const large = (): FitMemory => new FitMemory(4000)

const BARE = 'bare calls, documents open'
const BARE_OPENED = 'bare calls, documents opened from their rows first'

/** One turn: every row of the table, on the same updates. */
const turn = async (device: DeviceKey, cases: readonly RealisticCase[]): Promise<Readonly<Record<string, number>>> => {
  const quiet = await changesOf(device, cases, index => [visit(index), arranged(index)])
  const measuring = await changesOf(device, cases, index => [
    visit(index),
    index % 3 ? arranged(index) : measured(index),
  ])
  const open = await medianOf(BARE_RUNS, () => bareCalls(cases, quiet))
  const closed = await medianOf(BARE_RUNS, () => openingAndBareCalls(cases, quiet))
  const signatures = await signatureChecks(device, quiet)
  return withoutSignatureChecks(async () => {
    const merged = async (rules: ReturnType<typeof outcomeRules>, changes: readonly Change[], kept?: Kept) =>
      merge(await filledCasebook(device, cases, rules, kept), changes)
    const everything = { loadedLimit: ALL_OPEN, rememberedOutcomes: ALL_OPEN }
    const nothing = { rememberedOutcomes: 0 }
    return {
      [BARE]: open,
      [BARE_OPENED]: closed,
      ...rowsOf('all open and remembered', await merged(outcomeRules(large()), quiet, everything)),
      ...rowsOf('50 open, fits remembered (warm)', await merged(outcomeRules(large()), quiet)),
      ...rowsOf('50 open, one in three measured again', await merged(outcomeRules(large()), measuring)),
      ...rowsOf('50 open, nothing remembered (cold)', await merged(outcomeRules(new FitMemory(0)), quiet, nothing)),
      'signature checks, in none of the rows above': signatures,
    }
  })
}

/**
 * Merging a day's work into a casebook: what admission and recompute cost beside the bare calls that they are made of.
 * Processor time, for the ratios are to be the same on a busy machine. Ratios are of times of one turn, then the median of the turns.
 */
export const run = async (): Promise<void> => {
  const { deviceKey } = await createDeviceKey()
  const cases: RealisticCase[] = []
  for (let seed = 1; seed <= CASES; seed += 1) cases.push(await realisticCase(seed, [deviceKey]))
  const turns: Readonly<Record<string, number>>[] = []
  for (let count = 0; count < RUNS; count += 1) turns.push(await turn(deviceKey, cases))

  const timeIn = (times: Readonly<Record<string, number>>, what: string): number => {
    const ms = times[what]
    if (ms === undefined) throw new Error(`no row ${what}`)
    return ms
  }
  const against = (what: string, base: string): string =>
    `${round(median(turns.map(times => timeIn(times, what) / timeIn(times, base))), 2)} x`
  printTable(
    `${CHANGED} changed cases (2 forms each) into ${CASES}, processor time, median of ${RUNS} turns`,
    Object.keys(turns[0] ?? {}).map(what => {
      const ms = median(turns.map(times => timeIn(times, what)))
      return {
        what,
        ms: round(ms),
        'ms a case': round(ms / CHANGED, 3),
        'to bare, open': against(what, BARE),
        'to bare, opened first': against(what, BARE_OPENED),
      }
    }),
  )
}
