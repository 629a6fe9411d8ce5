import type { PhotoOfCase } from '../../../src/case/photos.ts'
import type { DeviceId } from '../../../src/ids.ts'
import type { AppCasebook } from '../../app/context.ts'
import { inside } from '../../text/say-value.ts'
import { currentSpeech, t } from '../../text/text.ts'

/** The name alone: under a photo it matters little from which phone it came. */
export const sayTaker = (casebook: AppCasebook, by: DeviceId): string =>
  casebook.crew().members.get(by)?.name ?? t('form.unknownDevice')

/** What a photo is called: what it shows, when, by whom. */
export const sayPhoto = ({ shows, on, by }: PhotoOfCase, casebook: AppCasebook): string =>
  t('photos.name', { shows: t(`photos.shows ${shows}`), date: currentSpeech().date(on), who: sayTaker(casebook, by) })

/** In a row of the case: skin, 12 May 2026. */
export const sayPhotoShort = ({ shows, on }: PhotoOfCase): string =>
  currentSpeech().series([inside(t(`photos.shows ${shows}`)), currentSpeech().date(on)])
