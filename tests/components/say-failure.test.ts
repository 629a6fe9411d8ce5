import { describe, expect, it } from 'vitest'
import { Refused, sayError, sayFailure } from '../../components/text/say-failure.ts'
import { LANGUAGES, type Language, speaking, speechIn } from '../../components/text/text.ts'
import { toCalendarDate } from '../../src/calendar-date.ts'
import { caseIdSchema } from '../../src/ids.ts'
import { createCasebook } from '../../sync/open-casebook.ts'
import { outcomeRules } from '../../sync/outcome-rules.ts'
import { createMemoryStorage } from '../../sync/storage/memory.ts'
import { STORAGE_FULL, StorageUnreadable } from '../../sync/storage/storage.ts'
import { createDeviceKey } from '../../sync/trust/device-key.ts'
import { createLock } from '../../sync/trust/lock.ts'
import { expectOk } from '../support/casebooks.ts'

const OTHERS = LANGUAGES.filter((language): language is Exclude<Language, 'en'> => language !== 'en')

const casebook = async () =>
  expectOk(
    await createCasebook({
      storage: createMemoryStorage().open(),
      deviceKey: (await createDeviceKey()).deviceKey,
      rules: outcomeRules(),
      clock: () => 1_790_000_000_000,
      today: () => toCalendarDate('2026-11-25'),
      founderName: 'Wenna Dalmor',
    }),
  )

describe.each(OTHERS)('what sync refuses, in %s', language => {
  it('is said by its type, without a word of the English message', async () => {
    const book = await casebook()
    const nobody = caseIdSchema.parse('AAAAAAAAAAAAAAAAAAAAAA')
    const added = expectOk(await book.addCase({ kind: 'save', set: { personName: 'Ilse Dorn' } }))
    const wide = { hipWidthMm: { typed: -3, unit: 'mm' } }
    const refused = [
      await book.save(nobody, { kind: 'save', set: { place: 'Hule' } }),
      await book.save(added.caseId, { kind: 'save', set: {} }),
      await book.save(added.caseId, { kind: 'save', set: { shoeColour: 'red' } }),
      await book.save(added.caseId, { kind: 'save', set: wide }),
      await book.save(added.caseId, {
        kind: 'save',
        set: { handover: { handedOverOn: '2026-11-25' }, presentSore: true },
      }),
      await book.strike(book.device),
      await createLock('short'),
    ].map(result => {
      if (result.ok) throw new Error('something was taken that should be refused')
      return result.failure
    })
    expect(refused.map(({ type }) => type)).toEqual([
      'unknown-case',
      'nothing-said',
      'unknown-field',
      'invalid-value',
      'held',
      'own-device',
      'short-passphrase',
    ])
    const speech = await speechIn(language)
    for (const failure of [...refused, STORAGE_FULL]) {
      const words = speaking(speech, () => sayFailure(failure))
      expect(words.length).toBeGreaterThan(15)
      for (const english of failure.message.match(/[A-Za-z]{5,}/g) ?? [])
        expect(words.toLowerCase().split(/[^\p{L}]+/u), `${failure.type}: ${words}`).not.toContain(
          english.toLowerCase(),
        )
    }
    const [, , , invalid] = refused
    // The registry's label of hip width in the language, whatever it is called there, stands in the sentence.
    expect(speaking(speech, () => (invalid ? sayFailure(invalid) : ''))).toContain(
      speaking(speech, () => speech.say('field.hipWidthMm')),
    )
  })

  it('is said of what was thrown; a fault of ours keeps its English text to itself', async () => {
    const speech = await speechIn(language)
    const say = (error: unknown): string => speaking(speech, () => sayError(error))
    expect(say(new Refused(STORAGE_FULL))).toBe(speech.say('failure.storage-full'))
    expect(say(new StorageUnreadable('The store of this device cannot be read.'))).toBe(
      speech.say('failure.storage-unreadable'),
    )
    expect(say(new Error('no wording for due.unheard-of'))).toBe(speech.say('failure.fault'))
    expect(say('a text that was thrown')).toBe(speech.say('failure.fault'))
  })
})

it('says a fault as it is to who reads English', () => {
  expect(sayError(new Error('no wording for due.unheard-of'))).toBe('no wording for due.unheard-of')
})
