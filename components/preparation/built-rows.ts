import type { CaseView } from '../../src/case/case-view.ts'
import type { FieldValue } from '../../src/case/fields.ts'
import type { Catalogue, ChairModel } from '../../src/chair/chair-model.ts'
import type { SetUp } from '../../src/chair/set-up.ts'
import { cushionTitle, sayAxle, sayMm, saySeatHeight } from '../case/set-up-words.ts'
import { t } from '../text/text.ts'

export const BUILT_FIELDS = [
  'builtChair',
  'builtSeatWidthMm',
  'builtSeatDepthMm',
  'builtSeatHeight',
  'builtAxle',
  'builtBackHeightMm',
  'builtCushion',
  'builtFootrestLeftMm',
  'builtFootrestRightMm',
  'builtArmrestMm',
] as const
export type BuiltField = (typeof BUILT_FIELDS)[number]
export type BuiltValue = FieldValue<BuiltField>

/** What was read from the chair of this model: what was read from another says nothing about it. */
export const readFrom = (values: CaseView['values'], chair: string): CaseView['values'] =>
  values.builtChair === undefined || values.builtChair === chair ? values : {}

interface Named {
  readonly value: BuiltValue
  readonly words: string
}

/** One thing to read from the chair: what the sheet says, and what else it can be. */
export interface BuiltRow {
  readonly field: BuiltField
  readonly sheet: Named
  /** The others by name; a length that is none of them is typed. */
  readonly others: readonly Named[]
  readonly takesMm: boolean
}

const sayMmOrOff = (value: number | null): string => (value === null ? t('preparing.isOff') : sayMm(value))

/** What is to be read from a chair of this model, in the order in which it is walked around. */
export const builtRows = (catalogue: Catalogue, model: ChairModel, setUp: SetUp): readonly BuiltRow[] => {
  const depth = model.seatDepths.find(one => one.key === setUp.seatDepth)?.valueMm
  const back = model.backHeights.find(one => one.key === setUp.backHeight)?.valueMm
  const keyed = (
    field: BuiltField,
    sheet: string,
    keys: readonly string[],
    say: (key: string) => string,
  ): BuiltRow => ({
    field,
    sheet: { value: sheet, words: say(sheet) },
    others: keys.filter(key => key !== sheet).map(value => ({ value, words: say(value) })),
    takesMm: false,
  })
  const length = (field: BuiltField, sheet: number | null, canBeOff = false): BuiltRow => ({
    field,
    sheet: { value: sheet, words: sayMmOrOff(sheet) },
    others: canBeOff && sheet !== null ? [{ value: null, words: sayMmOrOff(null) }] : [],
    takesMm: true,
  })
  const chairs = catalogue.models.map(one => one.key)
  const titleOf = (key: string): string => catalogue.models.find(one => one.key === key)?.title ?? key
  const keysOf = (rows: readonly { readonly key: string }[]): readonly string[] => rows.map(row => row.key)
  return [
    keyed('builtChair', setUp.chair, chairs, titleOf),
    length('builtSeatWidthMm', setUp.seatWidthMm),
    ...(depth === undefined ? [] : [length('builtSeatDepthMm', depth)]),
    keyed('builtSeatHeight', setUp.seatHeight, keysOf(model.seatHeights), key => saySeatHeight(model, key)),
    keyed('builtAxle', setUp.axle, keysOf(model.axlePositions), key => sayAxle(model, key)),
    ...(back === undefined ? [] : [length('builtBackHeightMm', back)]),
    keyed('builtCushion', setUp.cushion, keysOf(model.cushions), key => cushionTitle(model, key)),
    length('builtFootrestLeftMm', setUp.footrestLeftMm, true),
    length('builtFootrestRightMm', setUp.footrestRightMm, true),
    length('builtArmrestMm', setUp.armrestMm, true),
  ]
}
