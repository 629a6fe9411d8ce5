import type { DeviceId } from '../src/ids.ts'
import { success } from '../src/result.ts'
import type { CasebookStorage, Stored } from './storage/storage.ts'
import {
  type CasebookSecret,
  currentSecret,
  readSecrets,
  renewedSecret,
  withSecret,
  writeSecrets,
} from './trust/casebook-secret.ts'

const SECRETS_VALUE = 'casebook-secrets'

export type RandomBytes = (count: number) => Uint8Array

export const platformRandom: RandomBytes = count => globalThis.crypto.getRandomValues(new Uint8Array(count))

/** The casebook's secrets, of every epoch, in this device's store. */
export class SecretKeeper {
  readonly #storage: CasebookStorage
  readonly #device: DeviceId
  readonly #randomBytes: RandomBytes
  #secrets: readonly CasebookSecret[] = []
  /** True when what is stored cannot be read: the cases are safe, the secret must be received again. */
  unreadable = false

  constructor(storage: CasebookStorage, device: DeviceId, randomBytes: RandomBytes = platformRandom) {
    this.#storage = storage
    this.#device = device
    this.#randomBytes = randomBytes
  }

  get secrets(): readonly CasebookSecret[] {
    return this.#secrets
  }

  async read(): Promise<void> {
    const stored = await this.#storage.readValue(SECRETS_VALUE)
    if (!stored) return
    const read = readSecrets(stored)
    if (read.ok) this.#secrets = read.value
    else this.unreadable = true
  }

  async keep(secret: CasebookSecret): Promise<Stored> {
    // Another tab may have kept one meanwhile.
    await this.read()
    const secrets = withSecret(this.#secrets, secret)
    const stored = await this.#storage.writeValue(SECRETS_VALUE, writeSecrets(secrets))
    if (stored.ok) this.#secrets = secrets
    return stored
  }

  /** The first secret of a casebook, or the next epoch's. */
  renew(): Promise<Stored> {
    return this.keep(renewedSecret(this.#secrets, this.#device, this.#randomBytes))
  }

  /** One epoch for each strike of this device that took effect, also when a restart came in between. */
  async renewFor(strikeCount: number): Promise<Stored> {
    const renewed = this.#secrets.filter(({ epoch, by }) => epoch > 0 && by === this.#device).length
    // A device that was never given the secret has none to renew.
    const missing = currentSecret(this.#secrets) === undefined ? 0 : strikeCount - renewed
    for (let done = 0; done < missing; done += 1) {
      const stored = await this.renew()
      if (!stored.ok) return stored
    }
    return success(undefined)
  }
}
