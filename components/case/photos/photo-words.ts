import type { PhotoOfCase } from '../../../src/case/photos.ts'
import type { AppCasebook } from '../../app/context.ts'
import { inside, sayName } from '../../text/say-value.ts'
import { currentSpeech, t } from '../../text/text.ts'

/** What a photo is called: what it shows, when, by whom. */
export const sayPhoto = ({ shows, on, by }: PhotoOfCase, casebook: AppCasebook): string =>
  t('photos.name', { shows: t(`photos.shows ${shows}`), date: currentSpeech().date(on), who: sayName(casebook, by) })

/** In a row of the case: skin, 12 May 2026. */
export const sayPhotoShort = ({ shows, on }: PhotoOfCase): string =>
  currentSpeech().series([inside(t(`photos.shows ${shows}`)), currentSpeech().date(on)])
