import { app } from './app.ts'
import { ask, askHint } from './assessment.ts'
import { door } from './door.ts'
import { due } from './dues.ts'
import { field } from './fields.ts'
import { fit, reason, standing, sumInput, sumValue } from './fit.ts'
import { form } from './form.ts'
import { frame } from './frame.ts'
import { hold, rule } from './holds.ts'
import { doubt, measuring } from './measuring.ts'
import { option, optionHint } from './options.ts'
import { people, referral, row } from './people.ts'
import { ready, settings } from './settings.ts'
import { unit } from './units.ts'

/** The English wording, and by its shape the list of what every language must say. */
export const en = {
  app,
  ask,
  askHint,
  doubt,
  door,
  due,
  field,
  fit,
  form,
  frame,
  hold,
  measuring,
  option,
  optionHint,
  people,
  ready,
  reason,
  referral,
  row,
  rule,
  settings,
  standing,
  sumInput,
  sumValue,
  unit,
} as const
