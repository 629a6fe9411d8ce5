import { addDays } from '../../../src/calendar-date.ts'
import type { FieldValue } from '../../../src/case/fields.ts'
import { t } from '../../text/text.ts'

type Handover = FieldValue<'handover'>
/** A handover as it is being filled in. */
export type HandoverSaid = { -readonly [Key in keyof Handover]?: Handover[Key] } & { readonly temporary?: boolean }

export interface HandoverErrors {
  readonly on?: string
  readonly until?: string
  readonly serial?: string
  readonly why?: string
}

/** What the form itself lacks, in words beside each field. `why`: why it is handed over with parts left out, where it is. */
export const handoverErrors = (
  said: HandoverSaid,
  today: Handover['handedOverOn'],
  lacking: boolean,
  why: string,
): HandoverErrors => {
  const { handedOverOn: on, temporary, temporaryUntil: until, serialNumber } = said
  return {
    ...(on === undefined ? { on: t('handing.dateNeeded') } : on > today ? { on: t('handing.dateLate') } : {}),
    ...(temporary && until === undefined ? { until: t('handing.untilNeeded') } : {}),
    ...(temporary && until !== undefined && on !== undefined && until < addDays(on, 1)
      ? { until: t('handing.untilEarly') }
      : {}),
    ...((serialNumber ?? '').trim() === '' ? { serial: t('handing.serialNeeded') } : {}),
    ...(lacking && why.trim() === '' ? { why: t('handing.allTheSameNeeded') } : {}),
  }
}

/** The event as it is recorded. */
export const handoverOf = ({ handedOverOn, serialNumber, temporary, temporaryUntil }: HandoverSaid): Handover => {
  if (handedOverOn === undefined) throw new Error('a handover without its day passed the form')
  return {
    handedOverOn,
    ...(serialNumber ? { serialNumber: serialNumber.trim() } : {}),
    ...(temporary && temporaryUntil ? { temporaryUntil } : {}),
  }
}
