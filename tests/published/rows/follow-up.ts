import { daysBetween, toCalendarDate } from '../../../src/calendar-date.ts'
import type { DueKind } from '../../../src/follow-up/due.ts'
import { ADULT, duesOf, handover, review, theDue, tyre } from '../../src/follow-up/dues-of.ts'
import type { Said } from '../../support/case-entries.ts'
import type { PublishedRow } from './row.ts'

const WHO_2008 =
  'WHO, Guidelines on the provision of manual wheelchairs in less resourced settings, 2008, section 3.3.9 (p. 85)'
const WHO_BASIC =
  'WHO, Wheelchair Service Training Package, basic level, 2012 (read in secondary sources): six weeks, priority groups, children every six months'
const BY_HAND = 'Worked by hand from ln(left/found)/days'
const PRACTICE = 'common practice, no source: figure is a project value'

interface Expected {
  readonly rule: string
  readonly source: string
  readonly standing: PublishedRow['standing']
  readonly what: string
  readonly kind: DueKind
  readonly by: string
  readonly entries: readonly Said[]
}

const dateRow = ({ rule, source, standing, what, kind, by, entries }: Expected): PublishedRow => ({
  rule,
  source,
  standing,
  what: `${what}: by ${by}`,
  expected: 0,
  actual: () => daysBetween(toCalendarDate(by), theDue(duesOf(entries, '2026-12-31'), kind).date),
  tolerance: 0,
  unit: 'days off',
})

const DELIVERED = handover('2026-01-10')
/** 2026-01-10 and six weeks. */
const SIX_WEEKS = '2026-02-21'

const firstReviewRows: readonly PublishedRow[] = [
  dateRow({
    rule: 'first review within six months',
    source: WHO_2008,
    standing: 'read',
    what: 'no priority, delivered 2026-01-10',
    kind: 'review',
    by: '2026-07-10',
    entries: [ADULT, DELIVERED],
  }),
  ...(
    [
      ['a child', { dateOfBirth: '2015-06-01' }],
      ['at risk of a sore: a sore', { dateOfBirth: '1980-05-04', presentSore: true }],
      ['at risk of a sore: an earlier sore', { dateOfBirth: '1980-05-04', pastSore: true }],
      ['at risk of a sore: no feeling', { dateOfBirth: '1980-05-04', reducedSensation: true }],
      ['at risk of a sore: cannot relieve pressure', { dateOfBirth: '1980-05-04', cannotReposition: true }],
      ['at risk of a sore: moisture', { dateOfBirth: '1980-05-04', moisture: true }],
      ['a progressive condition', { dateOfBirth: '1980-05-04', progressive: true }],
      ['trouble with training', { dateOfBirth: '1980-05-04', trainingTrouble: true }],
    ] as const
  ).map(([who, set]) =>
    dateRow({
      rule: 'first review of a priority in six weeks',
      source: WHO_BASIC,
      standing: 'derived',
      what: `${who}, delivered 2026-01-10`,
      kind: 'review',
      by: SIX_WEEKS,
      entries: [{ set }, DELIVERED],
    }),
  ),
]

const childRows: readonly PublishedRow[] = (
  [
    ['2026-03-15', '2026-09-15'],
    ['2026-08-31', '2027-02-28'],
  ] as const
).map(([seen, by]) =>
  dateRow({
    rule: 'children at least every six months',
    source: WHO_BASIC,
    standing: 'derived',
    what: `a child seen on ${seen}`,
    kind: 'review',
    by,
    entries: [{ set: { dateOfBirth: '2015-06-01' } }, DELIVERED, review(seen)],
  }),
)

const skinRows: readonly PublishedRow[] = [
  dateRow({
    rule: 'open sore looked at again',
    source: PRACTICE,
    standing: 'common practice',
    what: 'sore seen on 2026-03-02',
    kind: 'skin-look',
    by: '2026-03-09',
    entries: [ADULT, DELIVERED, { set: { skinLook: { on: '2026-03-02', found: 'sore' } } }],
  }),
]

// Rear tyre, least 310 kPa. 400 left, 300 found after 30 days: k = ln(4/3)/30 = 0.0095894 a day;
// filled to 400 again: ln(400/310)/k = 0.2548922/0.0095894 = 26.58 -> 26 days after 2026-03-02.
const tyreRows: readonly PublishedRow[] = [
  dateRow({
    rule: 'tyre down to its least pressure',
    source: BY_HAND,
    standing: 'derived',
    what: '400 kPa left, 300 found after 30 days, filled to 400 on 2026-03-02, least 310',
    kind: 'tyre',
    by: '2026-03-28',
    entries: [
      ADULT,
      handover('2026-01-10'),
      { set: { builtChair: 'example-folding' } },
      tyre('2026-01-31', { leftKPa: 400 }),
      tyre('2026-03-02', { foundKPa: 300, leftKPa: 400 }),
    ],
  }),
]

export const FOLLOW_UP_ROWS: readonly PublishedRow[] = [...firstReviewRows, ...childRows, ...skinRows, ...tyreRows]
