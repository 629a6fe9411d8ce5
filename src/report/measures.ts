/** What people are counted in. A person counts once in each that is true of them, on the day of the report. */
export const MEASURES = [
  'registered',
  'referred',
  'assessed',
  'fitted',
  'trained',
  'handed-over',
  'waiting',
  'left-without-chair',
  'review-on-time',
  'review-late',
  'review-missing',
  'review-not-due',
  'used-daily',
  'used-sometimes',
  'not-used',
  'use-unknown',
  'within-tolerance',
  'out-of-tolerance',
  'tolerance-unknown',
  'repaired',
  'not-found',
  'left',
  'left-died',
  'left-moved',
  'left-no-longer-needed',
  'left-refused',
  'left-returned',
  'left-not-found',
  'chair-rated',
  'chair-rated-1',
  'chair-rated-2',
  'chair-rated-3',
  'chair-rated-4',
  'chair-rated-5',
  'service-rated',
  'service-rated-1',
  'service-rated-2',
  'service-rated-3',
  'service-rated-4',
  'service-rated-5',
] as const
export type Measure = (typeof MEASURES)[number]

/** Each person of the whole is in exactly one of the parts: they add up, and one could be worked out from the others. */
export const PARTITIONS: readonly { readonly whole: Measure; readonly parts: readonly Measure[] }[] = [
  { whole: 'registered', parts: ['handed-over', 'waiting', 'left-without-chair'] },
  { whole: 'handed-over', parts: ['review-on-time', 'review-late', 'review-missing', 'review-not-due'] },
  { whole: 'handed-over', parts: ['used-daily', 'used-sometimes', 'not-used', 'use-unknown'] },
  { whole: 'handed-over', parts: ['within-tolerance', 'out-of-tolerance', 'tolerance-unknown'] },
  {
    whole: 'left',
    parts: ['left-died', 'left-moved', 'left-no-longer-needed', 'left-refused', 'left-returned', 'left-not-found'],
  },
  {
    whole: 'chair-rated',
    parts: ['chair-rated-1', 'chair-rated-2', 'chair-rated-3', 'chair-rated-4', 'chair-rated-5'],
  },
  {
    whole: 'service-rated',
    parts: ['service-rated-1', 'service-rated-2', 'service-rated-3', 'service-rated-4', 'service-rated-5'],
  },
]

/** Ways in which everybody is parted. Whoever did not say stands under null. */
export const BREAKDOWNS = ['sex', 'age', 'place', 'provision'] as const
export type Breakdown = (typeof BREAKDOWNS)[number]
export type ByBreakdown<Value> = { readonly [Key in Breakdown]: Value }

export const byBreakdown = <Value>(of: (breakdown: Breakdown) => Value): ByBreakdown<Value> => ({
  sex: of('sex'),
  age: of('age'),
  place: of('place'),
  provision: of('provision'),
})

/** Project value: children before school, children, adults, older people; the age on the day of the report. */
export const AGE_BANDS = [
  { key: 'under-5', below: 5 },
  { key: '5-17', below: 18 },
  { key: '18-59', below: 60 },
  { key: '60-and-over', below: Number.POSITIVE_INFINITY },
] as const
export type AgeBand = (typeof AGE_BANDS)[number]['key']

/** Spans of days between two things that happened; `waiting-now` runs until the day of the report. */
export const WAITS = ['referral-to-handover', 'handover-to-first-review', 'waiting-now'] as const
export type Wait = (typeof WAITS)[number]
