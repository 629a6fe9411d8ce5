import type { Counted } from '../case/entry.ts'
import { compareText, type DeviceId, type EntryId } from '../ids.ts'
import type { Role, TeamValue } from './team-fields.ts'
import { type Said, statementsIn } from './team-statements.ts'

export interface Member {
  readonly device: DeviceId
  readonly key: string
  readonly name: string
  readonly role: Role
  /** Founder 0; whoever a member adds stands one deeper. */
  readonly depth: number
  /** Whose word names this member now; null for a founder whom nobody named anew. */
  readonly namedBy: DeviceId | null
  /** The standing statements that name this member, to be overridden by the next one. */
  readonly namingIds: readonly EntryId[]
  /** The strike that took effect on this device. */
  readonly struckBy: EntryId | null
}

/** Why an entry does not count (yet). */
export type NotCounting = 'not-in-crew' | 'came-after-strike' | 'visitor'

/** What one of those who named a device apart calls it. */
export interface Named {
  readonly name: string
  readonly role: Role
}

export type CrewDifference =
  | { readonly type: 'member-named-twice'; readonly device: DeviceId; readonly named: readonly Named[] }
  | { readonly type: 'crew-named-twice'; readonly names: readonly string[] }

/** What the crew calls itself and where it works. */
export type CrewTitle = TeamValue<'title'>

/** Whom people call about their chair. */
export type CrewContact = NonNullable<TeamValue<'contact'>>

/** Who counts: a pure function of the set of team entries, whatever their order. */
export interface Crew {
  /** Null until somebody said it. Of titles given apart the first by id is shown, and the difference named. */
  readonly title: CrewTitle | null
  /** The standing titles, to be overridden by the next one. */
  readonly titleIds: readonly EntryId[]
  /** Every contact that stands, by id of its entry: those given apart are all shown, for each is a way to be reached. */
  readonly contacts: readonly CrewContact[]
  /** The standing statements about the contact, to be overridden by the next one. */
  readonly contactIds: readonly EntryId[]
  readonly members: ReadonlyMap<DeviceId, Member>
  /** Entries of struck devices that a device in good standing vouches for. */
  readonly vouched: ReadonlySet<EntryId>
  /** Strikes by devices that were struck themselves first: to be said again by somebody else, if they still hold. */
  readonly strikesWithoutEffect: readonly { readonly id: EntryId; readonly by: DeviceId; readonly device: DeviceId }[]
  readonly differences: readonly CrewDifference[]
}

interface Statements {
  readonly founded: readonly Said<'found'>[]
  readonly adds: readonly Said<'add'>[]
  readonly strikes: readonly Said<'strike'>[]
  readonly vouches: readonly Said<'vouch'>[]
}

interface Standing {
  readonly depths: ReadonlyMap<DeviceId, number>
  /**
   * Members let in as more than a visitor, and by how many such adds: only their adds, strikes and vouches have effect.
   * Letting a visitor in gives effect to what it wrote before as well: there is no clock to tell before from after.
   */
  readonly acting: ReadonlyMap<DeviceId, number>
  readonly vouched: ReadonlySet<EntryId>
  readonly adds: readonly Said<'add'>[]
}

interface Struck {
  /** By device, the strike that took effect. */
  readonly by: ReadonlyMap<DeviceId, EntryId>
  /** Adds that count for the sake of whoever took the founder's place, for as long as that one is not struck. */
  readonly kept: readonly { readonly add: EntryId; readonly striker: DeviceId }[]
}

/**
 * Who belongs to the crew when these devices are struck: the least set that holds the founder and whoever a counting
 * `add` names. An `add` of a struck device counts only when vouched for by a member who is not struck, or kept; so a struck
 * device cannot lift itself back by the word of one that it brought in afterwards.
 */
