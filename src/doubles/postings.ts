/** Who bears what: people by value, each value and each person under a small number. */
export class Postings {
  readonly #ids = new Map<string, number>()
  readonly #people: number[][] = []
  readonly values: string[] = []

  /** Notes that a person bears these values; gives their numbers, each once. */
  add(person: number, values: Iterable<string>): readonly number[] {
    return [...new Set(values)].map(value => {
      const known = this.#ids.get(value)
      const id = known ?? this.values.push(value) - 1
      if (known === undefined) {
        this.#ids.set(value, id)
        this.#people.push([])
      }
      this.#people[id]?.push(person)
      return id
    })
  }

  idOf(value: string): number | undefined {
    return this.#ids.get(value)
  }

  /** In the order in which they were added. */
  peopleWith(id: number): readonly number[] {
    return this.#people[id] ?? []
  }
}
