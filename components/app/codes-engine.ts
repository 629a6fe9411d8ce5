/** Everything that meets by two codes, in one piece of code: nothing of it is needed before somebody wants to meet. */
export { platformRandom } from '../../sync/secret-keeper.ts'
export { platformTimer } from '../../sync/timer.ts'
export { takeWelcome, welcome } from '../../sync/transport/invitation.ts'
export { standingIn, TwoCodes } from '../../sync/transport/two-codes.ts'