const standingUnder = ({ by: struck, kept }: Struck, said: Statements): Standing => {
  const depths = new Map<DeviceId, number>()
  const acting = new Map<DeviceId, number>()
  for (const { by } of said.founded) {
    depths.set(by, 0)
    acting.set(by, 0)
  }
  const vouched = new Set(kept.filter(({ striker }) => !struck.has(striker)).map(({ add }) => add))
  const counts = (add: Said<'add'>): boolean => acting.has(add.by) && (!struck.has(add.by) || vouched.has(add.id))
  for (let changed = true; changed; ) {
    changed = false
    for (const vouch of said.vouches) {
      if (!acting.has(vouch.by) || struck.has(vouch.by)) continue
      for (const id of vouch.value.ids) {
        if (vouched.has(id)) continue
        vouched.add(id)
        changed = true
      }
    }
    for (const add of said.adds) {
      const depth = depths.get(add.by)
      if (depth === undefined || !counts(add)) continue
      const { device, role } = add.value
      if (depth + 1 < (depths.get(device) ?? Number.POSITIVE_INFINITY)) {
        depths.set(device, depth + 1)
        changed = true
      }
      const actingDepth = (acting.get(add.by) ?? 0) + 1
      if (role !== 'visitor' && actingDepth < (acting.get(device) ?? Number.POSITIVE_INFINITY)) {
        acting.set(device, actingDepth)
        changed = true
      }
    }
  }
  return { depths, acting, vouched, adds: said.adds.filter(counts) }
}

/** The adds by which a device came to act, from its own up to the founder's: the shortest way, of equals the first by id. */
const wayIn = (device: DeviceId, { acting, adds }: Pick<Standing, 'acting' | 'adds'>): readonly Said<'add'>[] => {
  const depth = acting.get(device) ?? 0
  if (depth === 0) return []
  const [add] = adds
    .filter(({ by, value }) => value.device === device && value.role !== 'visitor' && acting.get(by) === depth - 1)
    .sort((a, b) => compareText(a.id, b.id))
  if (!add) throw new Error(`${device} acts, and nothing let it in`)
  return [add, ...wayIn(add.by, { acting, adds })]
}

/**
 * Strikes take effect one at a time, the shallowest striker's first, then by striker and entry id (casebook.md, Crew).
 *
 * Everybody came in by way of the founder, and would fall with it. So whoever strikes the founder off, as when that phone
 * is lost, takes its place: the adds of struck devices by which they came in go on counting, and they vouch for the rest.
 */
const struckDevices = (said: Statements): Struck => {
  const struck = new Map<DeviceId, EntryId>()
  const kept: { readonly add: EntryId; readonly striker: DeviceId }[] = []
  const first = new Set(said.founded.map(({ by }) => by))
  for (;;) {
    const standing = standingUnder({ by: struck, kept }, said)
    const { depths, acting } = standing
    const depthOf = (strike: Said<'strike'>): number => depths.get(strike.by) ?? Number.POSITIVE_INFINITY
    const next = said.strikes
      .filter(strike => acting.has(strike.by) && !struck.has(strike.by) && !struck.has(strike.value.device))
      .sort((a, b) => depthOf(a) - depthOf(b) || compareText(a.by, b.by) || compareText(a.id, b.id))[0]
    if (!next) return { by: struck, kept }
    const { device } = next.value
    struck.set(device, next.id)
    if (!first.has(device) || device === next.by) continue
    first.add(next.by)
    for (const { id, by } of wayIn(next.by, standing)) if (struck.has(by)) kept.push({ add: id, striker: next.by })
  }
}

/** The add that names a member on screen: one that no other add for that device ended, the first by id. */
const standingAdds = (adds: readonly Said<'add'>[]): readonly Said<'add'>[] => {
  const ended = new Set(adds.flatMap(add => add.over.filter(id => id !== add.id)))
  const standing = adds.filter(add => !ended.has(add.id))
  const writing = standing.filter(add => add.value.role !== 'visitor')
  if (writing.length > 0) return writing
  // Whoever was once let in to write stays so: what they recorded must not vanish. To stop them, strike them off.
  const ever = adds.filter(add => add.value.role !== 'visitor')
  return ever.length > 0 ? ever : standing
}

