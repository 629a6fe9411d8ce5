import { describe, expect, test } from 'vitest'
import * as Y from 'yjs'
import { admitEntries, admitUpdate } from '../../sync/admit.ts'
import { CaseDocument } from '../../sync/case-document.ts'
import { type Bench, bench, caseA, caseB, testCasebook } from '../support/admission.ts'
import {
  docWith,
  type HandEntry,
  handEntry,
  malleated,
  signatureHolds,
  signText,
  updateOf,
  updateWith,
} from '../support/by-hand.ts'

const take = (on: Bench, update: Uint8Array) => admitUpdate(on.document, update, on.check)
const takeEntries = (on: Bench, ...signed: readonly Uint8Array[]) => admitEntries(on.document, signed, on.check)
const typesOf = (admission: { readonly report: { readonly refused: readonly { readonly type: string }[] } }) =>
  admission.report.refused.map(({ type }) => type)
const lineOf = ({ id, text }: HandEntry): string => `${id} ${text}`

describe('what is good is taken', () => {
  test('entries come in by update and as text, and the parts that changed are given for the store', async () => {
    const on = await bench()
    const [first, second] = [on.say(on.ana, { place: 'Low Ford' }), on.say(on.ben, { place: 'High Ford' })]
    const byUpdate = await take(on, updateWith([first]))
    const byText = await takeEntries(on, second.signed)
    expect(byUpdate.report).toEqual({ added: [first.id], refused: [], altered: false, incomplete: false })
    expect(byText.report).toEqual({ added: [second.id], refused: [], altered: false, incomplete: false })
    expect(on.held()).toEqual([lineOf(first), lineOf(second)].sort())

    const fromStore = new Y.Doc()
    for (const change of [...byUpdate.changes, ...byText.changes]) Y.applyUpdateV2(fromStore, change)
    expect([...fromStore.getMap('entries').keys()].sort()).toEqual([first.id, second.id].sort())
  })

  test('the same again, by either way, changes nothing and asks for nothing to be stored', async () => {
    const on = await bench()
    const entry = on.say(on.ana, { place: 'Low Ford' })
    const update = updateWith([entry])
    await take(on, update)
    for (const again of [await take(on, update), await takeEntries(on, entry.signed, entry.signed)])
      expect(again).toEqual({
        added: [],
        changes: [],
        report: { added: [], refused: [], altered: false, incomplete: false },
      })
  })

  test('an unknown field and an entry of a later version are kept and handed on byte for byte', async () => {
    const on = await bench()
    const unknown = on.say(on.ana, { rideQualityV9: { grade: 'soft', deep: [1, 2] } })
    const later = handEntry(on.ben, {
      case: unknown.text.match(/"case":"([^"]+)"/)?.[1] ?? '',
      set: { place: 1 },
      v: 7,
    })
    await take(on, updateWith([unknown, later]))
    expect(on.document.signed(unknown.id)).toEqual(unknown.signed)
    expect(on.document.signed(later.id)).toEqual(later.signed)
    expect(
      on.document
        .counted()
        .map(({ readable }) => readable)
        .sort(),
    ).toEqual([false, true])
  })
})

