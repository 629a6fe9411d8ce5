import type { NamesOfKind } from '../../../src/case/fields.ts'
import type { QuestionGroup } from '../question-group.ts'

/** Seen by a health worker first, or settled with what was seen or done, before a chair is handed over. */
export const RED_FLAGS = [
  'newWeakness',
  'breathingTrouble',
  'swallowingTrouble',
  'uncontrolledSpasms',
  'recentSurgery',
  'fracture',
  'seizures',
  'pregnancy',
  'weightChanging',
  'progressive',
] as const satisfies readonly NamesOfKind<'risk'>[]

export const SKIN_RISKS = [
  'presentSore',
  'pastSore',
  'reducedSensation',
  'cannotReposition',
  'moisture',
] as const satisfies readonly NamesOfKind<'risk'>[]

export const RISKS: readonly NamesOfKind<'risk'>[] = [...SKIN_RISKS, ...RED_FLAGS]

/** The questions of the assessment, in the order in which a visit usually runs; any order will do. */
export const ASSESSMENT_GROUPS: readonly QuestionGroup[] = [
  { key: 'goals', fields: ['goals', 'condition'] },
  { key: 'flags', fields: RED_FLAGS },
  { key: 'sitting', fields: ['posture', 'trunkNeed', 'supports'] },
  { key: 'skin', fields: [...SKIN_RISKS, 'pressureReliefPlan'] },
  { key: 'limbs', fields: ['limbLossLeft', 'limbLossRight', 'armLossLeft', 'armLossRight'] },
  { key: 'moving', fields: ['propulsion', 'skill', 'handGrip', 'shoulderPain'] },
  {
    key: 'home',
    fields: ['ground', 'steepestSlopeDeg', 'narrowestDoorMm', 'latrineDoorMm', 'narrowestPathMm', 'climate'],
  },
  { key: 'transfers', fields: ['transfer', 'bedHeightMm', 'latrineHeightMm', 'transport'] },
  { key: 'loads', fields: ['loads'] },
]
