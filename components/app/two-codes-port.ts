import type { Met } from '../../sync/transport/two-codes.ts'
import type { TwoCodesPort } from '../meeting/spoke-two-codes.ts'
import type { AppCasebook } from './context.ts'
import type { Session } from './session.ts'

/** The connections themselves, in a piece of code that comes when somebody wants to meet. */
const loadCodes = () => import('./codes-engine.ts')

/** A new attempt to meet by two codes: as one of the crew where a casebook is open, else as somebody to be invited. */
export const beginTwoCodes = async (session: Session | undefined, casebook?: AppCasebook) => {
  const device = session?.device
  if (!device) throw new Error('two codes were begun with no store open')
  const { TwoCodes, standingIn, platformTimer, platformRandom } = await loadCodes()
  return new TwoCodes({
    deviceKey: device.deviceKey,
    ...(casebook ? { casebookId: casebook.casebookId } : {}),
    standing: casebook ? standingIn(() => casebook.crew()) : () => 'unknown',
    timer: platformTimer,
    randomBytes: platformRandom,
  })
}

/** What the page of two codes needs, for the casebook that is open. */
export const twoCodesPort = (session: Session | undefined, casebook: AppCasebook): TwoCodesPort => ({
  begin: () => beginTwoCodes(session, casebook),
  invite: async (met, named) => (await loadCodes()).welcome(casebook, met, named),
})

/** Waits until the one who was met has named this device. */
export const takeWelcome = async (met: Met) => (await loadCodes()).takeWelcome(met)
