import type { CaseId } from '../../src/ids.ts'

/**
 * How a case is named once nobody may look into it: the first letters of its random id, which say nothing about anybody.
 * Two who compare eight of them mean the same case: 1 pair in 2^48 is alike (project value).
 */
export const lettersOf = (caseId: CaseId): string => `${caseId.slice(0, 4)} ${caseId.slice(4, 8)}`
