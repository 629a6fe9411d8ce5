import type { AsBuilt } from '../../src/chair/as-built.ts'
import type { SettingKey } from '../../src/chair/chair-model.ts'
import type { ResolvedSetUp } from '../../src/chair/set-up.ts'
import { changesFrom, isOtherChair } from '../../src/preparation/built-difference.ts'

/** The chair as far as it was read, where it stands otherwise than the set-up beside it. What was not read is taken as recommended. */
export interface Built {
  readonly setUp: ResolvedSetUp
  /** Settings read that differ by more than a tape does. */
  readonly differs: ReadonlySet<SettingKey>
}

/** Undefined when nothing was read, or another model was: that cannot be laid over this one. */
export const builtBeside = (target: ResolvedSetUp, built: AsBuilt | undefined): Built | undefined => {
  if (!built || Object.keys(built).length === 0 || isOtherChair(target, built)) return undefined
  const { model } = target
  const differs = new Set(
    [...changesFrom(target, built).values()].filter(one => one.from !== null).map(one => one.setting),
  )
  const keyed = <Row extends { readonly key: string }>(rows: readonly Row[], key: string | undefined, or: Row): Row =>
    rows.find(row => row.key === key) ?? or
  const measured = <Row extends { readonly valueMm: number }>(row: Row, valueMm: number | undefined): Row =>
    valueMm === undefined ? row : { ...row, valueMm }
  const orTarget = <Value>(read: Value | undefined, or: Value): Value => (read === undefined ? or : read)
  return {
    differs,
    setUp: {
      ...target,
      seatWidthMm: built.seatWidthMm ?? target.seatWidthMm,
      depth: measured(keyed(model.seatDepths, built.seatDepth, target.depth), built.seatDepthMm),
      height: keyed(model.seatHeights, built.seatHeight, target.height),
      axle: keyed(model.axlePositions, built.axle, target.axle),
      back: measured(keyed(model.backHeights, built.backHeight, target.back), built.backHeightMm),
      cushion: keyed(model.cushions, built.cushion, target.cushion),
      footrestLeftMm: orTarget(built.footrestLeftMm, target.footrestLeftMm),
      footrestRightMm: orTarget(built.footrestRightMm, target.footrestRightMm),
      armrestMm: orTarget(built.armrestMm, target.armrestMm),
    },
  }
}
