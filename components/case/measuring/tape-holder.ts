import type { AppCasebook } from '../../app/context.ts'

/** Who holds the tape while another types, for all that is measured until somebody says otherwise. Gone with the page. */
const holders = new WeakMap<AppCasebook, string>()

/** Undefined: whoever types also measures. */
export const tapeHolder = (casebook: AppCasebook): string | undefined => holders.get(casebook)

export const keepTapeHolder = (casebook: AppCasebook, name: string | undefined): void => {
  if (name === undefined) holders.delete(casebook)
  else holders.set(casebook, name)
}
