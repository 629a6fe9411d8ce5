import type { AppCasebook } from '../app/context.ts'

/** Whether this device may read and record nothing: its member is a visitor. */
export const looksOn = (casebook: AppCasebook | undefined): boolean =>
  casebook?.crew().members.get(casebook.device)?.role === 'visitor'
