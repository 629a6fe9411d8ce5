import type { Hold } from '../../../src/fitting/reason.ts'
import type { Outcome } from '../../../src/outcome/outcome.ts'
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

/** Parts of the case that lack something besides the handover itself: none of it holds, all of it is asked about. */
export const lackingBesideHandover = ({ outcome }: { readonly outcome: Outcome }): Outcome['next'] =>
  outcome.next.filter(lack => lack.section !== 'handover')
