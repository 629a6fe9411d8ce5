import { type Catalogue, type ChairModel, stepValues } from '../chair/chair-model.ts'
import type { ResolvedSetUp, SetUp } from '../chair/set-up.ts'
import { axleAngles, type WidthAngles, widthAngles } from './angles.ts'
import { shortOfAngle, shortOfClearance, shortOfDepth, shortOfFloor, shortOfModel, shortOfWidth } from './evaluate.ts'
import { type LoadedFrame, loadPosed, type OnWheels, poseFrame, putOnWheels, type Sitter } from './loaded-chair.ts'
import type { Needs } from './needs.ts'
import type { Policy } from './policy.ts'
import {
  axleRule,
  cushionRule,
  depthRule,
  floorRule,
  footrestRule,
  type HardRule,
  modelRule,
  needsHoleAhead,
  sidewaysRule,
  widthRule,
} from './rules.ts'
import {
  armrestCost,
  armrestValues,
  armrestWantedMm,
  axlePreference,
  backCost,
  backWindow,
  cushionCost,
  depthCost,
  elbowCost,
  footrestCost,
  footrestValues,
  placeCost,
  widthCost,
} from './wanted.ts'

/** The best settings of one chair as it is taken from stock: model, width, depth and cushion. */
export interface Candidate {
  readonly setUp: ResolvedSetUp
  /** Thousandths of a point. */
  readonly misfit: number
}

/** Set-ups of one model that the same rule excludes first, and how near the nearest of them came. */
export interface ExcludedRow {
  readonly chair: string
  readonly rule: HardRule
  readonly setUps: number
  readonly shortBy: number
}

export interface Found {
  /** Ranked by misfit, ties in catalogue order. */
  readonly candidates: readonly Candidate[]
  readonly excluded: readonly ExcludedRow[]
  readonly considered: number
  readonly ranked: number
}

/**
 * Settings that a person has pinned on one chair: only these values are tried. A footrest or armrest value may lie off the
 * model's steps, since a real chair is what it is.
 */
export type Pins = Partial<
  Pick<SetUp, 'seatHeight' | 'axle' | 'backHeight' | 'footrestLeftMm' | 'footrestRightMm' | 'armrestMm'>
>

/** A chair as it is taken from stock. */
export type Stock = Pick<ResolvedSetUp, 'model' | 'seatWidthMm' | 'depth' | 'cushion'>

/** How many set-ups a model offers in all. */
export const setUpCount = (model: ChairModel): number => {
  const feet = stepValues(model.footrest).length + 1
  const arms = model.armrest ? stepValues(model.armrest).length + 1 : 1
  const frames = model.seatWidthsMm.length * model.seatDepths.length * model.seatHeights.length * model.cushions.length
  return frames * model.axlePositions.length * model.backHeights.length * feet * feet * arms
}

/** Counts what each rule excludes first. */
class Tally {
  readonly #rows = new Map<HardRule, { setUps: number; shortBy: number }>()

  add(rule: HardRule, setUps: number, shortBy: number): void {
    if (setUps === 0) return
    const row = this.#rows.get(rule)
    if (!row) this.#rows.set(rule, { setUps, shortBy })
    else {
      row.setUps += setUps
      row.shortBy = Math.min(row.shortBy, shortBy)
    }
  }

