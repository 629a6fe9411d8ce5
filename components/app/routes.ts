import { caseIdSchema } from '../../src/ids.ts'
import type { Route } from './context.ts'

const PRINTS = ['build-sheet', 'day', 'handover', 'summary', 'label'] as const

/** The route that an address names; anything it does not name is the list of people. */
export const routeOf = (hash: string): Route => {
  const [page, first, second] = hash.replace(/^#\/?/, '').split('/')
  const caseId = (text: string | undefined) => caseIdSchema.safeParse(text).data
  if (
    page === 'new-referral' ||
    page === 'ready' ||
    page === 'hand-on' ||
    page === 'nearby' ||
    page === 'crew' ||
    page === 'two-codes' ||
    page === 'settings'
  )
    return { page }
  if (page === 'case') {
    const id = caseId(first)
    if (id) return { page: 'case', caseId: id, section: second ?? null }
  }
  if (page === 'print') {
    const what = PRINTS.find(one => one === first)
    if (what) return { page: 'print', what, caseId: caseId(second) ?? null }
  }
  return { page: 'people' }
}

/** The address of a route: random ids only, nothing about a person. */
export const addressOf = (route: Route): string => {
  if (route.page === 'case') return `#/case/${route.caseId}${route.section ? `/${route.section}` : ''}`
  if (route.page === 'print') return `#/print/${route.what}${route.caseId ? `/${route.caseId}` : ''}`
  return `#/${route.page}`
}

export const goTo = (route: Route): void => {
  location.hash = addressOf(route)
}
