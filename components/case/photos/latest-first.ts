import type { CaseView } from '../../../src/case/case-view.ts'
import { type PhotoOfCase, photosOf } from '../../../src/case/photos.ts'

/** For showing: by the day that was typed, within a day by the clock of who took it, which decides nothing else. */
export const latestFirst = (view: CaseView): readonly PhotoOfCase[] => {
  const clock = new Map((view.heads.photo ?? []).map(({ id, at }) => [id, at]))
  const takenAt = ({ id }: PhotoOfCase): number => clock.get(id) ?? 0
  return photosOf(view).toSorted((a, b) => (a.on === b.on ? takenAt(b) - takenAt(a) : a.on < b.on ? 1 : -1))
}
