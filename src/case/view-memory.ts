import type { Counted } from './entry.ts'
import type { FieldName } from './fields.ts'

/**
 * What was made of the fields of one case before. It changes no answer, only when it is worked out: what a field comes to
 * depends on the entries that set it and on nothing else, and an id is the hash of its entry's text. So after a merge only
 * the fields that new entries touch are worked out again.
 */
export class ViewMemory<Made> {
  readonly #known = new Map<FieldName, { readonly setters: readonly Counted[]; readonly made: Made }>()

  remember(name: FieldName, setters: readonly Counted[], make: () => Made): Made {
    const known = this.#known.get(name)
    if (known && haveSameIds(known.setters, setters)) return known.made
    const made = make()
    this.#known.set(name, { setters, made })
    return made
  }
}

/** Another order is taken for another set: that costs time and no answer. */
export const haveSameIds = (a: readonly Counted[], b: readonly Counted[]): boolean =>
  a.length === b.length && a.every((counted, index) => counted.id === b[index]?.id)
