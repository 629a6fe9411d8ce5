import { describe, expect, it } from 'vitest'
import { type SumLine, sumLines } from '../../../components/fit/sum-words.ts'
import { type Language, speaking, speechIn } from '../../../components/text/text.ts'
import type { Formula, SumInputs } from '../../../src/sum.ts'

const WIDTH: readonly Formula[] = ['wantedMm = hipWidthMm + clothingMm', 'slackMm = seatWidthMm - wantedMm']
const HIPS: SumInputs = { hipWidthMm: 346.5, clothingMm: 10, wantedMm: 356.5, seatWidthMm: 380, slackMm: 23.5 }
const BACK: readonly Formula[] = ['rearwardDeg = atan(comAheadOfAxleMm / comHeightMm)']

const linesIn = async (language: Language, sum: readonly Formula[], inputs: SumInputs): Promise<readonly SumLine[]> =>
  speaking(await speechIn(language), () => sumLines(sum, inputs))

const figuresOf = (line: SumLine | undefined): string =>
  (line?.figures.map(({ text }) => text).join('') ?? '').replace(/[\u2066-\u2069]/g, '')

describe('a sum in words', () => {
  // Numbers as Unicode CLDR has them: a comma for the decimals of Spanish and French, Latin digits for Arabic; SI Brochure 9,
  // 5.4.3: a space that does not break between number and unit.
  it.each([
    ['en', 'wanted = hip width + clothing', '346.5\u00a0mm + 10\u00a0mm', '356.5\u00a0mm'],
    ['es', 'buscado = ancho de caderas + ropa', '346,5\u00a0mm + 10\u00a0mm', '356,5\u00a0mm'],
    ['fr', 'voulu = largeur des hanches + vêtements', '346,5\u00a0mm + 10\u00a0mm', '356,5\u00a0mm'],
    ['ar', 'المطلوب = عرض الوركين + الملابس', '346.5\u00a0مم + 10\u00a0مم', '356.5\u00a0مم'],
  ] as const)('is said in %s', async (language, words, figures, result) => {
    const [wanted] = await linesIn(language, WIDTH, HIPS)
    expect(wanted?.words).toBe(words)
    expect(figuresOf(wanted)).toBe(figures)
    expect(wanted?.result).toBe(result)
  })

  it('says its functions in words, and in figures by the signs of mathematics', async () => {
    const [line] = await linesIn('en', BACK, { rearwardDeg: 11.3, comAheadOfAxleMm: 100, comHeightMm: 500 })
    expect(line?.words).toBe(
      'back, before the error = angle whose tangent is (mass centre ahead of the axle / mass centre height)',
    )
    expect(figuresOf(line)).toBe('arctan (100\u00a0mm / 500\u00a0mm)')
    expect(line?.result).toBe('11.3°')
  })

  it('leaves out a line for which a number is missing, and keeps the others', async () => {
    const { seatWidthMm: _, ...rest } = HIPS
    expect((await linesIn('en', WIDTH, rest)).map(({ name }) => name)).toEqual(['wantedMm'])
    expect(
      await linesIn('en', BACK, { rearwardDeg: Number.NEGATIVE_INFINITY, comAheadOfAxleMm: -20, comHeightMm: 500 }),
    ).toEqual([])
  })
})
