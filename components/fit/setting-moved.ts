import type { ChosenSetUp } from '../../src/chair/set-up.ts'
import type { HardRule } from '../../src/fitting/rules.ts'
import type { Fitted } from './trial.ts'

/** One setting moved by a person on the drawing or by a control. `footrests`: the plates that are on, both alike. */
export type SettingMoved =
  | { readonly setting: 'axle' | 'cushion'; readonly value: string }
  | { readonly setting: 'footrests'; readonly value: number }
  | { readonly setting: 'footrestLeft' | 'footrestRight'; readonly value: number | null }

export const settingMoved = (detail: SettingMoved): CustomEvent<SettingMoved> =>
  new CustomEvent('setting-moved', { detail, bubbles: true, composed: true })

/** A set-up was tried: nothing is saved. `words` says what stands in its way, for whoever announces it. */
export interface SetUpTried {
  readonly fitted: Fitted
  readonly words: string
}

/** A person wants to keep what was tried: the chosen set-up with the settings moved pinned. */
export interface PinSettings {
  readonly chosen: ChosenSetUp
}

/** What of the drawing shows a broken rule. */
export const MARKED_BY: Readonly<Record<HardRule, readonly string[]>> = {
  'posture-beyond-crew': [],
  'posture-beyond-model': [],
  capacity: [],
  'width-too-narrow': ['width'],
  'width-too-wide': ['width'],
  door: ['door'],
  'depth-too-long': ['kneeGap'],
  'depth-too-short': ['kneeGap'],
  'cushion-relief': [],
  'floor-out-of-reach': [],
  rearward: ['rearward'],
  forward: ['forward'],
  sideways: ['sideways', 'sidewaysLeft', 'sidewaysRight'],
  'one-hole-back': ['hole'],
  'footplate-off': [],
  'footplate-in-the-way': [],
  'ground-clearance': ['clearance'],
}

declare global {
  interface HTMLElementEventMap {
    'setting-moved': CustomEvent<SettingMoved>
    'set-up-tried': CustomEvent<SetUpTried>
    'pin-settings': CustomEvent<PinSettings>
  }
}
