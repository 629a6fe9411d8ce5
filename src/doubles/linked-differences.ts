import type { CaseView, Difference } from '../case/case-view.ts'
import { FIELD_NAMES, fieldOf } from '../case/fields.ts'
import { resolve, type SingleName } from '../case/resolve.ts'
import { compareText } from '../ids.ts'

/**
 * Where the cases of one person say different things, weighed as statements of one case are: readings within tolerance are one
 * value. It is settled by saying the same in each case. What is open within one of the cases is part of it.
 */
export const linkedDifferences = (views: readonly CaseView[]): readonly Difference[] =>
  FIELD_NAMES.flatMap(name => {
    if (fieldOf(name).kind === 'event') return []
    const field = name as SingleName
    const heads = views.flatMap(view => view.heads[field] ?? []).toSorted((a, b) => compareText(a.id, b.id))
    if (heads.length < 2) return []
    const resolution = resolve(field, heads)
    return resolution.type === 'open' ? [{ field, options: resolution.options }] : []
  })
