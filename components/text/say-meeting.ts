import type { GateFailure } from '../../sync/transport/gate.ts'
import type { InvitationFailure } from '../../sync/transport/invitation.ts'
import type { NearbyFailure } from '../../sync/transport/nearby.ts'
import type { ClosedBecause } from '../../sync/transport/transport.ts'
import type { TwoCodesFailure } from '../../sync/transport/two-codes.ts'
import { t } from './text.ts'

/** Every way in which two devices may not meet, by codes, through a hub or at the invitation. */
export type UnmetType = (TwoCodesFailure | NearbyFailure | GateFailure | InvitationFailure)['type']
export type PartedType = ClosedBecause['type']

/** Why two devices did not meet, in the language of the screen. */
export const sayUnmet = ({ type }: { readonly type: UnmetType }): string => t(`unmet.${type}`)

/** Why a connection is over, in the language of the screen. */
export const sayParted = ({ type }: Pick<ClosedBecause, 'type'>): string => t(`parted.${type}`)