/** Titles or contacts that stand: by members who may write, and ended by no later one of theirs. */
const standing = <Name extends 'title' | 'contact'>(
  entries: readonly Counted[],
  name: Name,
  members: ReadonlyMap<DeviceId, Member>,
): readonly Said<Name>[] => {
  const said = statementsIn(entries, name).filter(({ by }) => {
    const member = members.get(by)
    return member !== undefined && member.role !== 'visitor' && member.struckBy === null
  })
  const ended = new Set(said.flatMap(({ id, over }) => over.filter(other => other !== id)))
  return said.filter(({ id }) => !ended.has(id))
}

/**
 * The crew of a casebook. The caller has checked (where entries are admitted) that each key hashes to its device, that
 * `found` is by the device from which this casebook's id was made, and all signatures.
 */
export const crewOf = (entries: readonly Counted[]): Crew => {
  const said: Statements = {
    founded: statementsIn(entries, 'found'),
    adds: statementsIn(entries, 'add'),
    strikes: statementsIn(entries, 'strike'),
    vouches: statementsIn(entries, 'vouch'),
  }
  const struck = struckDevices(said)
  const { depths, vouched, adds } = standingUnder(struck, said)

  const members = new Map<DeviceId, Member>()
  const differences: CrewDifference[] = []
  const devices = [...depths].sort(([a], [b]) => compareText(a, b))
  for (const [device, depth] of devices) {
    const founder = said.founded.find(found => found.by === device)
    // A founder may be named anew, and is never made a visitor: the casebook would be nobody's.
    const of = adds.filter(({ value }) => value.device === device && !(founder && value.role === 'visitor'))
    const named = standingAdds(of)
    const [first] = named
    const shown = first?.value ?? (founder && { ...founder.value, role: founder.value.role ?? 'coordinator' })
    if (!shown) continue
    const apart = [...new Map(named.map(({ value: { name, role } }) => [`${role} ${name}`, { name, role }])).values()]
    if (apart.length > 1) differences.push({ type: 'member-named-twice', device, named: apart })
    members.set(device, {
      device,
      key: shown.key,
      name: shown.name,
      role: shown.role,
      depth,
      namedBy: first?.by ?? null,
      namingIds: named.map(({ id }) => id),
      struckBy: struck.by.get(device) ?? null,
    })
  }
  const strikesWithoutEffect = said.strikes
    .filter(strike => !struck.by.has(strike.value.device) && struck.by.has(strike.by))
    .map(strike => ({ id: strike.id, by: strike.by, device: strike.value.device }))
  const titles = standing(entries, 'title', members)
  const names = [...new Set(titles.map(({ value }) => `${value.crewName}, ${value.place}`))]
  if (names.length > 1) differences.push({ type: 'crew-named-twice', names })
  const title = titles[0]?.value ?? null
  const titleIds = titles.map(({ id }) => id)
  const called = standing(entries, 'contact', members)
  const contactIds = called.map(({ id }) => id)
  const contacts = [
    ...new Map(
      called.flatMap(({ value }) => (value ? [[`${value.who} ${value.telephone}`, value] as const] : [])),
    ).values(),
  ]
  return { title, titleIds, contacts, contactIds, members, vouched, strikesWithoutEffect, differences }
}

/** Whether a device may add, strike, vouch and write now. */
export const isInGoodStanding = (crew: Crew, device: DeviceId): boolean => {
  const member = crew.members.get(device)
  return member !== undefined && member.struckBy === null && member.role !== 'visitor'
}

/** Why this entry does not count in cases, catalogue and stock; undefined when it does (B1, as far as the crew decides). */
export const whyNotCounting = (crew: Crew, id: EntryId, by: DeviceId): NotCounting | undefined => {
  const member = crew.members.get(by)
  if (!member) return 'not-in-crew'
  if (member.struckBy !== null && !crew.vouched.has(id)) return 'came-after-strike'
  return member.role === 'visitor' ? 'visitor' : undefined
}

export const countingEntries = (crew: Crew, entries: readonly Counted[]): readonly Counted[] =>
  entries.filter(({ id, entry }) => whyNotCounting(crew, id, entry.by) === undefined)
