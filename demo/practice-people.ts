import { CHILDREN } from './people/children.ts'
import { OLDER_ADULTS } from './people/older-adults.ts'
import type { PracticePerson } from './people/practice-person.ts'
import { YOUNGER_ADULTS } from './people/younger-adults.ts'

/** The invented people of the practice trip in the invented Lower Kesse valley, youngest first within each group. */
export const PRACTICE_PEOPLE: readonly PracticePerson[] = [...CHILDREN, ...YOUNGER_ADULTS, ...OLDER_ADULTS]
