import type { ReactiveController, ReactiveControllerHost } from 'lit'
import type { CaseView } from '../../src/case/case-view.ts'
import { FIELD_NAMES, type FieldName, fieldOf } from '../../src/case/fields.ts'
import type { DeviceId } from '../../src/ids.ts'
import { announce } from '../app/announce.ts'
import type { AppCasebook } from '../app/context.ts'
import { sayWho } from '../text/say-value.ts'
import { t } from '../text/text.ts'
import { sayFew } from './say-hold.ts'

interface News {
  readonly by: DeviceId
  readonly fields: readonly FieldName[]
}

/** Statements of other devices that `after` has and `before` had not, under the section of their fields. */
const newsBetween = (before: CaseView, after: CaseView, own: DeviceId): ReadonlyMap<string, News> => {
  const news = new Map<string, News>()
  for (const field of FIELD_NAMES) {
    const known = new Set((before.heads[field] ?? []).map(head => head.id))
    const fresh = (after.heads[field] ?? []).filter(head => head.by !== own && !known.has(head.id))
    const by = fresh.at(-1)?.by
    if (by === undefined) continue
    const { section } = fieldOf(field)
    news.set(section, { by, fields: [...(news.get(section)?.fields ?? []), field] })
  }
  return news
}

/** Remembers, in words, what came in from others while a case was on screen, until the part that it is about is opened. */
export class NewsController implements ReactiveController {
  #shown: CaseView | undefined
  readonly #words = new Map<string, string>()

  constructor(host: ReactiveControllerHost) {
    host.addController(this)
  }

  hostConnected(): void {}

  /** Called from `willUpdate` with what the host shows. */
  take(casebook: AppCasebook | undefined, view: CaseView | undefined, open: string | null): void {
    const before = this.#shown
    this.#shown = view
    if (view?.caseId !== before?.caseId) this.#words.clear()
    else if (casebook && view && before && view !== before)
      for (const [section, { by, fields }] of newsBetween(before, view, casebook.device)) {
        const words = t('frame.cameIn', { who: sayWho(casebook, by), fields: sayFew(fields) })
        this.#words.set(section, words)
        announce(words)
      }
    if (open !== null) this.#words.delete(open)
  }

  /** What came in for a part; empty where nothing did. */
  of(section: string): string {
    return this.#words.get(section) ?? ''
  }
}
