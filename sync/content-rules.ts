import * as z from 'zod'

/**
 * To be imported before anything else by a page: its content rules allow no code made from text, and zod would try whether
 * they do with the first schema, which the browser reports as a breach.
 */
z.config({ jitless: true })
