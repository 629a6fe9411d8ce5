import { type CheckKey, SETTING_KEYS, type SettingKey } from '../chair/chair-model.ts'

/**
 * Which settings each check was made for, and goes stale with (common practice, no source). `size` names the chair, so
 * every check belongs to one chair. The list is generous: looking again costs a minute.
 */
export const SETTINGS_OF_CHECK: Readonly<Record<CheckKey, readonly SettingKey[]>> = {
  wheelsTurnFreely: ['size', 'axle'],
  castersTurnFreely: ['size', 'seatHeight', 'axle'],
  axleNutsTight: ['size', 'axle'],
  fastenersTight: ['size', 'seatHeight', 'axle', 'backHeight', 'footrestLeft', 'footrestRight', 'armrest'],
  tyrePressures: ['size'],
  valvesStraightAndCapped: ['size'],
  brakesHold: ['size', 'seatHeight', 'axle'],
  casterStemsUpright: ['size', 'seatHeight', 'axle'],
  footrestsFirmAndClear: ['size', 'seatHeight', 'axle', 'footrestLeft', 'footrestRight'],
  backTensionEven: ['size', 'backHeight'],
  seatFlat: ['size', 'cushion'],
  armrestsFirm: ['size', 'armrest'],
  antiTipSet: ['size', 'seatHeight', 'axle'],
  nothingSharp: ['size', 'seatHeight', 'axle', 'backHeight', 'footrestLeft', 'footrestRight', 'armrest'],
  foldsAndOpens: ['size', 'seatHeight', 'axle', 'backHeight', 'footrestLeft', 'footrestRight', 'armrest'],
  rollsStraight: ['size', 'seatHeight', 'axle'],
  testRide: ['size', 'seatHeight', 'axle', 'backHeight', 'cushion', 'footrestLeft', 'footrestRight'],
  fitWhileMoving: [...SETTING_KEYS],
  handCheckUnderSeatBones: ['size', 'seatHeight', 'cushion', 'footrestLeft', 'footrestRight'],
}
