import { describe, expect, it } from 'vitest'
import { guardText, unguardText } from '../../../src/table/formula-guard.ts'

describe('words that a spreadsheet would compute', () => {
  // OWASP, CSV Injection: cells that begin with = + - @, tab, carriage return, line feed or the full-width forms.
  it.each(['=', '+', '-', '@', '\t', '\r', '\n', '\uFF1D', '\uFF0B', '\uFF0D', '\uFF20'])(
    'get an apostrophe when they begin with %j, and lose it when read',
    sign => {
      const text = `${sign}HYPERLINK("x")`
      expect(guardText(text)).toBe(`'${text}`)
      expect(unguardText(`'${text}`)).toBe(text)
    },
  )

  it.each(['Dorrow', '12 Low Road', "o'Dorrow", "'quoted'", 'a=b', ''])('%j stays as it is, both ways', text => {
    expect(guardText(text)).toBe(text)
    expect(unguardText(text)).toBe(text)
  })

  it('an apostrophe that was typed before such a sign comes back', () => {
    expect(guardText("'=1+1")).toBe("''=1+1")
    expect(unguardText("''=1+1")).toBe("'=1+1")
  })
})
