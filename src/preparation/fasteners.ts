import type { Fastener } from '../chair/chair-model.ts'
import type { Reason } from '../reason.ts'
import { rememberedFor } from '../remembered.ts'
import type { Formula, SumInputs, WorkedReason } from '../sum.ts'
import { roundTo } from '../units.ts'

interface Thread {
  /** Coarse pitch (ISO 261). */
  readonly pitchMm: number
  /** Hexagon width across flats: ISO 4014/4017 (after ISO 272), and the older DIN 931/933 still found on chairs. */
  readonly acrossFlatsMm: { readonly iso: number; readonly olderDin: number }
  /** Least outer diameter of a hexagon head's bearing face (ISO 4014, from memory). */
  readonly faceMm: number
  /** Clearance hole, medium fit (ISO 273, from memory). */
  readonly holeMm: number
}

const THREADS: Readonly<Record<string, Thread>> = {
  M5: { pitchMm: 0.8, acrossFlatsMm: { iso: 8, olderDin: 8 }, faceMm: 6.88, holeMm: 5.5 },
  M6: { pitchMm: 1, acrossFlatsMm: { iso: 10, olderDin: 10 }, faceMm: 8.88, holeMm: 6.6 },
  M8: { pitchMm: 1.25, acrossFlatsMm: { iso: 13, olderDin: 13 }, faceMm: 11.63, holeMm: 9 },
  M10: { pitchMm: 1.5, acrossFlatsMm: { iso: 16, olderDin: 17 }, faceMm: 14.63, holeMm: 11 },
  M12: { pitchMm: 1.75, acrossFlatsMm: { iso: 18, olderDin: 19 }, faceMm: 16.63, holeMm: 13.5 },
  M14: { pitchMm: 2, acrossFlatsMm: { iso: 21, olderDin: 22 }, faceMm: 19.64, holeMm: 15.5 },
  M16: { pitchMm: 2, acrossFlatsMm: { iso: 24, olderDin: 24 }, faceMm: 22.49, holeMm: 17.5 },
}

/** ISO 898-1:2013, threads up to M16: least yield (or 0.2 % proof strength) and proof stress, MPa. */
const CLASSES: Readonly<Record<string, { readonly yieldMPa: number; readonly proofMPa: number }>> = {
  '4.6': { yieldMPa: 240, proofMPa: 225 },
  '4.8': { yieldMPa: 340, proofMPa: 310 },
  '5.6': { yieldMPa: 300, proofMPa: 280 },
  '5.8': { yieldMPa: 420, proofMPa: 380 },
  '6.8': { yieldMPa: 480, proofMPa: 440 },
  '8.8': { yieldMPa: 640, proofMPa: 580 },
  '9.8': { yieldMPa: 720, proofMPa: 650 },
  '10.9': { yieldMPa: 940, proofMPa: 830 },
  '12.9': { yieldMPa: 1100, proofMPa: 970 },
}

/** Common practice, no source: 13 mm and 19 mm for the usual frame and axle bolts of older M8 / M12 hardware. */
export const USUAL_FRAME_SPANNER_MM = 13
export const USUAL_AXLE_SPANNER_MM = 19

/**
 * Friction in thread and under the head: zinc-plated steel, lightly oiled, the middle of what torque tables are printed
 * for. A well oiled thread (0.10) is stretched as far by about an eighth less torque.
 */
const FRICTION = 0.12
/** Share of the yield that pull and twist together may use in that form. */
const YIELD_SHARE = 0.9

const threadOf = (thread: string): Thread | undefined => (Object.hasOwn(THREADS, thread) ? THREADS[thread] : undefined)
const classOf = (propertyClass: string) => (Object.hasOwn(CLASSES, propertyClass) ? CLASSES[propertyClass] : undefined)
const diameterMm = (thread: string): number => Number(thread.slice(1))

/** Spanner size of a hexagon head or nut, by thread. Undefined outside M5 to M16. */
export const acrossFlatsMm = (thread: string, standard: 'iso' | 'olderDin'): number | undefined =>
  threadOf(thread)?.acrossFlatsMm[standard]

/** As = pi/4 (d - 0.9382 P)^2, mm2 (ISO 898-1). Undefined outside M5 to M16. */
export const stressAreaMm2 = (thread: string): number | undefined => {
  const row = threadOf(thread)
  return row && (Math.PI / 4) * (diameterMm(thread) - 0.9382 * row.pitchMm) ** 2
}

/** Pull that leaves no lasting stretch: proof stress times stress area, kN (ISO 898-1). */
export const proofLoadKN = (thread: string, propertyClass: string): number | undefined => {
  const areaMm2 = stressAreaMm2(thread)
  const row = classOf(propertyClass)
  return areaMm2 === undefined || row === undefined ? undefined : (row.proofMPa * areaMm2) / 1000
}

export interface TorqueBound {
  readonly torqueNm: number
  readonly preloadKN: number
  /** What it was worked out from. */
  readonly from: {
    readonly pitchMm: number
    readonly flankDiameterMm: number
    readonly stressDiameterMm: number
    readonly bearingDiameterMm: number
    readonly stressAreaMm2: number
    readonly yieldMPa: number
    readonly twist: number
  }
}

/**
 * The torque at which a bolt of this thread and class is used up, steel in steel, at a friction of 0.12: an upper bound,
 * never a target. Preload F = As 0.9 Rp / sqrt(1 + 3 (1.5 d2/d0 (P/(pi d2) + 1.155 mu))^2), torque = F (0.159 P +
 * 0.577 d2 mu + Dk mu / 2): the VDI 2230 form (from memory), within 3 % of a table printed for that friction and class 8.8. The
 * nut-factor form 0.2 x 75 % proof load x d lies 3 to 7 % above the same table, so it bounds less. Undefined for threads outside M5 to
 * M16 and classes outside the table.
 */
