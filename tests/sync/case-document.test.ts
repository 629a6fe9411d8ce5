import { expect, test } from 'vitest'
import * as Y from 'yjs'
import { admitUpdate } from '../../sync/admit.ts'
import { CaseDocument, openDocument } from '../../sync/case-document.ts'
import { bench, heldIn } from '../support/admission.ts'
import { updateOf } from '../support/by-hand.ts'

/** Three rows of one writer, each building on the one before. */
const threeRows = async () => {
  const on = await bench()
  const entries = ['Low Ford', 'High Ford', 'Mill'].map(place => on.say(on.ana, { place }))
  const doc = new Y.Doc()
  const rows = entries.map(({ id, signed }) => {
    const before = Y.encodeStateVector(doc)
    doc.getMap('entries').set(id, signed)
    return updateOf(doc, before)
  })
  return { on, entries, rows, lines: entries.map(({ id, text }) => `${id} ${text}`) }
}

test('rows give the document back, whatever their order and however often each is there', async () => {
  const { rows, lines } = await threeRows()
  const [first = new Uint8Array(), second = new Uint8Array(), third = new Uint8Array()] = rows
  for (const order of [rows, [third, first, second], [second, second, first, third, first]]) {
    const opened = openDocument(order)
    expect(heldIn(opened.document)).toEqual(lines.toSorted())
    expect([opened.unreadable, opened.rescued]).toEqual([[], null])
  }
})

test('a row that cannot be read takes no neighbour with it, though the later one builds on it', async () => {
  const { rows, lines } = await threeRows()
  const [first = new Uint8Array(), , third = new Uint8Array()] = rows
  for (const bad of [new Uint8Array([1, 2, 3]), new Uint8Array(0), third.slice(0, 30)]) {
    const opened = openDocument([first, bad, third])
    expect(opened.unreadable).toEqual([1])
    expect(heldIn(opened.document)).toEqual([lines[0], lines[2]].sort())
  }
})

test('with a row gone, what built on it is rescued once, stored, and not rescued again', async () => {
  const { rows, lines } = await threeRows()
  const [first = new Uint8Array(), , third = new Uint8Array()] = rows
  const opened = openDocument([first, third])
  expect(heldIn(opened.document)).toEqual([lines[0], lines[2]].sort())
  const { rescued } = opened
  if (!rescued) throw new Error('nothing was rescued')
  const again = openDocument([first, third, rescued])
  expect(again.rescued).toBeNull()
  expect(heldIn(again.document)).toEqual([lines[0], lines[2]].sort())
})

test('the lost row coming back from a peer heals the document, and both end with the same entries', async () => {
  const { on, rows, lines } = await threeRows()
  const [first = new Uint8Array(), , third = new Uint8Array()] = rows
  const damaged = openDocument([first, third]).document
  const whole = openDocument(rows).document
  const report = (await admitUpdate(damaged, whole.updateSince(damaged.stateVector()), on.check)).report
  expect(report).toMatchObject({ refused: [], altered: false, incomplete: false })
  expect(heldIn(damaged)).toEqual(lines.toSorted())
  await admitUpdate(whole, damaged.updateSince(whole.stateVector()), on.check)
  expect(heldIn(whole)).toEqual(lines.toSorted())
  expect(whole.stateVector()).toHaveLength(damaged.stateVector().length)
})

test('a state vector that cannot be read gets everything', async () => {
  const { rows, lines } = await threeRows()
  const { document } = openDocument(rows)
  const copy = new CaseDocument()
  copy.apply(document.updateSince(new Uint8Array([255, 255, 255, 255])), [])
  expect(heldIn(copy)).toEqual(lines.toSorted())
})

test('nothing is ever written over: putting an entry that is here is a fault of ours and throws', async () => {
  const { entries, rows } = await threeRows()
  const { document } = openDocument(rows)
  const [counted] = document.counted()
  const [entry] = entries
  if (!counted || !entry) throw new Error('entries are missing')
  expect(() => document.put([{ id: counted.id, signed: entry.signed, counted }])).toThrow(counted.id)
})
