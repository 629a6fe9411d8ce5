import type { DueKind } from '../../../src/follow-up/due.ts'

/** What falls due, as the thing to do. */
export const due = {
  review: 'Review of fit, skin, chair and skills',
  'skin-look': 'Look at the skin',
  problem: 'See to the problem',
  'unusable-chair': 'Make the chair usable, or lend one',
  'found-wrong': 'Put right what the visit found',
  'technician-upkeep': 'Upkeep by a technician',
  tyre: 'Pump the tyres',
  'cushion-review': 'Look at the cushion',
  'cushion-life': 'Replace the cushion',
  growth: 'Measure growth: the chair gets too small',
  'temporary-chair': 'End of the temporary chair',
  'cannot-issue': 'Decide again whether a chair can be issued',
} as const satisfies Readonly<Record<DueKind, string>>
