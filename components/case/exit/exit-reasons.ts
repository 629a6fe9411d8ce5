import type { FieldValue } from '../../../src/case/fields.ts'

/** Why a case is closed, the more usual first. */
export const EXIT_REASONS = [
  'no-longer-needed',
  'moved',
  'returned',
  'refused',
  'not-found',
  'died',
] as const satisfies readonly NonNullable<FieldValue<'exit'>>['why'][]
