import { html } from 'lit'
import { photoAgreementOf } from '../../../src/case/photos.ts'
import { t } from '../../text/text.ts'
import type { CaseFacts, CaseSection, SectionResult } from '../case-section.ts'
import { latestFirst } from './latest-first.ts'
import { sayPhotoShort } from './photo-words.ts'

const resultOf = ({ view }: CaseFacts): SectionResult => {
  const agreement = photoAgreementOf(view)
  const photos = latestFirst(view)
  const [last] = photos
  if (agreement !== 'yes') {
    const why = t(`photos.is ${agreement}`)
    if (!last) return { text: why, left: null }
    return { text: t('photos.resultHidden', { count: photos.length, why }), left: null, calls: 'warn' }
  }
  if (!last) return { text: t('photos.none'), left: null }
  return { text: t('photos.result', { count: photos.length, last: sayPhotoShort(last) }), left: null }
}

export const photosSection: CaseSection = {
  key: 'photos',
  title: 'frame.photos',
  result: resultOf,
  load: () => import('./spoke-photos.ts'),
  render: ({ view, outcome }) => html`<spoke-photos .view=${view} .outcome=${outcome}></spoke-photos>`,
}
