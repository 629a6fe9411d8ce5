import type { METHODS, NamesOfKind } from '../../src/case/fields.ts'
import type { Quantity } from '../../src/units.ts'
import { ownUnit, quantityOf } from '../text/say-value.ts'

type MeasureName = NamesOfKind<'measure'>
export type Method = (typeof METHODS)[number]

/** Units that tapes, scales and gauges of the field are marked in. */
const UNITS: { readonly [Name in Quantity]?: readonly string[] } = {
  length: ['mm', 'cm', 'in'],
  mass: ['kg', 'lb'],
  pressure: ['kPa', 'bar', 'psi'],
}

export const unitsOf = (name: MeasureName): readonly string[] => {
  const quantity = quantityOf(name)
  return UNITS[quantity] ?? [ownUnit(quantity)]
}

/** How a field is usually measured, the usual way first. */
export const methodsOf = (name: MeasureName): readonly Method[] => {
  if (name === 'hipWidthMm' || name === 'biacromialMm') return ['tape', 'callipers', 'books']
  if (name === 'statureMm') return ['tape', 'from-segments', 'reported']
  if (name === 'scaleFrontKg' || name === 'scaleRearKg') return ['two-scales']
  const quantity = quantityOf(name)
  if (name === 'massKg') return ['scale', 'scale-in-chair', 'scale-in-arms', 'guessed', 'reported']
  if (quantity === 'mass') return ['scale', 'guessed', 'reported']
  if (quantity === 'angle') return ['angle-gauge', 'phone-level', 'guessed']
  return ['tape', 'callipers']
}

/** The unit and the way that were used last, by quantity: the same tape is in the hand all day. Gone with the page. */
const lastUnit = new Map<Quantity, string>()
const lastMethod = new Map<string, Method>()

export const usualUnit = (name: MeasureName): string => lastUnit.get(quantityOf(name)) ?? ownUnit(quantityOf(name))
export const rememberUnit = (name: MeasureName, unit: string): void => {
  lastUnit.set(quantityOf(name), unit)
}

export const usualMethod = (name: MeasureName): Method => {
  const methods = methodsOf(name)
  const last = lastMethod.get(methods.join(' '))
  return last ?? methods[0] ?? 'tape'
}
/** A guess is never the usual way, nor is being held. */
export const rememberMethod = (name: MeasureName, method: Method): void => {
  if (method !== 'guessed' && method !== 'scale-in-arms') lastMethod.set(methodsOf(name).join(' '), method)
}
