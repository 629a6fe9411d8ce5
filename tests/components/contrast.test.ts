import { readdirSync, readFileSync } from 'node:fs'
import { join, resolve } from 'node:path'
import { describe, expect, it } from 'vitest'
import { type ColourName, DARK, LIGHT, PAPER } from '../../components/styles/tokens.ts'

const ROOT = resolve(import.meta.dirname, '../..')

/**
 * Relative luminance of an sRGB colour: each channel c = C / 255 is c / 12.92 where c <= 0.04045, else
 * ((c + 0.055) / 1.055) ^ 2.4; L = 0.2126 R + 0.7152 G + 0.0722 B. (W3C, Web Content Accessibility Guidelines 2.2, 2023,
 * "relative luminance", with the threshold 0.04045 that its note of May 2021 gives.)
 */
const luminance = (hex: string): number => {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map(at => {
    const share = Number.parseInt(hex.slice(at, at + 2), 16) / 255
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4
  })
  return 0.2126 * red + 0.7152 * green + 0.0722 * blue
}

/** Contrast ratio (L1 + 0.05) / (L2 + 0.05), L1 the lighter: same source. */
const contrast = (one: string, other: string): number => {
  const [dark = 0, light = 0] = [luminance(one), luminance(other)].sort((a, b) => a - b)
  return (light + 0.05) / (dark + 0.05)
}

/** WCAG 2.2, success criterion 1.4.6 (AAA): text. */
const BODY = 7
/** 1.4.3 (AA): text; 1.4.6: large text. */
const LARGE = 4.5
/** 1.4.11 (AA): what is needed to tell a control or a mark. */
const NON_TEXT = 3

const GROUNDS: readonly ColourName[] = ['paper', 'sheet', 'accentSoft', 'warnSoft', 'dangerSoft']

/** Text is set in the first on the second. */
const BODY_PAIRS: readonly (readonly [ColourName, ColourName])[] = [
  ...GROUNDS.flatMap(ground => [['ink', ground] as const, ['inkQuiet', ground] as const]),
  // Links and quiet buttons stand on the page and within notices.
  ...GROUNDS.map(ground => ['accent', ground] as const),
  ['onAccent', 'accent'],
  ['warn', 'paper'],
  ['warn', 'sheet'],
  ['warn', 'warnSoft'],
  ['danger', 'paper'],
  ['danger', 'sheet'],
  ['danger', 'warnSoft'],
  ['danger', 'dangerSoft'],
]

/** Numbers and marks of the drawing lie on the quiet body too; they are large or bold and edged with paper. */
const LARGE_PAIRS: readonly (readonly [ColourName, ColourName])[] = [
  ['ink', 'bodyFill'],
  ['accent', 'bodyFill'],
  ['inkQuiet', 'bodyFill'],
]

/** Borders of fields, focus rings, bars of notices, a chosen answer. */
const SIGN_PAIRS: readonly (readonly [ColourName, ColourName])[] = [
  ['inkQuiet', 'paper'],
  ['inkQuiet', 'sheet'],
  ['accent', 'paper'],
  ['accent', 'sheet'],
  ['accent', 'accentSoft'],
  ['warn', 'warnSoft'],
  ['warn', 'paper'],
  ['danger', 'dangerSoft'],
  ['danger', 'paper'],
]

const ratiosBelow = (
  colours: Readonly<Record<string, string>>,
  pairs: readonly (readonly [ColourName, ColourName])[],
  least: number,
): readonly string[] =>
  pairs.flatMap(([front, ground]) => {
    const [one, other] = [colours[front], colours[ground]]
    if (!one || !other) throw new Error(`no colour ${front} or ${ground}`)
    const ratio = contrast(one, other)
    return ratio >= least ? [] : [`${front} on ${ground}: ${ratio.toFixed(2)}, wanted ${least}`]
  })

describe('the formula', () => {
  it.each([
    // Black on white is the greatest ratio that there is, 21:1 (WCAG 2.2, "contrast ratio", note 1).
    ['#000000', '#ffffff', 21],
    // "#777777" on white just misses 4.5:1, and "#767676" just meets it (WebAIM, Contrast and Color Accessibility; from memory).
    ['#777777', '#ffffff', 4.48],
    ['#767676', '#ffffff', 4.54],
    // The same colour twice: 1:1 (same note).
    ['#0b535f', '#0b535f', 1],
  ])('gives %s on %s its published ratio', (one, other, ratio) => {
    expect(contrast(one, other)).toBeCloseTo(ratio, 2)
    expect(contrast(other, one)).toBeCloseTo(ratio, 2)
  })
})

describe.each([
  ['light', LIGHT],
  ['dark', DARK],
  ['paper', PAPER],
])('colours of %s', (_name, colours) => {
  it('body text stands out at least 7 to 1', () => {
    expect(ratiosBelow(colours, BODY_PAIRS, BODY)).toEqual([])
  })

  it('large numbers on the drawing stand out at least 4.5 to 1', () => {
    expect(ratiosBelow(colours, LARGE_PAIRS, LARGE)).toEqual([])
  })

  it('borders, rings and bars stand out at least 3 to 1', () => {
    expect(ratiosBelow(colours, SIGN_PAIRS, NON_TEXT)).toEqual([])
  })
})

describe('what the elements use', () => {
  const files = readdirSync(join(ROOT, 'components'), { recursive: true, withFileTypes: true })
    .filter(entry => entry.isFile() && entry.name.endsWith('.ts'))
    .map(entry => join(entry.parentPath, entry.name))
  const kebab = (name: string): string => name.replace(/[A-Z]/g, letter => `-${letter.toLowerCase()}`)
  const styles = files.map(file => ({ file, text: readFileSync(file, 'utf8') }))

  it('text is set only in colours whose pairs are tested', () => {
    const tested = new Set([...BODY_PAIRS, ...LARGE_PAIRS].map(([front]) => `--${kebab(front)}`))
    const used = styles.flatMap(({ text }) =>
      [...text.matchAll(/[^-\w]color:\s*var\((--[\w-]+)/g)].map(match => match[1] ?? ''),
    )
    expect(used.length).toBeGreaterThan(5)
    expect(used.filter(name => !tested.has(name))).toEqual([])
  })

  it('grounds under text are tokens whose pairs are tested', () => {
    const tested = new Set([...BODY_PAIRS, ...LARGE_PAIRS].map(([, ground]) => `--${kebab(ground)}`))
    // Lines and bars are drawn as grounds without text on them.
    const withoutText = ['--line', '--warn', '--danger', '--ink-quiet']
    const used = styles.flatMap(({ text }) =>
      [...text.matchAll(/background(?:-color)?:\s*var\((--[\w-]+)/g)].map(match => match[1] ?? ''),
    )
    expect(used.length).toBeGreaterThan(5)
    expect(used.filter(name => !tested.has(name) && !withoutText.includes(name))).toEqual([])
  })

  it('no colour is written outside the tokens, except as a fallback of one', () => {
    const others = styles.filter(({ file }) => !file.endsWith('styles/tokens.ts'))
    const wrong = others.flatMap(({ file, text }) =>
      text
        .replace(/var\(--[\w-]+,\s*#[0-9a-f]{3,8}\)/gi, '')
        .split('\n')
        .filter(line => /(?:color|background|fill|stroke|border[\w-]*):[^;'"]*#[0-9a-f]{3,8}\b/i.test(line))
        .map(line => `${file}: ${line.trim()}`),
    )
    expect(wrong).toEqual([])
  })
})
