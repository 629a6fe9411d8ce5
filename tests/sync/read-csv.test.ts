import { describe, expect, test } from 'vitest'
import { csvOf } from '../../sync/desk/csv.ts'
import { MOST_LINES, readCsv } from '../../sync/desk/read-csv.ts'
import { readCaseTable, readEventTable } from '../../sync/desk/read-tables.ts'
import { testCase } from '../support/case-entries.ts'

const bytes = (text: string) => new TextEncoder().encode(text)
const rows = (text: string) => {
  const { header, lines } = readCsv(bytes(text), 'aaa')
  return [header, ...lines.map(({ cells }) => cells)]
}

describe('CSV as RFC 4180 has it (Shafranovich Y. 2005, section 2, rules 1 to 7)', () => {
  test.each([
    [
      'rule 1',
      'aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n',
      [
        ['aaa', 'bbb', 'ccc'],
        ['zzz', 'yyy', 'xxx'],
      ],
    ],
    [
      'rule 2',
      'aaa,bbb,ccc\r\nzzz,yyy,xxx',
      [
        ['aaa', 'bbb', 'ccc'],
        ['zzz', 'yyy', 'xxx'],
      ],
    ],
    [
      'rule 5',
      '"aaa","bbb","ccc"\r\nzzz,yyy,xxx',
      [
        ['aaa', 'bbb', 'ccc'],
        ['zzz', 'yyy', 'xxx'],
      ],
    ],
    [
      'rule 6',
      '"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx',
      [
        ['aaa', 'b\r\nbb', 'ccc'],
        ['zzz', 'yyy', 'xxx'],
      ],
    ],
    ['rule 7', '"aaa","b""bb","ccc"', [['aaa', 'b"bb', 'ccc']]],
  ])('reads the example of %s', (_, text, expected) => {
    expect(rows(text)).toEqual(expected)
  })

  test('writes lines that end in CRLF, and quotes only what must be (rules 1, 6, 7)', () => {
    expect(csvOf(['aaa', 'b\r\nbb', 'c"cc', 'd,dd'], [['zzz', -1.5, null, 'ü']])).toBe(
      '\uFEFFaaa,"b\r\nbb","c""cc","d,dd"\r\nzzz,-1.5,,ü\r\n',
    )
  })
})

describe('a table of cases that is not as it must be', () => {
  const header = 'case,sex,massKg,presentSore,place'
  const refused = (content: string | Uint8Array) => () =>
    readCaseTable(typeof content === 'string' ? bytes(content) : content)

  test('another encoding is told, not read wrong', () => {
    // Latin-1: é is the single byte E9, which UTF-8 (RFC 3629, section 3) has not. UTF-16: its byte order mark is FF FE.
    const latin = Uint8Array.from([...`${header}\r\n${testCase},,,,Ren`].map(one => one.charCodeAt(0)).concat(0xe9))
    expect(refused(latin)).toThrow(/not in UTF-8.*Nothing was changed.*Save it once more/)
    const wide = Uint8Array.from([0xff, 0xfe, ...[...header].flatMap(one => [one.charCodeAt(0), 0])])
    expect(refused(wide)).toThrow(/not in UTF-8/)
  })

  test.each([';', '\t'])('a spreadsheet that saved it with %j is understood', separator => {
    const text = `${header}\n${testCase},female,61.5,yes,"a, b"`.replace('"a, b"', 'a b').replaceAll(',', separator)
    expect(readCaseTable(bytes(text))).toMatchObject({
      faulty: [],
      rows: [{ case: testCase, values: { sex: 'female', massKg: 61.5, presentSore: true, place: 'a b' } }],
    })
  })

  test('another separator, another table, an empty file: told in words', () => {
    for (const text of [header.replaceAll(',', '|'), 'name,age\r\nx,1', '', '{"case":1}'])
      expect(refused(text)).toThrow(/does not begin with a column "case".*Nothing was changed/)
    expect(refused(`${header},shoeSize\r\n`)).toThrow(/the column "shoeSize" is none of a case/)
    expect(refused(`${header},sex\r\n`)).toThrow(/the column "sex" stands twice/)
    expect(refused(`${header}\r\n${testCase},female,61,yes,"Dorrow\r\n`)).toThrow(/line 2: .*quotation mark/)
    expect(() => readEventTable(bytes('case,entry,field,value\r\n'))).toThrow(/its columns are not/)
  })

  test('a bad line is named with its column, never with what it says; the others are read', () => {
    const id = (letter: string) => `${letter.repeat(21)}A`
    const lines = [
      `${id('a')},female,61,yes,`,
      `${id('b')},Karuni,61,yes,`,
      `${id('c')},female,"61,5",yes,`,
      `${id('d')},female,61,perhaps,`,
      `${id('e')},female,61`,
      'nobody,female,61,yes,',
      `${id('a')},male,61,yes,`,
      `${id('f')},female,=60+1,yes,`,
      '',
      `${id('g')},male,,,'=Dorrow`,
    ]
    const { rows: read, faulty } = readCaseTable(bytes([header, ...lines].join('\r\n')))
    expect(read.map(one => [one.case, one.values])).toEqual([
      [id('a'), { sex: 'female', massKg: 61, presentSore: true }],
      [id('g'), { sex: 'male', place: '=Dorrow' }],
    ])
    expect(faulty).toEqual([
      { line: 3, why: 'sex is not what a choice of that name can be' },
      { line: 4, why: 'massKg is not a number with a decimal point' },
      { line: 5, why: 'presentSore is neither yes nor no' },
      { line: 6, why: '3 cells under a header of 5 columns' },
      { line: 7, why: 'case is not the id of a case' },
      { line: 8, why: 'the case stands on a line before' },
      { line: 9, why: 'massKg is not a number with a decimal point' },
    ])
  })

  test('a million lines are refused after as many as any team has', () => {
    expect(refused(`case,sex\r\n${'x,male\r\n'.repeat(1_000_000)}`)).toThrow(`has more than ${MOST_LINES} lines`)
  })

  test('what is none has no parts', () => {
    const text = `case,exit,exit.on\r\n${testCase},none,2026-01-09\r\n`
    expect(readCaseTable(bytes(text))).toEqual({ rows: [], faulty: [{ line: 2, why: 'exit is none and has parts' }] })
  })
})
