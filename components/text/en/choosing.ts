import type { SettingKey } from '../../../src/chair/chair-model.ts'
import type { TOLERANCE_DIMENSIONS } from '../../../src/fitting/setting-parts.ts'
import type { Lever } from '../../../src/fitting/would-help.ts'

/** Choosing: the ranked set-ups, why, what was excluded, the decision. */
export const choosing = {
  resultNone: 'No chair chosen yet. Best by the figures: {size}.',
  resultChosen: '{size}, {cushion}',
  resultBroken: '{size}: {rule}',
  resultNothingServes: 'No chair of the catalogue serves.',
  resultMissing: 'Measures are missing: nothing can be ranked yet.',
  resultTemporary: 'Temporary chair: {why}',
  resultWait: 'Not today, wait: {why}',
  resultRefer: 'Not today, referred on: {why}',

  chosen: 'Chosen',
  chairAndSize: 'Chair and size',
  missing: 'Nothing can be ranked before these are measured: {fields}.',
  size: '{chair} {width}\u00a0×\u00a0{depth}',
  sizeWith: '{chair} {width}\u00a0×\u00a0{depth}, {cushion}',
  ranked: 'What serves, the best first',
  others: 'Other chairs that serve',
  rankedLead:
    'All {considered} ways to set up the chairs here were tried; {ranked} keep every rule on the facts of today. Open one to see it with the person in it.',
  rank: '{rank}. {size}',
  best: 'Best by the figures',
  within: 'everything within tolerance',
  withError: '{angle} ± {error}',
  showMore: { one: 'Show one more', other: 'Show {count} more' },

  settings: 'Settings, and why',
  outOfReach: 'wanted {wanted}, the nearest this chair has is {nearest}',
  judge: 'to be judged by hand',
  settingMissing: 'measure first: {fields}',
  alsoServes: 'also serves: {values}',
  off: 'off',
  pinned: 'set by hand',
  brokenNow: 'On the facts of today this chair breaks a rule: {rule}. Short by {shortBy}.',
  brokenNowPlain: 'On the facts of today this chair breaks a rule: {rule}.',

  assumed: 'Nobody noted these, so the cautious side was taken',
  assumedLine: '{field}: taken as {value}',
  limbLeft: 'How much of the left limb is left',
  limbRight: 'How much of the right limb is left',
  prosthesisLeft: 'Prosthesis worn, left',
  prosthesisRight: 'Prosthesis worn, right',
  noRiskKnown: 'no risk known',
  adult: 'an adult',

  excluded: 'What was excluded, and why',
  excludedLead: 'The first rule that a set-up breaks is the one named.',
  excludedCount: { one: '{count} set-up', other: '{count} set-ups' },
  nearest: 'the nearest came {shortBy} short',
  noneServes: 'No set-up of this chair serves',
  someServe: 'Other sizes and settings of it serve',

  nothingServes: 'No chair of this catalogue serves as it is.',
  nothingServesLead: 'The least bad one is not offered in silence. What stands in the way:',
  ruleOfChairs: { one: '{rule}: {count} chair model', other: '{rule}: {count} chair models' },
  wouldHelp: 'What would help, the gentlest first',
  gain: '{lever} on {chair}: gains about {gain}, short by {shortBy}',
  gainEnough: '{lever} on {chair}: gains about {gain}, which is enough',
  gainUnknown: '{lever}',

  choose: 'Choose this chair',
  chooseOther: 'Choose this one all the same',
  whyNotFirst: 'Why not the first one?',
  whyChanged: 'Why is this one taken now?',
  whyHint: 'Stands in the record: stock, the person’s wish, the vehicle, the home.',
  whyNeeded: 'Say why. Whoever builds or fits this chair will ask.',
  chosenSaved: 'Chosen. The build sheet follows.',
  smallGap: 'Why is a gap of 20 to 29 mm behind the knee right here?',
  smallGapHint: 'Only with a reason are seats counted that leave so little.',
  smallGapOpen: 'A smaller gap behind the knee is right here',
  release: 'Let every setting follow the recommendation again',
  pinnedLead: 'Set by hand, they do not follow new measures: {settings}.',

  today: 'Cannot be issued today?',
  todayLead: 'Wait, refer, or lend a temporary chair with a date.',
  what: 'What is done instead?',
  wait: 'Wait',
  refer: 'Refer on',
  'temporary-chair': 'Temporary chair',
  until: 'Until',
  why: 'Why',
  whyTodayNeeded: 'Say why: whoever comes next must know.',
  whatNeeded: 'Say what is done instead.',
  untilNeeded: 'Give the day by which it is decided again.',
  untilPast: 'That day has passed. Give a day still to come.',
  note: 'Write it down',
  standsSince: 'Written down: {what}',
  lift: 'It can be issued now',
  liftWhy: 'What changed?',
  liftNeeded: 'Say what changed first; without it this stands.',
} as const

/** A setting inside a sentence. */
export const settingIn = {
  size: 'the size',
  seatHeight: 'the seat height',
  axle: 'the axle',
  backHeight: 'the back height',
  cushion: 'the cushion',
  footrestLeft: 'the left footrest',
  footrestRight: 'the right footrest',
  armrest: 'the armrests',
} as const satisfies Readonly<Record<SettingKey, string>>

/** What a set-up misses by more than its tolerance. */
export const tolerance = {
  seatWidth: 'seat {by} wider than wanted',
  seatDepth: 'seat depth {by} off',
  backHeight: 'back {by} off',
  footrestLeft: 'left footrest {by} off',
  footrestRight: 'right footrest {by} off',
  armrest: 'armrests {by} off',
  elbow: 'elbow {by} outside the good range',
  heelToCaster: 'heel {by} too near the casters',
} as const satisfies Readonly<Record<(typeof TOLERANCE_DIMENSIONS)[number], string>>

export const lever = {
  'thinner-cushion': 'A cushion 20 mm thinner that relieves as well',
  'less-recline': 'The back 4° less reclined',
  'tighter-back': 'The back 15 mm tighter',
  'anti-tip': 'Anti-tip wheels 200 mm behind the axle',
  'other-model': 'Another model, with a longer wheelbase or the axle further back',
} as const satisfies Readonly<Record<Lever['lever'], string>>
