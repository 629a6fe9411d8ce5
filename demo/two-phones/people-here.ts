/** Who holds the first phone, who is invited on the second, and about whom they speak. All of them are invented. */
export const FIRST = { name: 'Sira Vellanke', role: 'therapist' } as const
export const SECOND = { name: 'Joss Karrovin', role: 'technician' } as const
export const PERSON = { key: 'sunniva', name: 'Sunniva Tarrek' } as const

/** Of two measures of the same hips: with the first the chair that is built fits, for the second it is too narrow. */
export const TWO_MEASURES_MM = [352, 384] as const
