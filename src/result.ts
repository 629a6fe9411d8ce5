/**
 * An expected failure at an edge is a value, not an exception.
 * `failure.type` is a stable key; `failure.message` says in words what happened, what is still safe and what to do.
 */
export type Result<Value, Failure extends { readonly type: string } = ReadFailure> =
  | { readonly ok: true; readonly value: Value }
  | { readonly ok: false; readonly failure: Failure }

/** What every refused input tells: a stable type, words for a person, and where in the input it was found. */
export interface ReadFailure {
  readonly type: string
  readonly message: string
  readonly where?: string
}

export const success = <Value>(value: Value): { readonly ok: true; readonly value: Value } => ({ ok: true, value })

export const failure = <Failure extends { readonly type: string }>(
  reason: Failure,
): { readonly ok: false; readonly failure: Failure } => ({ ok: false, failure: reason })
