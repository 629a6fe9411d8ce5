import type { CaseView } from '../../src/case/case-view.ts'
import type { FieldName, FieldValue } from '../../src/case/fields.ts'
import type { Catalogue } from '../../src/chair/chair-model.ts'
import { sayValue } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'
import { chairTitle, cushionTitle, modelIn, sayAxle, saySeatHeight } from './set-up-words.ts'

const sayDecision = (value: FieldValue<'cannotIssue'>): string => {
  if (value === null) return t('choosing.lift')
  const until = value.until ? [currentSpeech().date(value.until)] : []
  return currentSpeech().series([t(`choosing.${value.what}`), ...until, value.why])
}

/** Trail folding 400 × 440, flat foam. */
const sayChosen = (value: FieldValue<'chosenSetUp'>, catalogue: Catalogue): string =>
  t('choosing.sizeWith', {
    ...sizeParts(value, catalogue),
    cushion: cushionTitle(modelIn(catalogue, value.chair), value.cushion),
  })

const sizeParts = (value: FieldValue<'chosenSetUp'>, catalogue: Catalogue) => {
  const model = modelIn(catalogue, value.chair)
  return {
    chair: chairTitle(catalogue, value.chair),
    width: value.seatWidthMm,
    depth: model?.seatDepths.find(one => one.key === value.seatDepth)?.valueMm ?? value.seatDepth,
  }
}

/**
 * Any resolved value in words for somebody who reads it alone: as `sayValue`, and what is kept as keys of the catalogue
 * looked up in it.
 */
export const sayInFull = (field: FieldName, value: unknown, view: CaseView, catalogue: Catalogue): string => {
  const chair = view.values.builtChair ?? view.values.chosenSetUp?.chair ?? ''
  const model = modelIn(catalogue, chair)
  switch (field) {
    case 'chosenSetUp':
      return sayChosen(value as FieldValue<'chosenSetUp'>, catalogue)
    case 'cannotIssue':
      return sayDecision(value as FieldValue<'cannotIssue'>)
    case 'builtChair':
      return chairTitle(catalogue, String(value))
    case 'builtAxle':
      return sayAxle(model, String(value))
    case 'builtSeatHeight':
      return saySeatHeight(model, String(value))
    case 'builtCushion':
      return cushionTitle(model, String(value))
    case 'exit': {
      const exit = value as FieldValue<'exit'>
      return exit
        ? t('followUp.exitResult', { why: t(`followUp.exit ${exit.why}`), date: currentSpeech().date(exit.on) })
        : t('followUp.exitResultOpen')
    }
    case 'birthYear':
      return String(value)
  }
  if (field.startsWith('trained')) {
    const trained = value as FieldValue<'trainedTransfers'>
    return trained.demonstrated ? t('training.shown', { date: currentSpeech().date(trained.on) }) : t('training.told')
  }
  if (field.startsWith('built') && (typeof value === 'number' || value === null))
    return value === null ? t('choosing.off') : t('fit.millimetres', { value })
  return sayValue(field, value)
}
