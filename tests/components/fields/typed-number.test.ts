import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { PAD_KEYS, press, withFraction } from '../../../components/fields/number-pad.ts'
import { readTyped } from '../../../components/fields/typed-number.ts'
import { runs } from '../../support/seed.ts'

describe('a number as typed', () => {
  // Digits by the Unicode character database: ARABIC-INDIC U+0660, EXTENDED ARABIC-INDIC U+06F0, DEVANAGARI U+0966,
  // BENGALI U+09E6; ARABIC DECIMAL SEPARATOR U+066B.
  it.each([
    ['368', 368],
    [' 36.5 ', 36.5],
    ['36,5', 36.5],
    ['.5', 0.5],
    ['36.', 36],
    ['-12', -12],
    ['\u0663\u0666\u0668', 368],
    ['\u0663\u0666\u066b\u0665', 36.5],
    ['\u06f3\u06f6\u06f8', 368],
    ['\u0969\u096c\u096e', 368],
    ['\u09e9\u09ec\u09ee', 368],
  ])('%s is read as %d', (text, number) => {
    expect(readTyped(text)).toBe(number)
  })

  it.each(['', '.', 'abc', '1.2.3', '1 234', '1,234,5', '1e3', '7o0', '0x10', '--1'])('%s is no number', text => {
    expect(readTyped(text)).toBeUndefined()
  })

  it('whatever is typed, nothing but a finite number or nothing comes of it', () => {
    fc.assert(
      fc.property(fc.string({ maxLength: 12 }), text => {
        const read = readTyped(text)
        return read === undefined || Number.isFinite(read)
      }),
      runs(200),
    )
  })
})

describe('the pad', () => {
  it('any keys in any order leave a number, or nothing yet', () => {
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...PAD_KEYS), { maxLength: 14 }), keys => {
        const typed = keys.reduce<string>(press, '')
        return typed === '' || readTyped(typed) !== undefined
      }),
      runs(200),
    )
  })

  it('deletes the last digit, takes one point, and no digit beyond what a reading can have', () => {
    expect(['3', '6', '8', 'delete'].reduce((typed, key) => press(typed, key as '3'), '')).toBe('36')
    expect(['3', '.', '.', '5'].reduce((typed, key) => press(typed, key as '3'), '')).toBe('3.5')
    expect('123456789'.split('').reduce((typed, key) => press(typed, key as '3'), '')).toBe('1234567')
  })

  it('puts a fraction behind the whole inches, another in its place', () => {
    expect(withFraction('14', 0.5)).toBe('14.5')
    expect(withFraction('14.5', 0.25)).toBe('14.25')
    expect(withFraction('', 0.75)).toBe('0.75')
  })
})
