import { html, type TemplateResult } from 'lit'
import { sayError } from '../text/say-failure.ts'
import { t } from '../text/text.ts'
import type { AppContext, Route } from './context.ts'
import type { Preferences } from './preferences.ts'
import type { Session } from './session.ts'
import { twoCodesPort } from './two-codes-port.ts'
import type { UpdateController } from './update.ts'

/** What a page may be given. */
export interface PageParts {
  readonly context: AppContext
  readonly session: Session | undefined
  readonly preferences: Preferences | undefined
  readonly update: UpdateController
  /** Called when the code of a page has come, or has not. */
  arrived(): void
}

type PageName = Exclude<Route['page'], 'people'>

/** The code of each page, fetched when it is first opened: the list must not wait for it. */
const LOADERS: Readonly<Record<PageName, () => Promise<unknown>>> = {
  case: () => import('../case/spoke-case.ts'),
  'new-referral': () => import('../people/spoke-new-referral.ts'),
  ready: () => import('./spoke-ready.ts'),
  'hand-on': () => import('./spoke-hand-on.ts'),
  nearby: () => import('../meeting/spoke-nearby.ts'),
  'two-codes': () => import('../meeting/spoke-two-codes.ts'),
  crew: () => import('../crew/spoke-crew.ts'),
  settings: () => import('./spoke-settings.ts'),
  print: () => import('../paper/spoke-paper.ts'),
}

const states = new Map<PageName, 'coming' | 'there' | { readonly reason: string }>()

const load = async (page: PageName, arrived: () => void): Promise<void> => {
  states.set(page, 'coming')
  try {
    await LOADERS[page]()
    states.set(page, 'there')
  } catch (error) {
    states.set(page, { reason: sayError(error) })
  }
  arrived()
}

/** The page of a route: opening, there, or failed in words with a way to try again. */
export const pageOf = (route: Exclude<Route, { page: 'people' }>, parts: PageParts): TemplateResult => {
  const state = states.get(route.page)
  if (state === undefined) void load(route.page, parts.arrived)
  if (state === undefined || state === 'coming') return html`<p class="blank" role="status">${t('app.loading')}</p>`
  if (state !== 'there')
    return html`<div class="blank stack">
      <p class="notice danger" role="alert">${t('app.failed', { reason: state.reason })}</p>
      <button @click=${() => void load(route.page, parts.arrived)}>${t('app.tryAgain')}</button>
    </div>`
  return there(route, parts)
}

const there = (route: Exclude<Route, { page: 'people' }>, parts: PageParts): TemplateResult => {
  const { session, preferences, update } = parts
  switch (route.page) {
    case 'case':
      return html`<spoke-case .caseId=${route.caseId} .section=${route.section}></spoke-case>`
    case 'new-referral':
      return html`<spoke-new-referral></spoke-new-referral>`
    case 'ready':
      return html`<spoke-ready .session=${session} .offlineCopy=${update.offlineCopy}></spoke-ready>`
    case 'nearby':
      return html`<spoke-nearby></spoke-nearby>`
    case 'hand-on':
      return html`<spoke-hand-on .session=${session}></spoke-hand-on>`
    case 'two-codes':
      return html`<spoke-two-codes .port=${twoCodesPort(session, parts.context.casebook)}></spoke-two-codes>`
    case 'crew':
      return html`<spoke-crew></spoke-crew>`
    case 'settings':
      return html`<spoke-settings .session=${session} .preferences=${preferences}></spoke-settings>`
    case 'print':
      return html`<spoke-paper .what=${route.what} .caseId=${route.caseId}></spoke-paper>`
  }
}
