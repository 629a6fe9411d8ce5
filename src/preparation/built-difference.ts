import type { AsBuilt } from '../chair/as-built.ts'
import { type ChairModel, SETTING_KEYS, type SettingKey } from '../chair/chair-model.ts'
import { type ResolvedSetUp, settingTexts, toSetUp } from '../chair/set-up.ts'

/** A reading by tape this close to the value aimed at is that value (project value; steps of chairs are 10 mm and more). */
export const READING_TOLERANCE_MM = 3

/** What is to become of one setting. `from` null: new, or not read from the chair yet. */
export interface SettingChange {
  readonly setting: SettingKey
  readonly from: string | null
  readonly to: string
}

/** One setting as read: its text, and whether it is what is aimed at. Undefined: not read. */
type Read = { readonly text: string; readonly same: boolean } | undefined

const isNear = (readMm: number, wantedMm: number): boolean => Math.abs(readMm - wantedMm) <= READING_TOLERANCE_MM

const readKey = (read: string | undefined, wanted: string): Read =>
  read === undefined ? undefined : { text: read, same: read === wanted }

const readMmOrOff = (read: number | null | undefined, wanted: number | null): Read => {
  if (read === undefined) return undefined
  if (read === null || wanted === null) return { text: read === null ? 'off' : `${read}`, same: read === wanted }
  return { text: `${read}`, same: isNear(read, wanted) }
}

/** A size known by its key, by its millimetres or by both: both have to agree. */
const readKeyOrMm = (
  key: string | undefined,
  mm: number | undefined,
  wanted: { key: string; valueMm: number },
): Read => {
  const byKey = readKey(key, wanted.key)
  if (mm === undefined) return byKey
  return { text: `${mm}`, same: isNear(mm, wanted.valueMm) && (byKey?.same ?? true) }
}

const readSize = (built: AsBuilt, target: ResolvedSetUp): Read => {
  const depth = readKeyOrMm(built.seatDepth, built.seatDepthMm, target.depth)
  const width = readMmOrOff(built.seatWidthMm, target.seatWidthMm)
  const text = `${built.chair ?? target.model.key} ${width?.text ?? '?'} x ${depth?.text ?? '?'}`
  if (width?.same === false || depth?.same === false) return { text, same: false }
  return width && depth ? { text, same: true } : undefined
}

const readSetting = (setting: SettingKey, built: AsBuilt, target: ResolvedSetUp): Read => {
  switch (setting) {
    case 'size':
      return readSize(built, target)
    case 'seatHeight':
      return readKey(built.seatHeight, target.height.key)
    case 'axle':
      return readKey(built.axle, target.axle.key)
    case 'backHeight':
      return readKeyOrMm(built.backHeight, built.backHeightMm, target.back)
    case 'cushion':
      return readKey(built.cushion, target.cushion.key)
    case 'footrestLeft':
      return readMmOrOff(built.footrestLeftMm, target.footrestLeftMm)
    case 'footrestRight':
      return readMmOrOff(built.footrestRightMm, target.footrestRightMm)
    case 'armrest':
      return readMmOrOff(built.armrestMm, target.armrestMm)
  }
}

/** True when the chair read is another model than the one aimed at: nothing on it counts. */
export const isOtherChair = (target: ResolvedSetUp, built: AsBuilt | undefined): boolean =>
  built?.chair !== undefined && built.chair !== target.model.key

/** Every setting that has to be set, or of which nothing was read. Takes any reading, however odd. */
export const changesFrom = (
  target: ResolvedSetUp,
  built: AsBuilt | undefined,
): ReadonlyMap<SettingKey, SettingChange> => {
  const texts = settingTexts(toSetUp(target))
  const counted = built === undefined || isOtherChair(target, built) ? {} : built
  const changes = SETTING_KEYS.flatMap((setting): readonly SettingChange[] => {
    if (setting === 'armrest' && target.model.armrest === undefined) return []
    const read = readSetting(setting, counted, target)
    return read?.same === true ? [] : [{ setting, from: read?.text ?? null, to: texts[setting] }]
  })
  return new Map(changes.map(change => [change.setting, change]))
}

/** Whether moving to an axle hole of the model turns the frame. From a hole that the model does not know it may. */
export const raiseChanges = (model: ChairModel, from: string | null, to: string): boolean => {
  const raiseOf = (key: string | null): number | undefined =>
    model.axlePositions.find(position => position.key === key)?.raiseMm
  return raiseOf(from) !== raiseOf(to)
}
