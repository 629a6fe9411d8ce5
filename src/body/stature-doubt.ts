import type { Doubt } from '../reason.ts'
import { roundTo } from '../units.ts'
import {
  expectedSegments,
  expectedStatures,
  expectedStaturesFromSegments,
  SEGMENT_NAMES,
  type SegmentName,
  type Who,
} from './expected-body.ts'
import { distanceSd, type Facts, judge, likeliest, SLIP_SD } from './judge.ts'
import type { Person } from './person.ts'
import { isPossible } from './possible-ranges.ts'
import { lengthSlips, type Slip } from './slips.ts'

/** Fewer segments than this contradict each other as likely as the stature (project value). */
const LEAST_SEGMENTS = 3

interface Segment {
  readonly name: SegmentName
  readonly valueMm: number
}

/** How the segments fit a stature: squared distances summed, and which of them lie out. */
interface Fit {
  readonly squares: number
  readonly out: readonly SegmentName[]
}

const possibleSegments = (person: Person): readonly Segment[] =>
  SEGMENT_NAMES.flatMap(name => {
    const valueMm = person[name]
    return valueMm === undefined || !isPossible(name, valueMm) ? [] : [{ name, valueMm }]
  })

/**
 * Stature against sex and age, then against the segments. It is blamed when a slip of it brings every segment home better
 * than slips of the segments would; or, without any such slip, when most segments contradict it.
 */
export const statureDoubt = (person: Person, who: Who): Doubt | undefined => {
  const { statureMm, shoeSoleMm } = person
  if (statureMm === undefined) return undefined
  const facts: Facts = who.ageMonths === undefined ? {} : { ageYears: roundTo(who.ageMonths / 12, 1) }
  const expectations = expectedStatures(who)
  const alone = judge('statureMm', statureMm, expectations, lengthSlips, facts)
  if (alone) return alone

  const distanceAt = (stature: number, { name, valueMm }: Segment): number =>
    distanceSd(valueMm, expectedSegments(name, who, stature, shoeSoleMm))
  const fitOf = (stature: number, segments: readonly Segment[]): Fit => {
    const distances = segments.map(segment => distanceAt(stature, segment))
    return {
      squares: distances.reduce((sum, distance) => sum + distance ** 2, 0),
      out: segments.filter((_, index) => (distances[index] ?? 0) > SLIP_SD).map(segment => segment.name),
    }
  }

  const segments = possibleSegments(person)
  const asTyped = fitOf(statureMm, segments)
  // Each segment may pass alone while the three longest together do not.
  if (asTyped.out.length === 0) {
    const measured = {
      ...Object.fromEntries(segments.map(({ name, valueMm }) => [name, valueMm])),
      ...(shoeSoleMm === undefined ? {} : { shoeSoleMm }),
    }
    return judge('statureMm', statureMm, expectedStaturesFromSegments(measured, who), lengthSlips, facts)
  }
  if (segments.length < LEAST_SEGMENTS) return undefined

  const mendedSegments = segments.map(segment => {
    if (!asTyped.out.includes(segment.name)) return segment
    const mended = likeliest(lengthSlips(segment.valueMm), valueMm => distanceAt(statureMm, { ...segment, valueMm }))
    return { ...segment, valueMm: mended?.wouldBe ?? segment.valueMm }
  })
  const mended = fitOf(statureMm, mendedSegments)
  const segmentsExplain = mended.out.length === 0

  const bringsHome = ({ wouldBe }: Slip): boolean => {
    if (!isPossible('statureMm', wouldBe)) return false
    if (expectations.length > 0 && distanceSd(wouldBe, expectations) > SLIP_SD) return false
    const fit = fitOf(wouldBe, segments)
    return fit.out.length === 0 && !(segmentsExplain && mended.squares <= fit.squares)
  }
  const slip = likeliest(lengthSlips(statureMm).filter(bringsHome), corrected => fitOf(corrected, segments).squares)
  const mostContradict = asTyped.out.length >= 2 && asTyped.out.length * 2 > segments.length
  if (!slip && (segmentsExplain || !mostContradict)) return undefined
  return {
    field: 'statureMm',
    value: statureMm,
    likely: slip?.key ?? 'unlikely',
    ...(slip ? { wouldBe: slip.wouldBe } : {}),
    reason: {
      rule: 'stature-against-segments',
      inputs: { statureMm, ...facts, segmentsMeasured: segments.length, segmentsOut: asTyped.out.length },
      source: who.ages.includes('adult') ? 'ansur-ii-2012' : 'snyder-1977',
    },
    setAside: false,
  }
}
