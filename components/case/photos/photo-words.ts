import type { PhotoOfCase } from '../../../src/case/photos.ts'
import type { AppCasebook } from '../../app/context.ts'
import { en } from '../../text/en/index.ts'
import { inside, sayWho } from '../../text/say-value.ts'
import { currentSpeech, type TextKey, t } from '../../text/text.ts'

/** What a photo is called: what it shows, when, by whom. */
export const sayPhoto = ({ shows, on, by }: PhotoOfCase, casebook: AppCasebook): string =>
  t('photos.name', { shows: t(`photos.shows ${shows}`), date: currentSpeech().date(on), who: sayWho(casebook, by) })

/** In a row of the case: skin, 12 May 2026. */
export const sayPhotoShort = ({ shows, on }: PhotoOfCase): string =>
  currentSpeech().series([inside(t(`photos.shows ${shows}`)), currentSpeech().date(on)])

/** Why a photo was not added, in this language; what has no words of its own in the store's. */
export const sayRefused = ({ type, message }: { readonly type: string; readonly message: string }): string =>
  Object.hasOwn(en.photos, `refused ${type}`) ? t(`photos.refused ${type}` as TextKey) : message
