import fc from 'fast-check'
import { expect, test } from 'vitest'
import * as Y from 'yjs'
import { admitEntries, admitPreviewed, admitUpdate } from '../../sync/admit.ts'
import { CaseDocument } from '../../sync/case-document.ts'
import { type Bench, bench, caseB, heldIn } from '../support/admission.ts'
import { type HandEntry, handEntry, malleated } from '../support/by-hand.ts'
import { runs } from '../support/seed.ts'

/** What a hostile or broken device may do to its copy before it sends it. */
type Deed =
  | { readonly do: 'say' | 'say-bad' | 'foreign' | 'sub-map' | 'other-root' | 'list' | 'set-twice' }
  | { readonly do: 'delete' | 'overwrite' | 'malleate' | 'break-signature'; readonly which: number }

const plainDeeds = ['say', 'say-bad', 'foreign', 'sub-map', 'other-root', 'list', 'set-twice'] as const
const pointedDeeds = ['delete', 'overwrite', 'malleate', 'break-signature'] as const
const deed: fc.Arbitrary<Deed> = fc.oneof(
  { weight: 5, arbitrary: fc.constant({ do: 'say' as const }) },
  { weight: 2, arbitrary: fc.record({ do: fc.constantFrom(...plainDeeds) }) },
  { weight: 1, arbitrary: fc.record({ do: fc.constantFrom(...pointedDeeds), which: fc.nat(20) }) },
)

const entriesOf = (doc: Y.Doc): Y.Map<unknown> => doc.getMap('entries')

/** One root cannot be opened as map and list in one document: a list comes in from another one. */
const listIn = (doc: Y.Doc): void => {
  const other = new Y.Doc()
  other.getArray('entries').push([1])
  Y.applyUpdateV2(doc, Y.encodeStateAsUpdateV2(other))
}

const doTo = (on: Bench, doc: Y.Doc, one: Deed): void => {
  const entries = entriesOf(doc)
  const keys = [...entries.keys()]
  const key = 'which' in one ? keys[one.which % Math.max(keys.length, 1)] : undefined
  const value = key === undefined ? undefined : entries.get(key)
  const signed = value instanceof Uint8Array ? value : new Uint8Array(64)
  const put = (entry: HandEntry): unknown => entries.set(entry.id, entry.signed)
  if (one.do === 'say') put(on.say(on.ana, { place: 'Low Ford' }))
  else if (one.do === 'say-bad') put(on.say(on.stranger, { place: 'Low Ford' }))
  else if (one.do === 'foreign') entries.set('AAAAAAAAAAAAAAAAAAAAAA', { some: 'thing' })
  else if (one.do === 'sub-map') entries.set('AAAAAAAAAAAAAAAAAAAAAQ', new Y.Map())
  else if (one.do === 'other-root') doc.getMap('other').set('x', 1)
  else if (one.do === 'list') listIn(doc)
  else if (one.do === 'set-twice') {
    const entry = on.say(on.ben, { place: 'High Ford' })
    put(entry)
    put(entry)
  } else if (key === undefined) return
  else if (one.do === 'delete') entries.delete(key)
  else if (one.do === 'overwrite') entries.set(key, handEntry(on.ana, { case: caseB, set: {} }).signed)
  else if (one.do === 'malleate') entries.set(key, signed.length > 64 ? malleated(signed) : signed)
  else
    entries.set(
      key,
      Uint8Array.from(signed, (byte, at) => (at === 9 ? byte ^ 1 : byte)),
    )
}

/** A change of bytes on the way. */
type Mutation = { readonly at: number; readonly to: number } | { readonly cutAt: number } | { readonly doubled: number }
const mutation: fc.Arbitrary<Mutation> = fc.oneof(
  { weight: 6, arbitrary: fc.record({ at: fc.nat(), to: fc.nat(255) }) },
  { weight: 1, arbitrary: fc.record({ cutAt: fc.nat() }) },
  { weight: 1, arbitrary: fc.record({ doubled: fc.nat() }) },
)

const mutate = (update: Uint8Array, changes: readonly Mutation[]): Uint8Array =>
  changes.reduce((bytes, change) => {
    const length = Math.max(bytes.length, 1)
    if ('cutAt' in change) return bytes.slice(0, change.cutAt % length)
    if ('doubled' in change) {
      const at = change.doubled % length
      return new Uint8Array([...bytes.slice(0, at), ...bytes.slice(at / 2, at), ...bytes.slice(at)])
    }
    const copy = bytes.slice()
    // Half of all changes hit the first bytes, where Yjs keeps its structure.
    copy[change.at % (change.to % 2 ? length : Math.min(length, 60))] = change.to
    return copy
  }, update)

