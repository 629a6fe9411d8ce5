/** One command of the command line. `run` gives the exit status; what it cannot do it says by throwing an InputError. */
export interface Command {
  /** One line for the list of commands. */
  readonly summary: string
  /** Its own help: the call, each option, what it prints. */
  readonly usage: string
  run(args: readonly string[]): Promise<number>
}

/** Something in the call or a file is not as it must be: said in words on stderr, exit status 2, nothing half-written. */
export class InputError extends Error {
  override readonly name = 'InputError'
}