export const torqueBound = (thread: string, propertyClass: string): TorqueBound | undefined => {
  const row = threadOf(thread)
  const strength = classOf(propertyClass)
  const areaMm2 = stressAreaMm2(thread)
  if (row === undefined || strength === undefined || areaMm2 === undefined) return undefined
  const d = diameterMm(thread)
  const P = row.pitchMm
  const d2 = d - 0.64952 * P
  const d0 = (d2 + (d - 1.22687 * P)) / 2
  const headMm = (row.faceMm + row.holeMm) / 2
  const twist = 1.5 * (d2 / d0) * (P / (Math.PI * d2) + 1.155 * FRICTION)
  const preloadN = (areaMm2 * YIELD_SHARE * strength.yieldMPa) / Math.sqrt(1 + 3 * twist ** 2)
  const torqueNm = (preloadN * (0.159 * P + 0.577 * d2 * FRICTION + (headMm * FRICTION) / 2)) / 1000
  return {
    torqueNm,
    preloadKN: preloadN / 1000,
    from: {
      pitchMm: P,
      flankDiameterMm: d2,
      stressDiameterMm: d0,
      bearingDiameterMm: headMm,
      stressAreaMm2: areaMm2,
      yieldMPa: strength.yieldMPa,
      twist,
    },
  }
}

/** How tight, and how far to trust the figure. `upper-bound` carries the caution that thin or soft joints want less. */
export type Torque =
  /** `aboveBound`: printed higher than a bolt of this thread and class bears. Print wins; the class may be misread. */
  | { readonly type: 'printed'; readonly torqueNm: number; readonly aboveBound: boolean; readonly reason: Reason }
  | {
      readonly type: 'upper-bound'
      readonly torqueNm: number
      /** Thin tube, aluminium, plastic and locknut joints need the maker's lower figure. */
      readonly caution: 'thin-or-soft-joint-needs-the-lower-figure-of-its-maker'
      readonly reason: WorkedReason
    }
  | { readonly type: 'unknown'; readonly why: 'thread' | 'property-class' }

/** A fastener as a step needs it: what to hold it with and how tight. */
export interface Tightening {
  readonly fastener: string
  readonly at: string
  readonly thread: string
  readonly spannerMm: number
  /** `other`: a size that neither standard gives this thread. Try the head before it is rounded. */
  readonly head: 'iso' | 'older-din' | 'other'
  readonly torque: Torque
}

/** kN times mm are N m. */
const BOUND_SUM: readonly Formula[] = [
  'twist = 1.5 * flankDiameterMm / stressDiameterMm * (pitchMm / (3.1416 * flankDiameterMm) + 1.155 * friction)',
  'preloadKN = stressAreaMm2 * yieldShare * yieldMPa / sqrt(1 + 3 * twist * twist) / 1000',
  'torqueNm = preloadKN * (0.159 * pitchMm + 0.577 * flankDiameterMm * friction + bearingDiameterMm * friction / 2)',
]

const torqueOf = (fastener: Fastener): Torque => {
  const { thread, propertyClass, torqueNm: printedNm } = fastener
  const bound = torqueBound(thread, propertyClass)
  if (printedNm !== undefined)
    return {
      type: 'printed',
      torqueNm: printedNm,
      aboveBound: bound !== undefined && printedNm > bound.torqueNm,
      reason: {
        rule: 'torque-printed',
        inputs: { torqueNm: printedNm, thread, propertyClass },
        source: 'chair-papers',
      },
    }
  if (bound === undefined) return { type: 'unknown', why: threadOf(thread) ? 'property-class' : 'thread' }
  // Downward: a bound must not grow by rounding.
  const torqueNm = Math.floor(bound.torqueNm * 10) / 10
  const { from } = bound
  const inputs: SumInputs = {
    thread,
    propertyClass,
    pitchMm: from.pitchMm,
    flankDiameterMm: roundTo(from.flankDiameterMm, 3),
    stressDiameterMm: roundTo(from.stressDiameterMm, 3),
    bearingDiameterMm: roundTo(from.bearingDiameterMm, 3),
    stressAreaMm2: roundTo(from.stressAreaMm2, 2),
    yieldMPa: from.yieldMPa,
    yieldShare: YIELD_SHARE,
    friction: FRICTION,
    twist: roundTo(from.twist, 4),
    preloadKN: Math.floor(bound.preloadKN * 100) / 100,
    torqueNm,
  }
  return {
    type: 'upper-bound',
    torqueNm,
    caution: 'thin-or-soft-joint-needs-the-lower-figure-of-its-maker',
    reason: {
      rule: 'torque-upper-bound',
      inputs,
      source: 'iso-898-1',
      sum: BOUND_SUM,
    },
  }
}

const headOf = (fastener: Fastener): Tightening['head'] => {
  const flats = threadOf(fastener.thread)?.acrossFlatsMm
  if (flats?.iso === fastener.acrossFlatsMm) return 'iso'
  return flats?.olderDin === fastener.acrossFlatsMm ? 'older-din' : 'other'
}

/** Spanner and torque of one fastener. A printed torque always wins; else an upper bound; else said to be unknown. */
export const tighteningOf = rememberedFor(
  (fastener: Fastener): Tightening => ({
    fastener: fastener.key,
    at: fastener.at,
    thread: fastener.thread,
    spannerMm: fastener.acrossFlatsMm,
    head: headOf(fastener),
    torque: torqueOf(fastener),
  }),
)