describe('each hole of the review stays closed', () => {
  test('hole 1: an entry can neither name itself nor close a ring, for its id is the hash of a text that holds the names', async () => {
    const on = await bench()
    const first = on.say(on.ana, { place: 'Low Ford' })
    const second = on.say(on.ana, { place: 'High Ford' }, [first.id])
    // The ring needs a first entry whose text names the second: another text, so another id.
    const closing = on.say(on.ana, { place: 'Low Ford' }, [second.id])
    expect(closing.id).not.toBe(first.id)
    const forged = await take(on, updateWith([{ id: first.id, signed: closing.signed }, second]))
    expect(typesOf(forged)).toEqual(['wrong-hash'])
    expect(on.held()).toEqual([lineOf(closing), lineOf(second)].sort())
  })

  test('hole 2: two values under one id never fight: the id fits one text only, and nobody puts anything back', async () => {
    const on = await bench()
    const [one, other] = [on.say(on.ana, { place: 'Low Ford' }), on.say(on.ana, { place: 'High Ford' })]
    await take(on, updateWith([one]))
    const forged = updateWith([{ id: one.id, signed: other.signed }])
    await take(on, forged)
    expect(on.held()).toContain(lineOf(one))
    const settled = on.held()
    for (let meeting = 0; meeting < 3; meeting += 1) {
      const admission = await take(on, forged)
      expect(admission.changes).toEqual([])
      expect(on.held()).toEqual(settled)
    }
  })

  test('hole 3: a key __proto__ hides nothing: such an entry is refused, and nothing is inherited', async () => {
    const on = await bench()
    const text = `{"v":1,"case":"x","by":"${on.ana.device}","at":1,"kind":"save","set":{},"over":[],"__proto__":{"over":["x"]}}`
    const inField = on.say(on.ana, { place: 'x' }).text.replace('"place"', '"__proto__"')
    const admission = await takeEntries(on, signText(on.ana, text).signed, signText(on.ana, inField).signed)
    expect(typesOf(admission)).toEqual(['not-an-entry', 'not-an-entry'])
    expect(on.held()).toEqual([])
  })

  test('hole 4: a lone surrogate in a note passes through transit with its signature', async () => {
    const on = await bench()
    const entry = on.say(on.ana, { goals: 'market \ud83d alone' })
    expect((await take(on, updateWith([entry]))).report.added).toEqual([entry.id])
    const copy = new CaseDocument()
    await admitUpdate(copy, on.document.snapshot(), on.check)
    const [carried] = copy.counted()
    expect(carried?.entry.set.goals).toBe('market \ud83d alone')
    expect(signatureHolds(on.ana.publicKey, copy.signed(entry.id) ?? new Uint8Array(64))).toBe(true)
  })

  test('hole 5: nothing handed out reaches back into the document', async () => {
    const on = await bench()
    const entry = on.say(on.ana, { place: 'Low Ford' })
    const update = updateWith([entry])
    await take(on, update)
    on.document.signed(entry.id)?.fill(0)
    update.fill(0)
    expect(on.document.signed(entry.id)).toEqual(entry.signed)
    const [counted] = on.document.counted()
    expect(() => Object.assign(counted?.entry.set ?? {}, { place: 'Elsewhere' })).toThrow(TypeError)
    expect(on.document.counted()[0]?.entry.set.place).toBe('Low Ford')
  })

  test('hole 9: a deletion inside a document is not taken; the entry stands, the new ones are kept, the alteration is told', async () => {
    const on = await bench()
    const [old, fresh] = [on.say(on.ana, { place: 'Low Ford' }), on.say(on.ben, { place: 'High Ford' })]
    const doc = docWith([old])
    await take(on, updateOf(doc))
    doc.getMap('entries').delete(old.id)
    doc.getMap('entries').set(fresh.id, fresh.signed)
    const admission = await take(on, updateOf(doc))
    expect(admission.report.added).toEqual([fresh.id])
    expect(admission.report.altered).toBe(true)
    expect(typesOf(admission)).toEqual(['entry-deleted'])
    expect(on.held()).toEqual([lineOf(old), lineOf(fresh)].sort())
    const rewritten = new Y.Doc()
    Y.applyUpdateV2(rewritten, on.document.snapshot())
    expect(rewritten.getMap('entries').has(old.id)).toBe(true)
  })

  test('hole 11: two documents that wrote under one client id hide entries from each other; entries as text heal both', async () => {
    const on = await bench()
    const [a, b] = [on.say(on.ana, { place: 'Low Ford' }), on.say(on.ben, { place: 'High Ford' })]
    const [docA, docB] = [new Y.Doc(), new Y.Doc()]
    docB.clientID = docA.clientID
    docA.getMap('entries').set(a.id, a.signed)
    docB.getMap('entries').set(b.id, b.signed)
    const [first, second] = [new CaseDocument(), new CaseDocument()]
    await admitUpdate(first, updateOf(docA), on.check)
    await admitUpdate(second, updateOf(docB), on.check)

    // Yjs sees nothing to send: the state vectors are equal while the contents differ.
    await admitUpdate(first, second.updateSince(first.stateVector()), on.check)
    await admitUpdate(second, first.updateSince(second.stateVector()), on.check)
    expect([first.entryCount, second.entryCount]).toEqual([1, 1])

    await admitEntries(first, [b.signed], on.check)
    await admitEntries(second, [a.signed], on.check)
    expect(on.held(first)).toEqual([lineOf(a), lineOf(b)].sort())
    expect(on.held(second)).toEqual(on.held(first))
  })
})

