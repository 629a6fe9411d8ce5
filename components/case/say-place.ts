import type { PlaceOfOther } from '../../sync/transport/presence.ts'
import { sayWho } from '../text/say-value.ts'
import { t } from '../text/text.ts'
import type { CaseFacts } from './case-section.ts'
import { caseSection } from './section-registry.ts'

/** Who else has this case open, and at which part of it. */
export const sayPlace = ({ casebook }: CaseFacts, { device, section }: PlaceOfOther): string => {
  const who = casebook ? sayWho(casebook, device) : t('form.unknownDevice')
  const part = section === null ? undefined : caseSection(section)
  return part ? t('nearby.hasOpenAt', { who, part: t(part.title) }) : t('nearby.hasOpen', { who })
}
