import type { Counted } from '../src/case/entry.ts'
import { TEAM_FIELDS } from '../src/crew/team-fields.ts'
import { type CasebookId, type DeviceId, deviceIdSchema } from '../src/ids.ts'
import { casebookIdOf, importVerifier, isKeyOf } from './trust/device-key.ts'

type Verifier = (bytes: Uint8Array, signature: Uint8Array) => Promise<boolean>

const textIn = (value: unknown, name: string): string | undefined => {
  if (typeof value !== 'object' || value === null || !Object.hasOwn(value, name)) return undefined
  const found: unknown = Object.getOwnPropertyDescriptor(value, name)?.value
  return typeof found === 'string' ? found : undefined
}

/**
 * Public keys by device. A key is taken when its hash is the device's id, whoever says so: that needs no trust, and who
 * of them belongs to the crew is another question (`src/crew`).
 */
export class KeyBook {
  readonly #casebookId: CasebookId
  readonly #verifiers = new Map<DeviceId, Verifier>()

  constructor(casebookId: CasebookId) {
    this.#casebookId = casebookId
  }

  verifierOf(device: DeviceId): Verifier | undefined {
    return this.#verifiers.get(device)
  }

  async #take(device: DeviceId, publicKey: string): Promise<boolean> {
    if (this.#verifiers.has(device)) return isKeyOf(device, publicKey)
    if (!isKeyOf(device, publicKey)) return false
    const verifier = await importVerifier(publicKey)
    if (verifier) this.#verifiers.set(device, verifier)
    return verifier !== undefined
  }

  /**
   * Takes the keys a team entry brings. False when it claims a key that is not the device's, or to have founded this
   * casebook without being the device from which its id was made. An `add` with a role of a later version brings its key
   * all the same, so that what that device wrote can be kept.
   */
  async takeFrom({ entry }: Counted): Promise<boolean> {
    if (Object.hasOwn(entry.set, 'found')) {
      const found = TEAM_FIELDS.found.safeParse(entry.set.found)
      if (found.success) {
        if (casebookIdOf(entry.by, found.data.random) !== this.#casebookId) return false
        if (!(await this.#take(entry.by, found.data.key))) return false
      }
    }
    if (Object.hasOwn(entry.set, 'add')) {
      const device = deviceIdSchema.safeParse(textIn(entry.set.add, 'device'))
      const key = textIn(entry.set.add, 'key')
      if (device.success && key !== undefined) return this.#take(device.data, key)
    }
    return true
  }
}