describe('what is not good is refused, with its name, and the good beside it is taken', () => {
  const cases: readonly [string, (on: Bench) => { readonly id: string; readonly signed: Uint8Array }][] = [
    ['other-case', on => handEntry(on.ana, { case: caseB, set: { place: 'x' } })],
    ['other-case', on => handEntry(on.ana, { case: testCasebook, set: { place: 'x' } })],
    ['unknown-signer', on => on.say(on.stranger, { place: 'x' })],
    ['bad-signature', on => handEntry(on.stranger, { case: caseA, by: on.ana.device, set: {} })],
    ['not-json', on => signText(on.ana, '{"v":1')],
    ['not-an-entry', on => signText(on.ana, '{"v":1,"case":"x"}')],
    ['not-an-entry', on => signText(on.ana, '[]')],
    ['too-deep', on => on.say(on.ana, { place: [[[['deep']]]] })],
    ['too-long', on => on.say(on.ana, { goals: 'a'.repeat(17 * 1024) })],
    ['too-long', on => on.say(on.ana, { goals: '\u00e9'.repeat(8.5 * 1024) })],
  ]
  test.each(cases)('%s (case %#)', async (type, makeBad) => {
    const on = await bench()
    const [good, bad] = [on.say(on.ben, { place: 'Low Ford' }), makeBad(on)]
    const byUpdate = await take(on, updateWith([good, bad]))
    expect(typesOf(byUpdate)).toEqual([type])
    expect(byUpdate.report).toMatchObject({ added: [good.id], altered: false, incomplete: false })
    expect(on.held()).toEqual([lineOf(good)])
    expect(typesOf(await takeEntries(on, bad.signed))).toEqual([type])
    expect(on.held()).toEqual([lineOf(good)])
  })

  test('an entry under an id that is not its hash is told; it stands under its own id, and the forged one names nothing', async () => {
    const on = await bench()
    const [real, other] = [on.say(on.ana, { place: 'Low Ford' }), on.say(on.ana, { place: 'High Ford' })]
    const admission = await take(on, updateWith([{ id: other.id, signed: real.signed }]))
    expect(typesOf(admission)).toEqual(['wrong-hash'])
    expect(admission.report).toMatchObject({ added: [real.id], altered: false })
    expect(on.held()).toEqual([lineOf(real)])
  })

  test('one changed bit of a signature is refused; the id does not cover it', async () => {
    const on = await bench()
    const entry = on.say(on.ana, { place: 'Low Ford' })
    const changed = entry.signed.slice()
    changed[5] = (changed[5] ?? 0) ^ 1
    expect(typesOf(await takeEntries(on, changed))).toEqual(['bad-signature'])
    expect(typesOf(await take(on, updateWith([{ ...entry, signed: changed }])))).toEqual(['bad-signature'])
    expect(on.held()).toEqual([])
  })

  test('a re-made signature that holds is no change of what is here, one that does not is an alteration', async () => {
    const on = await bench()
    const entry = on.say(on.ana, { place: 'Low Ford' })
    await take(on, updateWith([entry]))
    const remade = malleated(entry.signed)
    expect(signatureHolds(on.ana.publicKey, remade)).toBe(true)
    expect((await take(on, updateWith([{ ...entry, signed: remade }]))).report).toMatchObject({
      added: [],
      refused: [],
      altered: false,
    })
    expect(on.held()).toEqual([lineOf(entry)])
    expect(signatureHolds(on.ana.publicKey, on.document.signed(entry.id) ?? new Uint8Array(64))).toBe(true)

    const doc = new Y.Doc()
    Y.applyUpdateV2(doc, on.document.snapshot())
    const broken = entry.signed.slice()
    broken.fill(7, 0, 64)
    doc.getMap('entries').set(entry.id, broken)
    const admission = await take(on, updateOf(doc))
    expect(admission.report).toMatchObject({ added: [], altered: true })
    expect(typesOf(admission)).toEqual(['bad-signature', 'entry-changed'])
    expect(signatureHolds(on.ana.publicKey, on.document.signed(entry.id) ?? new Uint8Array(64))).toBe(true)
  })

  test('an update that builds on parts which are not here is told to be incomplete; what is good in it is here at once, and nothing waits inside', async () => {
    const on = await bench()
    const [one, two] = [on.say(on.ana, { place: 'Low Ford' }), on.say(on.ana, { place: 'High Ford' })]
    const doc = docWith([one])
    const between = Y.encodeStateVector(doc)
    doc.getMap('entries').set(two.id, two.signed)
    const admission = await take(on, updateOf(doc, between))
    expect(admission.report).toEqual({ added: [two.id], refused: [], altered: false, incomplete: true })
    expect((await take(on, updateOf(doc))).report).toMatchObject({ added: [one.id], incomplete: false })
    expect(on.held()).toEqual([lineOf(one), lineOf(two)].sort())
    expect(on.document.dropPending()).toBe(false)
  })

  const foreign: readonly [string, (doc: Y.Doc) => void, readonly string[]][] = [
    ['another root', doc => void doc.getMap('more').set('x', 1), ['foreign-content']],
    ['a list in the root', doc => void doc.getArray('entries').push([1]), ['foreign-content']],
    [
      'a value that is no bytes',
      doc => void doc.getMap('entries').set('AAAAAAAAAAAAAAAAAAAAAA', { a: 1 }),
      ['foreign-content'],
    ],
    [
      'a map in the map',
      doc => void doc.getMap('entries').set('AAAAAAAAAAAAAAAAAAAAAA', new Y.Map()),
      ['foreign-content'],
    ],
    [
      'a key that is no id',
      doc => void doc.getMap('entries').set('place', new Uint8Array(80)),
      ['not-json', 'foreign-content'],
    ],
  ]
  test.each(foreign)('%s is foreign; the good entry beside it is taken', async (_, spoil, types) => {
    const on = await bench()
    const good = on.say(on.ben, { place: 'Low Ford' })
    const doc = new Y.Doc()
    spoil(doc)
    const root = doc.share.get('entries') instanceof Y.Array ? undefined : doc.getMap('entries')
    root?.set(good.id, good.signed)
    const admission = await take(on, updateOf(doc))
    expect(typesOf(admission)).toEqual(types)
    expect(on.held()).toEqual(root ? [lineOf(good)] : [])
    const kept = new Y.Doc()
    Y.applyUpdateV2(kept, on.document.snapshot())
    expect([...kept.share.keys()].filter(key => key !== 'entries')).toEqual([])
  })

  test('a deletion of an entry that is not here yet cannot keep it out', async () => {
    const on = await bench()
    const entry = on.say(on.ana, { place: 'Low Ford' })
    const honest = docWith([entry])
    const spoiler = docWith([{ id: entry.id, signed: new Uint8Array(80) }])
    spoiler.getMap('entries').delete(entry.id)
    expect(typesOf(await take(on, updateOf(spoiler)))).toEqual(['deleted-entry'])
    expect((await take(on, updateOf(honest))).report.added).toEqual([entry.id])
  })

  test('over 1 MiB, random bytes and truncated updates are refused without touching anything', async () => {
    const on = await bench()
    const entry = on.say(on.ana, { place: 'Low Ford' })
    await take(on, updateWith([entry]))
    const before = on.document.snapshot()
    expect(typesOf(await take(on, new Uint8Array(1024 * 1024 + 1)))).toEqual(['update-too-large'])
    const next = updateWith([on.say(on.ben, { place: 'High Ford' })])
    for (let length = 0; length < next.length - 1; length += 7) {
      const { report, changes } = await take(on, next.slice(0, length))
      expect(changes).toEqual([])
      expect(report.added).toEqual([])
    }
    expect(on.document.snapshot()).toEqual(before)
  })

  test('forty bytes that announce thousands of millions of parts are refused before any of them is made', async () => {
    const on = await bench()
    // Second format of Yjs 13.6: feature flag; nine pieces (length, bytes); then counts. The piece of kinds holds one 0
    // (collected), repeated for ever; the piece of lengths says 1 some 2^48 times.
    const many = [0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x80, 0x01]
    const piece = (...bytes: readonly number[]): readonly number[] => [bytes.length, ...bytes]
    const announced = (count: readonly number[]): Uint8Array =>
      new Uint8Array([
        ...[0, ...piece(), ...piece(1), ...piece(), ...piece(), ...piece(0), ...piece(0), ...piece(), ...piece()],
        ...[...piece(0x41, ...many), 1, ...count, 0, 0],
      ])
    const small = new Y.Doc()
    expect(() => Y.applyUpdateV2(small, announced([3]))).not.toThrow()
    expect(Y.decodeUpdateV2(announced([3])).structs).toHaveLength(3)
    for (const count of [many, [0xff, 0xff, 0xff, 0x7f]])
      expect(typesOf(await take(on, announced(count)))).toEqual(['garbage'])
  })
})