  rows(chair: string): ExcludedRow[] {
    return [...this.#rows].map(([rule, row]) => ({ chair, rule, ...row }))
  }

  get setUps(): number {
    return [...this.#rows.values()].reduce((sum, row) => sum + row.setUps, 0)
  }
}

/** One model being weighed for one person. */
interface ModelSearch {
  readonly sitter: Sitter
  readonly needs: Needs
  readonly model: ChairModel
  readonly policy: Policy
  readonly pins: Pins
  readonly tally: Tally
}

interface BestSettings {
  readonly preference: number
  readonly misfit: number
  readonly setUp: Omit<ResolvedSetUp, 'depth' | 'seatWidthMm'>
}

/**
 * Weighs every set-up of the catalogue for one person without visiting each: what a rule or a cost does not depend on is
 * not repeated for it. Rearward and forward angles ignore width, depth and rests; footrests, back and armrest are each
 * best on their own once cushion, height and axle are fixed. Counts are products, so the answer, the excluded counts
 * included, equals plain enumeration (proved by a property test).
 */
export const searchCatalogue = (sitter: Sitter, needs: Needs, catalogue: Catalogue, policy: Policy): Found => {
  const candidates: Candidate[] = []
  const excluded: ExcludedRow[] = []
  let [considered, ranked] = [0, 0]
  for (const model of catalogue.models) {
    const tally = new Tally()
    candidates.push(...searchModel({ sitter, needs, model, policy, pins: {}, tally }))
    considered += setUpCount(model)
    ranked += setUpCount(model) - tally.setUps
    excluded.push(...tally.rows(model.key))
  }
  // Sorting is stable: equal misfits stay in catalogue order.
  candidates.sort((a, b) => a.misfit - b.misfit)
  return { candidates, excluded, considered, ranked }
}

/**
 * The best settings for one chair as taken from stock. Rules about the chair and its size are not asked here: a chosen
 * chair of the wrong size still has settings, and its broken rule is a hold of its own. Undefined when no setting keeps
 * the rules that settings can keep.
 */
export const bestSettings = (
  sitter: Sitter,
  needs: Needs,
  stock: Stock,
  pins: Pins,
  policy: Policy,
): ResolvedSetUp | undefined => {
  const { model, cushion, seatWidthMm, depth } = stock
  const search = { sitter, needs, model, policy, pins, tally: new Tally() }
  const best = searchCushion(search, cushion, [seatWidthMm], 1).get(seatWidthMm)
  return best && { ...best.setUp, seatWidthMm, depth }
}

const searchModel = (search: ModelSearch): Candidate[] => {
  const { sitter, needs, model, policy, tally } = search
  const total = setUpCount(model)
  const broken = modelRule(sitter, model, policy)
  if (broken) {
    tally.add(broken, total, shortOfModel(broken, sitter, model.capacityKg))
    return []
  }
  let each = total / model.seatWidthsMm.length
  const widths = model.seatWidthsMm.filter(width => {
    const rule = widthRule(sitter, needs, model, width, policy)
    if (rule) tally.add(rule, each, shortOfWidth(rule, sitter, needs, model, width, policy))
    return rule === undefined
  })
  each = (each * widths.length) / model.seatDepths.length
  const depths = model.seatDepths.filter(depth => {
    const rule = depthRule(needs, depth.valueMm)
    if (rule) tally.add(rule, each, shortOfDepth(rule, needs, depth.valueMm))
    return rule === undefined
  })
  each = (each * depths.length) / model.cushions.length
  const cushions = model.cushions.filter(cushion => {
    const rule = cushionRule(needs, cushion)
    if (rule) tally.add(rule, each, 0)
    return rule === undefined
  })
  if (widths.length === 0 || depths.length === 0) return []
  const bestByCushion = cushions.map(cushion => ({
    cushion,
    byWidth: searchCushion(search, cushion, widths, depths.length),
  }))
  return widths.flatMap(seatWidthMm =>
    depths.flatMap(depth =>
      bestByCushion.flatMap(({ cushion, byWidth }): Candidate[] => {
        const best = byWidth.get(seatWidthMm)
        if (!best) return []
        const size = widthCost(needs, seatWidthMm, policy) + depthCost(needs, depth.valueMm)
        const misfit = best.misfit + size + cushionCost(needs, cushion)
        return [{ setUp: { ...best.setUp, seatWidthMm, depth }, misfit }]
      }),
    ),
  )
}

/** Index and cost of the cheapest value; the first of equals. */
export const cheapest = <Value>(
  values: readonly Value[],
  cost: (value: Value) => number,
): { index: number; cost: number } => {
  let best = { index: -1, cost: Number.POSITIVE_INFINITY }
  for (const [index, value] of values.entries()) {
    const one = cost(value)
    if (one < best.cost) best = { index, cost: one }
  }
  return best
}

/** Every value, or the pinned one alone. */
export const valuesOr = <Value>(all: readonly Value[], pinned: Value | undefined): readonly Value[] =>
  pinned === undefined ? all : [pinned]

export const keyed = <Row extends { readonly key: string }>(
  rows: readonly Row[],
  pinned: string | undefined,
): readonly Row[] => (pinned === undefined ? rows : rows.filter(row => row.key === pinned))

/** Best settings for each passing width with one cushion. */
const searchCushion = (
  search: ModelSearch,
  cushion: ResolvedSetUp['cushion'],
  widths: readonly number[],
  depthCount: number,
): Map<number, BestSettings> => {
  const { sitter, needs, model, policy, pins, tally } = search
  const feet = {
    left: valuesOr(footrestValues(model), pins.footrestLeftMm),
    right: valuesOr(footrestValues(model), pins.footrestRightMm),
  }
  const arms = valuesOr(armrestValues(model), pins.armrestMm)
  const backs = keyed(model.backHeights, pins.backHeight)
  const underSeatBonesMm = cushion.loadedMm - model.seatSagMm
  const wantedArm = armrestWantedMm(needs, underSeatBonesMm)
  const arm = cheapest(arms, value => armrestCost(wantedArm, value))
  const window = backWindow(sitter.person, needs, underSeatBonesMm, policy)
  // A bag on the handles hangs at the back height: then, and only then, the back moves the centre of mass.
  const backGroups = sitter.carriesOnHandles ? backs.map(back => [back]) : [backs]
  const restsCount = depthCount * feet.left.length * feet.right.length * arms.length
  const bests = new Map<number, BestSettings>()
  for (const height of keyed(model.seatHeights, pins.seatHeight)) {
    const floor = floorRule(needs, model, height, cushion)
    if (floor) {
      const count = widths.length * restsCount * model.axlePositions.length * backs.length
      tally.add(floor, count, shortOfFloor(needs, { model, height, cushion }))
      continue
    }
    const posed = poseFrame(sitter, model, height, cushion)
    for (const group of backGroups) {
      const back = cheapest(group, one => backCost(window, one.valueMm))
      const chosenBack = group[back.index]
      if (!chosenBack) continue
      const frame = loadPosed(posed, chosenBack.valueMm)
      const count = restsCount * group.length
      for (const { axle, wheels, passing } of passingAxles(search, frame, widths, count)) {
        if (passing.length === 0 || (pins.axle !== undefined && axle.key !== pins.axle)) continue
        const pairCount = (count / feet.left.length / feet.right.length) * passing.length
        const sides = bestFootrests(search, frame, wheels, feet, pairCount)
        if (!sides) continue
        const place = placeCost(sitter, needs, frame, wheels, height, cushion, policy)
        const preference = axlePreference(needs, model, axle, wheels, policy)
        for (const { width, angles } of passing) {
          const misfit = place + elbowCost(angles, policy) + sides.cost + back.cost + arm.cost
          const best = bests.get(width)
          if (best && (best.preference < preference || (best.preference === preference && best.misfit <= misfit)))
            continue
          const { leftMm: footrestLeftMm, rightMm: footrestRightMm } = sides
          const armrestMm = arms[arm.index] ?? null
          const setUp = { model, height, axle, cushion, back: chosenBack, footrestLeftMm, footrestRightMm, armrestMm }
          bests.set(width, { preference, misfit, setUp })
        }
      }
    }
  }
  return bests
}

interface PassingAxle {
  readonly axle: ChairModel['axlePositions'][number]
  readonly wheels: OnWheels
  readonly passing: readonly { readonly width: number; readonly angles: WidthAngles }[]
}

/** The widths that keep every angle with each axle position. `count`: set-ups to each axle position and width. */
const passingAxles = (
  { sitter, needs, policy, tally }: ModelSearch,
  frame: LoadedFrame,
  widths: readonly number[],
  count: number,
): PassingAxle[] => {
  const rows = frame.model.axlePositions.map(axle => {
    const wheels = putOnWheels(frame, axle)
    const onAxle = axleAngles(frame, wheels, policy)
    const rule = axleRule(needs, onAxle)
    if (rule) {
      tally.add(rule, count * widths.length, shortOfAngle(rule, needs, onAxle, undefined))
      return { axle, wheels, passing: [] }
    }
    const passing = widths.flatMap(width => {
      const angles = widthAngles(sitter, needs, frame, wheels, width, policy)
      const sideways = sidewaysRule(needs, angles)
      if (!sideways) return [{ width, angles }]
      tally.add(sideways, count, shortOfAngle(sideways, needs, onAxle, angles))
      return []
    })
    return { axle, wheels, passing }
  })
  if (!needsHoleAhead(needs, frame.model)) return rows
  return rows.map((row, index) => {
    const ahead = rows.slice(index + 1)
    const passing = row.passing.filter(({ width }) =>
      ahead.some(other => other.passing.some(one => one.width === width)),
    )
    tally.add('one-hole-back', count * (row.passing.length - passing.length), 0)
    return { ...row, passing }
  })
}

/** The cheapest plate on each side; undefined when a side has none that passes. `count`: set-ups to each pair of values. */
const bestFootrests = (
  { needs, tally }: ModelSearch,
  frame: LoadedFrame,
  wheels: OnWheels,
  feet: { readonly left: readonly (number | null)[]; readonly right: readonly (number | null)[] },
  count: number,
): { leftMm: number | null; rightMm: number | null; cost: number } | undefined => {
  const side = (name: 'left' | 'right', times: number) => {
    let best: { value: number | null; cost: number } | undefined
    let passing = 0
    for (const value of feet[name]) {
      const rule = footrestRule(needs, frame, wheels, name, value)
      if (rule) {
        tally.add(rule, times, shortOfClearance(rule, needs, frame, wheels, value))
        continue
      }
      passing += 1
      const cost = footrestCost(needs, frame, name, value)
      if (!best || cost < best.cost) best = { value, cost }
    }
    return { best, passing }
  }
  const left = side('left', count * feet.right.length)
  const right = side('right', count * left.passing)
  if (!left.best || !right.best) return undefined
  return { leftMm: left.best.value, rightMm: right.best.value, cost: left.best.cost + right.best.cost }
}
