import type { DeviceId } from '../ids.ts'
import type { Crew } from './crew.ts'

/** Under which name a device is shown. */
export interface Attribution {
  readonly name: string
  /** The first letters of the device, where its name alone would not tell it from another one of the crew. */
  readonly mark: string | null
}

/** Enough letters to tell devices apart at a glance (project value). */
const MARK_LETTERS = 4

/** The first letters of a device: so many that no other one of the crew begins with them. */
export const markOf = (crew: Crew, device: DeviceId): string => {
  const others = [...crew.members.keys()].filter(other => other !== device)
  let letters = MARK_LETTERS
  while (others.some(other => other.startsWith(device.slice(0, letters)))) letters += 1
  return device.slice(0, letters)
}

/**
 * Signs that are not seen or that turn the direction of what stands beside them (Unicode categories Cc and Cf; UAX 9 lists
 * those that turn). Joiners stay, U+200C and U+200D: Persian and Indic names are written with them.
 */
const UNSEEN = /(?![\u200c\u200d])[\p{Cc}\p{Cf}]/gu

/** A name as it may stand in a sentence: nothing in it can turn, hide or break what is said around it. */
export const plainName = (name: string): string => name.replace(UNSEEN, '').replace(/\s+/gu, ' ').trim()

/** Names that look alike compare equal: compatible letters as one (UAX 15, NFKC), large and small, joiners aside. */
const compared = (name: string): string =>
  plainName(name)
    .normalize('NFKC')
    .replace(/[\u200c\u200d]/gu, '')
    .toLowerCase()

/** Who a device is in this crew, struck off or not; undefined for one that is not in it. */
export const attributionOf = (crew: Crew, device: DeviceId): Attribution | undefined => {
  const member = crew.members.get(device)
  if (!member) return undefined
  const name = plainName(member.name)
  const own = compared(member.name)
  const isShared = [...crew.members.values()].some(other => other.device !== device && compared(other.name) === own)
  return { name, mark: isShared || name === '' ? markOf(crew, device) : null }
}
