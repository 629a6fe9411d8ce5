import type { CheckKey } from '../../src/chair/chair-model.ts'
import type { Hold } from '../../src/fitting/reason.ts'
import type { Option } from '../../src/fitting/recommend.ts'
import type { Due } from '../../src/follow-up/due.ts'
import type { Outcome } from '../../src/outcome/outcome.ts'

/** "a, b and c". */
export const listed = (items: readonly string[]): string =>
  items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`

export const counted = (count: number, one: string, many = `${one}s`): string => `${count} ${count === 1 ? one : many}`

/** `hole-2` -> "hole 2"; `brakesHold` -> "brakes hold": the keys of catalogue and checks are plain words already. */
export const plain = (key: string): string =>
  key.replaceAll('-', ' ').replace(/[A-Z]/g, letter => ` ${letter.toLowerCase()}`)

export const checkNames = (checks: readonly CheckKey[]): string => listed(checks.map(plain))

export const chairWords = (option: Option): string =>
  `${plain(option.chair)} ${option.seatWidthMm} x ${option.seatDepthMm} mm, axle ${plain(option.axle)}, ${plain(option.cushion)}`

export type Referral = NonNullable<Hold['refer']>
const REFERRED: { readonly [To in Referral]: string } = {
  health: 'a health worker',
  'specialist-seating': 'a specialist in seating',
}

/** Holds of the crew's own work; a risk and its referral are plain words already. */
const HOLDS: Readonly<Record<string, string>> = {
  'not-chosen': 'no chair chosen yet',
  'no-chair-serves': 'no chair of the catalogue serves',
  'measure-again': 'a reading to be taken again',
  difference: 'a difference that matters',
  'build-not-finished': 'work on the build sheet',
  'checks-stale': 'stale checks',
  'checks-not-done': 'checks not made yet',
  'present-sore': 'an open sore',
}

export const holdName = (key: string): string => HOLDS[key] ?? plain(key.replace(/^risk-/, ''))

/** To whom a person is referred, and by which holds. */
export const referralsOf = (holds: readonly Hold[]): ReadonlyMap<Referral, readonly string[]> => {
  const byReferral = new Map<Referral, string[]>()
  for (const { key, refer } of holds) if (refer) byReferral.set(refer, [...(byReferral.get(refer) ?? []), key])
  return byReferral
}

/** What stands in the way, in the outcome's order. */
export const holdWords = (holds: readonly Hold[]): string =>
  holds.length === 0
    ? 'nothing'
    : listed(
        [...new Set(holds.map(hold => hold.key))].map(key => {
          const refer = holds.find(hold => hold.key === key)?.refer
          return refer ? `${holdName(key)} (refer to ${REFERRED[refer]})` : holdName(key)
        }),
      )

/** Changes that a difference would bring, each once: "recommended seat width 380 or 405 mm". */
export const changeWords = (difference: Outcome['differences'][number]): string => {
  const changes = difference.options.flatMap(option => option.changes)
  const keys = [...new Set(changes.map(change => change.key))]
  return listed(
    keys.map(key => {
      const values = changes.filter(change => change.key === key).flatMap(change => [change.from, change.to])
      const unit = key.endsWith('Mm') ? ' mm' : ''
      const name = plain(key.replace('.', ' ').replace(/Mm$/, ''))
      return `${name} ${[...new Set(values.map(String))].map(plain).join(' or ')}${unit}`
    }),
  )
}

export const dueWords = (due: Due): string =>
  due.window
    ? `${plain(due.kind)} by ${due.date} (forecast: between ${due.window.from} and ${due.window.to})`
    : `${plain(due.kind)} on ${due.date}`
