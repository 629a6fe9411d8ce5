/**
 * Weights of misfit, points for each millimetre, degree or newton beyond tolerance: team policy, OURS, by the harm a
 * misfit does. `near` weights only order values that are all within tolerance. Costs are whole thousandths of a point, so
 * that sums are exact in any order and equal on every device.
 */
export const MISFIT_WEIGHTS = {
  widthSlack: 0.5,
  depthGap: 0.4,
  footrest: 0.5,
  backAbove: 0.6,
  backBelow: 0.4,
  armrest: 0.2,
  /** No armrest where one was wanted. */
  armrestOff: 5,
  elbow: 1,
  heelToCaster: 0.3,
  frontRailLow: 0.3,
  seatSlope: 4,
  /** A pressure-relief cushion for someone who shows no need of one: it is missed elsewhere. */
  reliefNotNeeded: 4,
  /** Rolling force on the person's own ground, level. */
  pushForce: 0.05,
  pushedShare: 50,
  near: 0.02,
} as const

/** A dimension may differ this far from what is wanted without cost: half a usual step (project value). */
export const DIMENSION_TOLERANCE_MM = 10

export const points = (weight: number, amount: number): number => Math.round(weight * Math.max(0, amount) * 1000)

/** Points of a cost in thousandths, for print. */
export const misfitPoints = (thousandths: number): number => thousandths / 1000
