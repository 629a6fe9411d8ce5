import { app } from './app.ts'

/** The English wording, and by its shape the list of what every language must say. */
export const en = { app } as const
