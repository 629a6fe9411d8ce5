import type { Catalogue } from '../../../src/chair/chair-model.ts'
import type { StaleCheck } from '../../../src/preparation/checks.ts'
import { stepTitle } from '../../preparation/sheet-words.ts'
import { atStart } from '../../text/say-value.ts'
import { currentSpeech, t } from '../../text/text.ts'
import { modelIn, saySettingText } from '../set-up-words.ts'

/** Why a check is asked again: which setting changed from what to what, or which work was done since. `many`: said of several checks. */
export const staleWords = (
  { changed, workedOnSince }: StaleCheck,
  catalogue: Catalogue,
  chair: string,
  many = false,
): readonly string[] => {
  const model = modelIn(catalogue, chair)
  return [
    ...changed.map(({ setting, from, to }) => {
      const say = (text: string): string => saySettingText(catalogue, chair, setting, text)
      const name = t(`settingIn.${setting}`)
      return atStart(
        from === null
          ? t('checking.changedUnsaid', { setting: name, to: say(to) })
          : t(many ? 'checking.changed' : 'checking.changedFrom', { setting: name, from: say(from), to: say(to) }),
      )
    }),
    ...workedOnSince.map(({ step, on }) => {
      const own = model?.steps.find(one => one.key === step)
      const title = stepTitle({
        key: step,
        title: own?.title ?? step,
        source: own ? 'chair-papers' : 'common-practice',
      })
      return t('checking.workedOn', { step: title, date: currentSpeech().date(on) })
    }),
  ]
}
