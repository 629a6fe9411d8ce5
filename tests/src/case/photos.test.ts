import { createHash } from 'node:crypto'
import { describe, expect, it } from 'vitest'
import { toCalendarDate } from '../../../src/calendar-date.ts'
import { FIELD_RULES, viewOfCase } from '../../../src/case/case-view-of.ts'
import type { Counted } from '../../../src/case/entry.ts'
import { photoAgreementOf, photosOf, removedPhotosOf } from '../../../src/case/photos.ts'
import { said, testCase } from '../../support/case-entries.ts'

// The rules are those of the record itself (a removal stands for ever, silence is no agreement). No published source.

const hashOf = (text: string): string => createHash('sha256').update(text).digest('base64url')
const photo = (of: string, more: Readonly<Record<string, unknown>> = {}) => ({
  photo: { hash: hashOf(of), shows: 'skin', on: '2026-05-12', ...more },
})
const removed = (...of: readonly string[]) => ({
  photoRemoved: { hashes: of.map(hashOf), on: '2026-06-01', why: 'asked' },
})
const viewOf = (...entries: readonly Counted[]) => viewOfCase(testCase, entries)
const listed = (...entries: readonly Counted[]) => photosOf(viewOf(...entries)).map(({ hash }) => hash)

describe('photos of a case', () => {
  it('are listed as the record names them, the earliest first', () => {
    const later = said({ set: photo('b', { shows: 'part', on: '2026-06-02', note: 'left caster' }), by: 'y' })
    const first = said({ set: photo('a') })
    expect(photosOf(viewOf(later, first))).toEqual([
      { id: first.id, by: first.entry.by, hash: hashOf('a'), shows: 'skin', on: toCalendarDate('2026-05-12') },
      {
        id: later.id,
        by: later.entry.by,
        hash: hashOf('b'),
        shows: 'part',
        on: toCalendarDate('2026-06-02'),
        note: 'left caster',
      },
    ])
  })

  it('named on two phones are one', () => {
    expect(listed(said({ set: photo('a'), by: 'x' }), said({ set: photo('a'), by: 'y' }))).toEqual([hashOf('a')])
  })

  it('are gone from every list once one entry took them back, whichever came first', () => {
    const [a, b, c] = [said({ set: photo('a') }), said({ set: photo('b') }), said({ set: photo('c') })]
    const taken = said({ set: removed('a', 'c'), by: 'y' })
    for (const entries of [
      [a, b, c, taken],
      [taken, c, b, a],
    ]) {
      const view = viewOf(...entries)
      expect(photosOf(view).map(({ hash }) => hash)).toEqual([hashOf('b')])
      expect(view.events.photo.map(({ value }) => value.hash)).toEqual([hashOf('b')])
      expect(removedPhotosOf(view)).toEqual([hashOf('a'), hashOf('c')])
    }
  })

  it('never come back: named again, or the removal said over, with a reason too', () => {
    const a = said({ set: photo('a') })
    const taken = said({ set: removed('a') })
    const again = said({ set: photo('a'), by: 'y' })
    const over = said({ set: removed('b'), over: [taken], kind: 'settle', why: 'a mistake' })
    expect(listed(a, taken, again)).toEqual([])
    expect(listed(a, taken, again, over)).toEqual([])
    expect([...removedPhotosOf(viewOf(a, taken, over))].sort()).toEqual([hashOf('a'), hashOf('b')].sort())
  })

  it('can be told to show something else, over what was said', () => {
    const a = said({ set: photo('a') })
    const corrected = said({ set: photo('a', { shows: 'chair' }), over: [a] })
    expect(photosOf(viewOf(a, corrected)).map(({ shows }) => shows)).toEqual(['chair'])
  })

  it.each([
    ['a hash of another length', { hash: 'short', shows: 'skin', on: '2026-05-12' }],
    ['the last letter of 43 carries four bits only', { hash: `${'A'.repeat(42)}B`, shows: 'skin', on: '2026-05-12' }],
    ['nothing that it shows', { hash: hashOf('a'), on: '2026-05-12' }],
    ['a file name', { hash: hashOf('a'), shows: 'skin', on: '2026-05-12', file: 'IMG_1.jpg' }],
  ])('are not named by %s', (_what, value) => {
    expect(FIELD_RULES.photo.isValid(value)).toBe(false)
  })

  it('fit an entry, two hundred taken back at once', () => {
    const many = Array.from({ length: 200 }, (_, index) => `photo ${index}`)
    expect(removedPhotosOf(viewOf(said({ set: removed(...many) })))).toHaveLength(200)
    expect(FIELD_RULES.photoRemoved.isValid(removed(...many, 'one more').photoRemoved)).toBe(false)
  })
})

describe('whether photos may be taken and shown', () => {
  const yes = said({ set: { photoAgreed: true } })
  it.each([
    ['nobody asked', 'not-asked', []],
    ['yes', 'yes', [yes]],
    ['no', 'no', [said({ set: { photoAgreed: false } })]],
    ['taken back after a yes', 'no', [yes, said({ set: { photoAgreed: false }, over: [yes] })]],
    ['a yes and a no apart', 'differs', [yes, said({ set: { photoAgreed: false }, by: 'y' })]],
    ['two say yes', 'yes', [yes, said({ set: { photoAgreed: true }, by: 'y' })]],
    ['a later version wrote an answer beside the yes', 'newer', [yes, said({ set: { photoAgreed: 'faces-hidden' } })]],
    [
      'a later version took photos back in a way not known here',
      'newer',
      [yes, said({ set: { photoRemoved: { all: true } } })],
    ],
  ] as const)('%s: %s', (_what, agreement, entries) => {
    expect(photoAgreementOf(viewOf(...entries))).toBe(agreement)
  })
})
