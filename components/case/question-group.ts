import type { FieldName } from '../../src/case/fields.ts'
import type { en } from '../text/en/index.ts'

/** A short question and the fields that answer it; answered and saved together. */
export interface QuestionGroup {
  readonly key: keyof (typeof en)['ask']
  readonly fields: readonly FieldName[]
}
