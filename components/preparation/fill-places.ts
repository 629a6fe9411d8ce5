import type { AppCasebook } from '../app/context.ts'

/** Where the tyres are pumped and where the chair is used, as typed. */
export const PLACE_PARTS = ['hereCelsius', 'hereAltitudeM', 'thereCelsius', 'thereAltitudeM'] as const
export type PlacePart = (typeof PLACE_PARTS)[number]
export type Places = { readonly [Part in PlacePart]?: string }

/** The day's chairs are pumped in one place and mostly go to one valley: typed once for all of them. Gone with the page. */
const typed = new WeakMap<AppCasebook, Places>()

export const fillPlaces = (casebook: AppCasebook): Places => typed.get(casebook) ?? {}

export const keepFillPlace = (casebook: AppCasebook, part: PlacePart, text: string): void => {
  typed.set(casebook, { ...fillPlaces(casebook), [part]: text })
}

/** What such air can be on land: as for a reading of a tyre. */
const POSSIBLE: Readonly<Record<PlacePart, readonly [least: number, most: number]>> = {
  hereCelsius: [-40, 60],
  hereAltitudeM: [-450, 6000],
  thereCelsius: [-40, 60],
  thereAltitudeM: [-450, 6000],
}

export const possiblePlace = (part: PlacePart): readonly [least: number, most: number] => POSSIBLE[part]
export const isPossiblePlace = (part: PlacePart, value: number): boolean => {
  const [least, most] = POSSIBLE[part]
  return value >= least && value <= most
}
