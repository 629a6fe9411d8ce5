import { expect, it } from 'vitest'
import { latestFirst } from '../../../components/case/photos/latest-first.ts'
import { viewOfCase } from '../../../src/case/case-view-of.ts'
import { said, testCase } from '../../support/case-entries.ts'

it('photos stand by the day that was typed, the latest first, and within a day by the clock of who took them', () => {
  const photo = (letter: string, on: string, at: number) =>
    said({ set: { photo: { hash: letter.repeat(42).concat('A'), shows: 'skin', on } }, at })
  const entries = [
    photo('a', '2026-05-12', 3000),
    photo('b', '2026-05-11', 9000),
    photo('c', '2026-05-12', 5000),
    photo('d', '2026-05-12', 4000),
  ]
  expect(latestFirst(viewOfCase(testCase, entries)).map(({ hash }) => hash.charAt(0))).toEqual(['c', 'd', 'a', 'b'])
})