interface Scene {
  readonly before: readonly Deed[]
  readonly apart: readonly Deed[]
  readonly since: boolean
  readonly mutations: readonly Mutation[]
}

const scene: fc.Arbitrary<Scene> = fc.record({
  before: fc.array(deed, { maxLength: 3 }),
  apart: fc.array(deed, { maxLength: 4 }),
  since: fc.boolean(),
  mutations: fc.oneof(
    { weight: 1, arbitrary: fc.constant<Mutation[]>([]) },
    { weight: 8, arbitrary: fc.array(mutation, { minLength: 1, maxLength: 3 }) },
  ),
})

/** Two equal documents, and an update from a device that parted from them earlier. */
const stage = async (on: Bench, { before, apart, since, mutations }: Scene) => {
  const theirs = new Y.Doc()
  for (const one of before) doTo(on, theirs, one)
  const [live, twin] = [new CaseDocument(), new CaseDocument()]
  await admitUpdate(live, Y.encodeStateAsUpdateV2(theirs), on.check)
  await admitEntries(live, [on.say(on.ben, { place: 'Mill' }).signed], on.check)
  twin.apply(live.snapshot(), [])
  const vector = since ? live.stateVector() : undefined
  for (const one of apart) doTo(on, theirs, one)
  return { live, twin, update: mutate(Y.encodeStateAsUpdateV2(theirs, vector), mutations) }
}
const toldBy = ({ report }: Awaited<ReturnType<typeof admitUpdate>>) => ({
  added: report.added.toSorted(),
  refused: report.refused.map(({ type }) => type).sort(),
  altered: report.altered,
  incomplete: report.incomplete,
})

test('the fast way and the slow way take the same and say the same of any update, mutated ones too; nothing here shrinks or changes', async () => {
  const on = await bench()
  let mutatedCount = 0
  await fc.assert(
    fc.asyncProperty(scene, async given => {
      const { live, twin, update } = await stage(on, given)
      const held = heldIn(live)
      const fast = await admitUpdate(live, update, on.check)
      const slow = await admitPreviewed(twin, update, on.check)
      if (given.mutations.length > 0) mutatedCount += 1
      const hint = `update ${Buffer.from(update).toString('hex')}`
      expect(toldBy(fast), hint).toEqual(toldBy(slow))
      expect(heldIn(live), hint).toEqual(heldIn(twin))
      // Never shrinks, never changes: what was held is held, text for text, and what came was told.
      expect(heldIn(live), hint).toEqual(expect.arrayContaining([...held]))
      expect(live.entryCount, hint).toBe(held.length + fast.report.added.length)
      // Nothing foreign and nothing waiting is inside, and the parts to be stored lead to the same entries.
      expect([live.dropPending(), twin.dropPending()], hint).toEqual([false, false])
      const kept = new Y.Doc()
      Y.applyUpdateV2(kept, live.snapshot())
      expect(
        [...kept.share.keys()].filter(name => name !== 'entries'),
        hint,
      ).toEqual([])
      expect(
        [...entriesOf(kept).values()].every(value => value instanceof Uint8Array),
        hint,
      ).toBe(true)
    }),
    runs(2_400),
  )
  expect(mutatedCount).toBeGreaterThanOrEqual(2_000)
})

test('random bytes never throw and never touch the document', async () => {
  const on = await bench()
  await admitEntries(on.document, [on.say(on.ana, { place: 'Low Ford' }).signed], on.check)
  const before = on.document.snapshot()
  await fc.assert(
    fc.asyncProperty(fc.uint8Array({ maxLength: 400 }), async bytes => {
      const { report, changes } = await admitUpdate(on.document, bytes, on.check)
      expect([report.added, changes]).toEqual([[], []])
      expect(on.document.snapshot()).toEqual(before)
    }),
    runs(1_000),
  )
})

test('any bytes handed in as entries are refused in words and change nothing', async () => {
  const on = await bench()
  const good = on.say(on.ana, { place: 'Low Ford' })
  await fc.assert(
    fc.asyncProperty(fc.array(mutation, { minLength: 1, maxLength: 3 }), async changes => {
      const mutated = mutate(good.signed, changes)
      fc.pre(Buffer.compare(mutated, good.signed) !== 0)
      const { report } = await admitEntries(new CaseDocument(), [mutated], on.check)
      expect(report.added).toEqual([])
      expect(report.refused.map(({ message }) => message.length > 10)).toEqual([true])
    }),
    runs(500),
  )
})
