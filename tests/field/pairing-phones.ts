import { fileURLToPath } from 'node:url'
import type { Page } from 'playwright-core'
import type { PairingPhone } from './pairing-page/page.ts'

/** The page that stands for the app: it pairs, meets and exchanges, and shows nothing. */
export const PAIRING_PAGE = fileURLToPath(new URL('./pairing-page', import.meta.url))

/** Asks the page for something it can do. */
export const onPhone = <Name extends keyof PairingPhone>(
  page: Page,
  name: Name,
  ...given: Parameters<PairingPhone[Name]>
) =>
  page.evaluate(
    ([asked, values]) => {
      const phone: unknown = Reflect.get(globalThis, 'phone')
      const work: unknown = typeof phone === 'object' && phone !== null ? Reflect.get(phone, asked) : undefined
      if (typeof work !== 'function') throw new Error(`the page cannot ${asked}`)
      return work(...values)
    },
    [name, given] as const,
  ) as Promise<Awaited<ReturnType<PairingPhone[Name]>>>

/** Carries the two codes from one page to the other. */
export const pairUp = async (offering: Page, answering: Page): Promise<void> => {
  const answer = await onPhone(answering, 'readOffer', await onPhone(offering, 'showOffer'))
  await onPhone(offering, 'readAnswer', answer)
}
