import { describe, expect, it } from 'vitest'
import { sayNumber } from '../../components/text/say-value.ts'
import { LANGUAGES, speaking, speechIn } from '../../components/text/text.ts'

/** Direction marks are no spacing. */
const plain = (words: string): string => words.replace(/[\u2066-\u2069]/g, '')

// SI Brochure 9, 5.4.3: a space between number and unit; none before the degree of an angle. It must not break (ISO 80000-1, 7.1.4).
describe.each(LANGUAGES)('spaces in %s', language => {
  it('do not break between a number and its unit, nor around ×', async () => {
    const speech = await speechIn(language)
    expect(plain(speech.say('fit.millimetres', { value: 8 }))).toMatch(/^8\u00a0\S+$/)
    expect(plain(speech.say('choosing.size', { chair: 'Oak', width: 380, depth: 400 }))).toContain(
      '380\u00a0×\u00a0400',
    )
  })

  it('do not break in a serial number, nor before it', async () => {
    const speech = await speechIn(language)
    expect(plain(speech.say('handing.labelSerial', { serial: 'RL 0417' }))).toMatch(/\S\u00a0RL\u00a00417$/)
  })

  it('stand before °C and not before the degree of an angle', async () => {
    const speech = await speechIn(language)
    expect(speaking(speech, () => sayNumber(24, 'celsius'))).toMatch(/^24\u00a0°/)
    expect(speaking(speech, () => sayNumber(12, 'deg'))).toBe('12°')
  })
})

it('what is typed is discarded in words that cannot mean keeping it', async () => {
  const said = await Promise.all(LANGUAGES.map(async language => (await speechIn(language)).say('form.drop')))
  expect(said).toEqual(['Discard what was typed', 'Descartar lo escrito', 'Effacer ce qui a été saisi', 'تجاهُل ما كُتب'])
})
