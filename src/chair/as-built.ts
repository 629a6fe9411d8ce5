import * as z from 'zod'
import { setUpSchema } from './set-up.ts'

/**
 * What is really on the chair, as read from it, kept apart from what was chosen. Every part may be absent: not built
 * or not recorded yet. Values may lie off the catalogue's steps: a real chair is what it is.
 */
export const asBuiltSchema = setUpSchema
  .extend({
    backHeightMm: z.number().positive(),
    seatDepthMm: z.number().positive(),
    /** Gauge pressures at filling. */
    rearTyreKPa: z.number().min(0).max(1500),
    casterTyreKPa: z.number().min(0).max(1500),
    serialNumber: z.string().min(1).max(60),
  })
  .partial()
export type AsBuilt = z.infer<typeof asBuiltSchema>
