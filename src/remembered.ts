/**
 * A pure function of one object that never changes, worked out once for each: what is told apart is the object itself,
 * not what it says, so that an equal copy is worked out anew. Forgotten with the object. Changes no answer, only when it
 * is worked out.
 */
export const rememberedFor = <Subject extends object, Value>(
  make: (subject: Subject) => Value,
): ((subject: Subject) => Value) => {
  const known = new WeakMap<Subject, { readonly value: Value }>()
  return subject => {
    const kept = known.get(subject)
    if (kept) return kept.value
    const value = make(subject)
    known.set(subject, { value })
    return value
  }
}
