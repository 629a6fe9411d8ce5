import type { MetDevice } from '../../sync/transport/meetings.ts'
import { t } from '../text/text.ts'

/** How far a round of the exchange has come. */
export const sayExchanging = ({ progress }: Pick<MetDevice, 'progress'>): string =>
  progress ? t('codes.exchanging', { done: progress.done, all: progress.of }) : t('codes.comparing')
