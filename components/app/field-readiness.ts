import type { Readiness } from '../../sync/storage/readiness.ts'
import { currentSpeech, type TextKey, t } from '../text/text.ts'
import type { OfflineCopy } from './service-worker.ts'

/** `none`: there is no camera, or the browser does not say. */
export type Camera = 'granted' | 'prompt' | 'denied' | 'none'

/** One thing to have in order before leaving the network. */
export interface ReadyLine {
  readonly key: 'copy' | 'kept' | 'room' | 'camera' | 'handed' | 'chairs' | 'lock'
  readonly isInOrder: boolean
  readonly words: string
  readonly whatToDo: string | null
  readonly ask: 'persist' | 'camera' | null
}

export interface ReadyFacts {
  readonly copy: OfflineCopy
  readonly readiness: Readiness
  readonly camera: Camera
  readonly practice: boolean
  readonly chairCount: number
  /** The browser was asked to keep the store and said no. */
  readonly keptRefused: boolean
}

/** Below this a day of photos may not fit (project value). */
const LOW_ROOM_BYTES = 200_000_000
/** A second copy at least this often (project value): a lost phone then loses two days. */
const HANDED_ON_WITHIN_DAYS = 2

const line = (
  key: ReadyLine['key'],
  isInOrder: boolean,
  words: string,
  whatToDo: TextKey | null = null,
  ask: ReadyLine['ask'] = null,
): ReadyLine => ({ key, isInOrder, words, whatToDo: whatToDo === null ? null : t(whatToDo), ask })

const copyLine = (copy: OfflineCopy): ReadyLine => {
  if (copy === 'in-place') return line('copy', true, t('ready.copyYes'))
  if (copy === 'arriving') return line('copy', false, t('ready.copyArriving'), 'ready.copyArrivingDo')
  if (copy === 'missing') return line('copy', false, t('ready.copyMissing'), 'ready.copyMissingDo')
  return line('copy', false, t('ready.copyImpossible'), 'ready.copyImpossibleDo')
}

const keptLine = (persisted: boolean | null, keptRefused: boolean): ReadyLine => {
  if (persisted === null) return line('kept', false, t('ready.keptUnknown'), 'ready.keptUnknownDo')
  return persisted
    ? line('kept', true, t('ready.keptYes'))
    : line('kept', false, t('ready.keptNo'), keptRefused ? 'ready.keptRefusedDo' : 'ready.keptNoDo', 'persist')
}

const roomLine = ({ usedBytes, quotaBytes }: Readiness): readonly ReadyLine[] => {
  if (usedBytes === null || quotaBytes === null) return []
  const freeBytes = quotaBytes - usedBytes
  const free = currentSpeech().bytes(freeBytes)
  return freeBytes >= LOW_ROOM_BYTES
    ? [line('room', true, t('ready.room', { free }))]
    : [line('room', false, t('ready.roomLow', { free }), 'ready.roomLowDo')]
}

const cameraLine = (camera: Camera): ReadyLine => {
  if (camera === 'granted') return line('camera', true, t('ready.cameraYes'))
  if (camera === 'prompt') return line('camera', false, t('ready.cameraAsk'), 'ready.cameraAskDo', 'camera')
  if (camera === 'denied') return line('camera', false, t('ready.cameraNo'), 'ready.cameraNoDo')
  return line('camera', false, t('ready.cameraNone'), 'ready.cameraNoneDo')
}

const handedLine = ({ daysSinceBundle, daysSinceMeeting }: Readiness, practice: boolean): ReadyLine => {
  if (practice) return line('handed', true, t('ready.handedPractice'))
  const days = [daysSinceBundle, daysSinceMeeting].filter(count => count !== null)
  if (days.length === 0) return line('handed', false, t('ready.handedNever'), 'ready.handedDo')
  const count = Math.max(0, Math.min(...days))
  const words = count === 0 ? t('ready.handedToday') : t('ready.handedDays', { count })
  return count <= HANDED_ON_WITHIN_DAYS ? line('handed', true, words) : line('handed', false, words, 'ready.handedDo')
}

/** What the page says, in its order. */
export const readyLines = ({
  copy,
  readiness,
  camera,
  practice,
  chairCount,
  keptRefused,
}: ReadyFacts): readonly ReadyLine[] => [
  copyLine(copy),
  keptLine(readiness.persisted, keptRefused),
  ...roomLine(readiness),
  cameraLine(camera),
  handedLine(readiness, practice),
  chairCount > 0
    ? line('chairs', true, t('ready.chairs', { count: chairCount }))
    : line('chairs', false, t('ready.chairsNone'), 'ready.chairsNoneDo'),
  line('lock', true, t(practice ? 'ready.passphrasePractice' : 'ready.passphraseYes')),
]
