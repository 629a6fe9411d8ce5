import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { openPlainPractice } from '../../demo/plain-practice.ts'
import { PRACTICE_DAY, setOutOnPracticeTrip } from '../../demo/practice-trip.ts'
import { outcomeRules } from '../../sync/outcome-rules.ts'
import { createDeviceKey, importVerifier } from '../../sync/trust/device-key.ts'

const { crypto } = globalThis
/** A page on plain http: random numbers, and no cryptography (W3C Web Cryptography API: SecureContext). */
beforeAll(() => {
  const plain = { getRandomValues: crypto.getRandomValues.bind(crypto), randomUUID: crypto.randomUUID.bind(crypto) }
  Object.defineProperty(globalThis, 'crypto', { value: plain, configurable: true })
})
afterAll(() => Object.defineProperty(globalThis, 'crypto', { value: crypto, configurable: true }))

describe('practice without cryptography', () => {
  it('sets out with everybody, in memory', async () => {
    const device = await openPlainPractice()
    const casebook = await setOutOnPracticeTrip({
      storage: device.storage,
      deviceKey: device.deviceKey,
      rules: outcomeRules(),
      today: () => PRACTICE_DAY,
      clock: () => Date.parse(PRACTICE_DAY),
    })
    await casebook.settled()
    expect(casebook.summaries()).toHaveLength(29)
    expect(casebook.problems()).toEqual([])
    expect(casebook.summaries().filter(({ brief }) => brief === null)).toEqual([])
    device.close()
  })

  it('knows its own keys from others, and an altered text from the one that was signed', async () => {
    const device = await openPlainPractice()
    const other = (await createDeviceKey()).deviceKey
    const text = new TextEncoder().encode('hips 368')
    const signature = await device.deviceKey.sign(text)
    const [own, others] = [await importVerifier(device.deviceKey.publicKey), await importVerifier(other.publicKey)]
    expect(await own?.(text, signature)).toBe(true)
    expect(await own?.(new TextEncoder().encode('hips 386'), signature)).toBe(false)
    expect(await others?.(text, signature)).toBe(false)
    device.close()
  })
})
