import type { Wording } from '../text.ts'
import { app } from './app.ts'
import { ask, askHint } from './assessment.ts'
import { checking, checkState } from './checking.ts'
import { choosing, lever, settingIn, tolerance } from './choosing.ts'
import { crew } from './crew.ts'
import { difference } from './differences.ts'
import { door } from './door.ts'
import { due } from './dues.ts'
import { failure, issue, parted, unmet } from './failures.ts'
import { field } from './fields.ts'
import { fit, reason } from './fit.ts'
import { fitting, training } from './fitting-person.ts'
import { dueRule, dueState, followUp, upkeep } from './follow-up.ts'
import { form } from './form.ts'
import { frame } from './frame.ts'
import { handOn } from './hand-on.ts'
import { handing } from './handover.ts'
import { hold, rule } from './holds.ts'
import { doubt, measuring } from './measuring.ts'
import { nearby } from './nearby.ts'
import { option, optionHint } from './options.ts'
import { given, paper } from './paper.ts'
import { people, referral, row } from './people.ts'
import { photos } from './photos.ts'
import { preparing, step, stepState, tool } from './preparing.ts'
import { ready, settings } from './settings.ts'
import { source, standing, sum, sumInput, sumValue } from './sum.ts'
import { codes } from './two-codes.ts'
import { twoPhones } from './two-phones.ts'
import { unit } from './units.ts'

/** French, key by key what the English says. */
export const fr: Wording = {
  app,
  ask,
  askHint,
  checking,
  checkState,
  choosing,
  crew,
  codes,
  difference,
  doubt,
  door,
  due,
  dueRule,
  dueState,
  failure,
  field,
  fit,
  fitting,
  followUp,
  form,
  frame,
  given,
  handing,
  handOn,
  hold,
  issue,
  lever,
  measuring,
  nearby,
  option,
  optionHint,
  paper,
  parted,
  people,
  photos,
  preparing,
  ready,
  reason,
  referral,
  row,
  rule,
  settingIn,
  settings,
  source,
  standing,
  step,
  stepState,
  sum,
  sumInput,
  sumValue,
  tolerance,
  tool,
  training,
  twoPhones,
  unit,
  unmet,
  upkeep,
}
