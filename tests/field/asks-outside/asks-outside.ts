import { it } from 'vitest'

it('passes, and asks for something beyond its own origin', async () => {
  await fetch('https://elsewhere.invalid/').catch(() => undefined)
})
