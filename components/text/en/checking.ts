import type { CheckState } from '../../../src/preparation/checks.ts'

/** Checks of the prepared chair. */
export const checking = {
  resultNoChair: 'Choose the chair first.',
  resultAll: { one: '{count} check, in order', other: 'All {count} checks in order' },
  resultSome: '{passed} of {total} in order',
  resultFailed: 'Check failed: {checks}',
  resultStale: 'Check again: {checks}',
  nothing: 'The checks follow the chosen chair. Choose the chair first.',
  lead: 'Look at the real chair. Each check counts for the settings it was made for; when one changes, it is asked again.',
  open: { one: '{count} to look at', other: '{count} to look at' },
  inOrder: { one: '{count} in order', other: '{count} in order' },
  allInOrder: 'All in order for this set-up.',

  pass: 'In order',
  fail: 'Not in order',
  notApplicable: 'Does not apply',
  failWhat: 'What is wrong?',
  failHint: 'The handover waits until it is put right and checked again.',
  failSave: 'Save: not in order',
  notApplicableWhy: 'Why does it not apply to this chair?',
  notApplicableSave: 'Save: does not apply',
  notApplicableNeeded: 'Say why it does not apply.',
  retest: 'Put right, check again',
  retestWhat: 'What was done?',
  retestSave: 'Save: now in order',
  retestNeeded: 'Say what was done. Without it the fault stands.',
  failNeeded: 'Say what is wrong, so that whoever mends it knows.',
  cancel: 'Leave it',
  fault: 'Wrong: {note}',
  madeOn: '{date}, {who}',
  changedFrom: '{setting} changed from {from} to {to} after this check.',
  changed: '{setting} changed from {from} to {to}.',
  changedUnsaid: '{setting} is now {to}; the check does not say what it was made for.',
  workedOn: '“{step}” was done on {date}, after this check.',
} as const

/** How a check stands, in words. */
export const checkState = {
  'not-done': 'waits',
  passed: 'in order',
  failed: 'failed',
  stale: 'check again',
  'not-applicable': 'does not apply',
} as const satisfies Readonly<Record<CheckState['state'], string>>
