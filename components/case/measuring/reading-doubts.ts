import { doubtsOf } from '../../../src/body/plausibility.ts'
import type { CalendarDate } from '../../../src/calendar-date.ts'
import type { CaseView } from '../../../src/case/case-view.ts'
import { isFieldName, type Reading, readingValue } from '../../../src/case/fields.ts'
import { personOf, weighedWithOf } from '../../../src/case/person-of.ts'
import type { Doubt } from '../../../src/reason.ts'
import { roundHalfUp, unitFactor } from '../../../src/units.ts'
import { unitsOf } from '../../fields/tape.ts'
import { fieldLabel, ownUnit, quantityOf, sayMeasure, sayNumber, sayReading } from '../../text/say-value.ts'
import { type TextKey, t } from '../../text/text.ts'
import type { MeasureName } from './landmarks.ts'

/** What is unlikely once this reading counts, and was not unlikely without it. */
export const doubtsAbout = (
  view: CaseView,
  field: MeasureName,
  reading: Reading,
  today: CalendarDate,
): readonly Doubt[] => {
  const { [field]: _, ...others } = view.values
  const before = doubtsOf(personOf({ ...view, values: others }, today), today)
  const values = { ...others, [field]: readingValue(field, reading) }
  const known = new Set(before.map(doubt => `${doubt.field} ${doubt.likely}`))
  const person = personOf({ ...view, values }, today)
  const { weighedWith: _weighed, ...alone } = person
  const weighedWith = field === 'massKg' ? weighedWithOf(reading) : person.weighedWith
  return doubtsOf(weighedWith ? { ...alone, weighedWith } : alone, today).filter(
    doubt => doubt.field === field || !known.has(`${doubt.field} ${doubt.likely}`),
  )
}

/** How far from the value a doubt names a re-read unit may come out: doubts name whole mm and tenths of kg. */
const ROUNDING = 0.51

/**
 * The reading that the doubt supposes was meant: the same number in another unit of the tape where that explains it, else
 * another number. Undefined where the doubt is about another field or names no slip. Nothing is mended by itself.
 */
export const readingMeant = (field: MeasureName, reading: Reading, doubt: Doubt): Reading | undefined => {
  const { wouldBe } = doubt
  if (doubt.field !== field || wouldBe === undefined) return undefined
  const quantity = quantityOf(field)
  const unit = [...unitsOf(field), 'm'].find(one => {
    const known = one !== reading.unit && unitFactor(quantity, one) !== undefined
    return known && Math.abs(readingValue(field, { ...reading, unit: one }) - wouldBe) <= ROUNDING
  })
  if (unit !== undefined) return { ...reading, unit }
  // Which of two weighings would be another number cannot be told from what lies between them.
  return reading.less === undefined ? { ...reading, typed: wouldBe, unit: ownUnit(quantity) } : undefined
}

/** 36.5 cm (365 mm); without the second part where the unit is the field's own. */
export const sayBoth = (field: MeasureName, reading: Reading): string => {
  const own = ownUnit(quantityOf(field))
  if (reading.less !== undefined)
    return t('measuring.comesTo', {
      value: sayMeasure(field, roundHalfUp(readingValue(field, reading), 0.1)),
      readings: sayReading(reading),
    })
  if (reading.unit === own) return sayReading(reading)
  return `${sayReading(reading)} (${sayMeasure(field, roundHalfUp(readingValue(field, reading), 0.1))})`
}

/** A doubt as a question or a request, in words. `reading`: as typed, where the doubt is about it. */
export const sayDoubt = (doubt: Doubt, field: MeasureName | undefined, reading?: Reading): string => {
  const isOwn = doubt.field === field
  const ofField = doubt.field as MeasureName
  const meant = field && reading ? readingMeant(field, reading, doubt) : undefined
  const { inputs } = doubt.reason
  const words = t(`doubt.${doubt.likely}` as TextKey, {
    typed:
      isOwn && reading && doubt.reason.rule !== 'weighed-with'
        ? sayReading(reading)
        : typeof doubt.value === 'number'
          ? sayMeasure(ofField, doubt.value)
          : '',
    meant:
      meant && field ? sayBoth(field, meant) : doubt.wouldBe === undefined ? '' : sayMeasure(ofField, doubt.wouldBe),
    apart: sayNumber(Number(inputs.apartMm ?? 0), 'mm'),
    ...lowerAndUpper(inputs),
  })
  return isOwn || !isFieldName(doubt.field) ? words : t('doubt.about', { field: fieldLabel(doubt.field), doubt: words })
}

/** The two heights that a doubt about their order names, lower first. */
const lowerAndUpper = (inputs: Doubt['reason']['inputs']): { readonly lower: string; readonly upper: string } => {
  const [lower = '', upper = ''] = Object.keys(inputs)
    .filter(isFieldName)
    .map(name => fieldLabel(name).toLowerCase())
  return { lower, upper }
}
