import type { Catalogue } from '../chair/chair-model.ts'
import type { Policy } from '../fitting/policy.ts'

/**
 * Room for a case whose open differences are weighed in 64 ways, or for a hundred cases at hand: at most 12 MB, 29 kB a
 * fit with all its reasons (measured). A phone that keeps thousands of cases opens them by their summaries (project value).
 */
const KEPT_ANSWERS = 400

/**
 * Remembers what fitting, and the build sheet that follows from it, gave for the same inputs. It changes no answer, only
 * when it is worked out: keys hold every input, and catalogue and policy are told apart as objects, which a context keeps
 * while their entries stay the same.
 */
export class FitMemory {
  readonly #limit: number
  readonly #values = new Map<string, unknown>()
  readonly #numbers = new WeakMap<object, number>()
  #last = 0

  /** `limit`: how many answers to keep; the one not asked for longest goes first. */
  constructor(limit = KEPT_ANSWERS) {
    this.#limit = limit
  }

  /** `inputs`: all that `make` reads beside catalogue and policy, as text. */
  remember<Value>(kind: string, catalogue: Catalogue, policy: Policy, inputs: string, make: () => Value): Value {
    const key = `${kind} ${this.#numberOf(catalogue)} ${this.#numberOf(policy)} ${inputs}`
    const isKnown = this.#values.has(key)
    const value = isKnown ? (this.#values.get(key) as Value) : make()
    // Put back at the end: the order is that of last use.
    this.#values.delete(key)
    this.#values.set(key, value)
    if (this.#values.size > this.#limit) {
      const oldest = this.#values.keys().next()
      if (!oldest.done) this.#values.delete(oldest.value)
    }
    return value
  }

  #numberOf(object: object): number {
    const known = this.#numbers.get(object)
    if (known !== undefined) return known
    this.#last += 1
    this.#numbers.set(object, this.#last)
    return this.#last
  }
}
