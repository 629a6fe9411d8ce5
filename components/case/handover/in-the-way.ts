import type { Hold } from '../../../src/fitting/reason.ts'
import { sectionOfHold } from '../say-hold.ts'

/** The part of the case in which a hold is dealt with, those too that only say what is still to be done. */
export const partOfHold = (hold: Hold): string => {
  switch (hold.key) {
    case 'not-chosen':
    case 'no-chair-serves':
      return 'choosing'
    case 'measures-missing':
      return 'measuring'
    case 'build-not-finished':
      return 'preparing'
    default:
      return sectionOfHold(hold)
  }
}
