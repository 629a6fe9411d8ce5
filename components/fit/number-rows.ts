import { rearLoadShare } from '../../src/fitting/effort.ts'
import type { Needs } from '../../src/fitting/needs.ts'
import type { Policy } from '../../src/fitting/policy.ts'
import { currentSpeech, t } from '../text/text.ts'
import { MARKED_BY } from './setting-moved.ts'
import { degrees, millimetres, tipWords } from './side-labels.ts'
import type { Fitted } from './trial.ts'

/** One number of the drawing as text. */
export interface NumberRow {
  readonly key: string
  readonly name: string
  readonly value: string
  /** One standard error, where the number has one. */
  readonly error: string | undefined
  readonly note: string
  readonly broken: boolean
}

/** Mass centre ahead of the axle as drawn: measured where it was measured. */
export const comAheadMm = ({ drawing }: Fitted): number => drawing.side.massCentre.xMm - drawing.side.chair.axle.xMm

export const rearShareOf = (fitted: Fitted): number => {
  const { wheels } = fitted.evaluation
  return rearLoadShare(comAheadMm(fitted), wheels.comHeightMm, wheels.wheelbaseMm)
}

/** Every number that the drawing carries, in words and beside what it is judged by. */
export const numberRows = (fitted: Fitted, needs: Needs, policy: Policy): readonly NumberRow[] => {
  const { evaluation, drawing, setUp } = fitted
  const { axleAngles, widthAngles, wheels, broken } = evaluation
  const { side, rear } = drawing
  const marked = new Set(broken ? MARKED_BY[broken.rule] : [])
  const row = (key: string, name: string, value: string, note: string, errorDeg?: number | null): NumberRow => ({
    key,
    name,
    value,
    note,
    error: errorDeg == null ? undefined : t('fit.plusMinus', { error: degrees(errorDeg) }),
    broken: marked.has(key),
  })
  const gate = (deg: number): string => (Number.isFinite(deg) ? degrees(deg) : t('fit.outsideBase'))
  /** Redone by hand: the least angle of all loads, less its errors; with anti-tip wheels the rearward one is about them. */
  const afterError = (after: number, errorDeg: number, least: number): string => {
    const times = policy.angles.standardErrors
    return t('fit.afterError', {
      lowest: gate(after + times * errorDeg),
      times,
      error: degrees(errorDeg),
      after: gate(after),
      least: degrees(least),
    })
  }
  const rows: NumberRow[] = [
    row(
      'rearward',
      t('fit.rearward'),
      tipWords(axleAngles.rearTyrePivotDeg),
      t(axleAngles.antiTipDeg === null ? 'fit.rearwardNote' : 'fit.rearwardNoteAntiTip', {
        sum: afterError(axleAngles.gate.rearwardDeg, axleAngles.rearward.errorDeg, needs.least.rearwardDeg),
      }),
      axleAngles.errors.rearTyrePivotDeg,
    ),
    row(
      'balance',
      t('fit.balance'),
      tipWords(axleAngles.rearAxlePivotDeg),
      t('fit.balanceNote'),
      axleAngles.errors.rearAxlePivotDeg,
    ),
  ]
  if (axleAngles.antiTipDeg !== null)
    rows.push(row('antiTip', t('fit.antiTip'), tipWords(axleAngles.antiTipDeg), t('fit.antiTipNote')))
  rows.push(
    row(
      'forward',
      t('fit.forward'),
      tipWords(axleAngles.forwardDeg),
      t('fit.forwardNote', {
        sum: afterError(axleAngles.gate.forwardDeg, axleAngles.errors.forwardDeg, needs.least.forwardDeg),
      }),
      axleAngles.errors.forwardDeg,
    ),
    row(
      'sideways',
      t('fit.sideways'),
      tipWords(widthAngles.sidewaysDeg),
      t('fit.sidewaysNote', {
        left: tipWords(rear.left.deg),
        right: tipWords(rear.right.deg),
        sum: afterError(widthAngles.gate.sidewaysDeg, widthAngles.errors.sidewaysDeg, needs.least.sidewaysDeg),
      }),
      widthAngles.errors.sidewaysDeg,
    ),
  )
  if (widthAngles.elbowDeg !== null)
    rows.push(
      row(
        'elbow',
        t('fit.elbow'),
        widthAngles.elbowDeg === 'outOfReach' ? t('fit.labelElbowOut') : degrees(widthAngles.elbowDeg),
        t('fit.elbowNote', { least: degrees(policy.elbowDeg[0]), most: degrees(policy.elbowDeg[1]) }),
        widthAngles.errors.elbowDeg,
      ),
    )
  const ahead = millimetres(comAheadMm(fitted))
  const high = millimetres(wheels.comHeightMm)
  const isMeasured = Math.abs(comAheadMm(fitted) - wheels.comAheadMm) > 0.05
  rows.push(
    row(
      'share',
      t('fit.share'),
      t('fit.percent', { value: currentSpeech().number(rearShareOf(fitted) * 100, 0) }),
      t(isMeasured ? 'fit.shareMeasured' : 'fit.shareNote', { ahead, high }),
    ),
    row(
      'kneeGap',
      t('fit.kneeGap'),
      millimetres(side.kneeGap.mm),
      t(needs.depthFrom === 'residual-limb' ? 'fit.kneeGapLimb' : 'fit.kneeGapNote', {
        thigh: millimetres(needs.depthFromMm),
        seat: millimetres(setUp.depth.valueMm),
        least: millimetres(needs.rightGapMm[0]),
        most: millimetres(needs.rightGapMm[1]),
      }),
    ),
  )
  if (side.groundClearance)
    rows.push(
      row(
        'clearance',
        t('fit.clearance'),
        millimetres(side.groundClearance.mm),
        t('fit.clearanceNote', { least: millimetres(needs.groundClearanceMm) }),
      ),
    )
  if (side.footToCaster)
    rows.push(
      row(
        'heel',
        t('fit.heel'),
        millimetres(side.footToCaster.mm),
        t('fit.heelNote', { least: millimetres(policy.footrest.heelToCasterMm) }),
      ),
    )
  const spareMm = rear.seatWidthMm - rear.hipWidthMm
  rows.push(
    row(
      'width',
      t('fit.width'),
      spareMm < 0
        ? t('fit.tooNarrow', { length: millimetres(-spareMm) })
        : t('fit.spare', { length: millimetres(spareMm) }),
      t('fit.widthNote', { seat: millimetres(rear.seatWidthMm), hips: millimetres(rear.hipWidthMm) }),
    ),
    row(
      'door',
      t('fit.door'),
      millimetres(rear.widthWithHandsMm),
      rear.doorMm === null ? t('fit.doorUnknown') : t('fit.doorNote', { door: millimetres(rear.doorMm) }),
    ),
  )
  return rows
}

/** The first broken rule in words, with what it lacks; undefined while every rule is kept. */
export const brokenWords = ({ evaluation }: Fitted, needs: Needs): string | undefined => {
  const { broken, axleAngles, widthAngles } = evaluation
  if (!broken) return undefined
  const { rule, shortBy } = broken
  const ground = t(`sumValue.${needs.ground}`)
  const angle = (after: number, least: number): string =>
    t(`fit.broken-${rule}`, {
      after: Number.isFinite(after) ? degrees(after) : t('fit.outsideBase'),
      least: degrees(least),
      ground,
    })
  switch (rule) {
    case 'rearward':
      return angle(axleAngles.gate.rearwardDeg, needs.least.rearwardDeg)
    case 'forward':
      return angle(axleAngles.gate.forwardDeg, needs.least.forwardDeg)
    case 'sideways':
      return angle(widthAngles.gate.sidewaysDeg, needs.least.sidewaysDeg)
    case 'capacity':
      return t('fit.broken-capacity', { short: t('fit.kilograms', { value: currentSpeech().number(shortBy, 1) }) })
    default:
      return t(`fit.broken-${rule}`, {
        short: millimetres(Math.ceil(shortBy)),
        least: millimetres(needs.groundClearanceMm),
        ground,
      })
  }
}

/** Of the angles that the rules ask for, the one with least to spare. */
export const nearestWords = ({ evaluation }: Fitted, { least }: Needs): string => {
  const { axleAngles, widthAngles } = evaluation
  const margins = [
    { what: t('fit.nearestRearward'), deg: axleAngles.gate.rearwardDeg - least.rearwardDeg },
    { what: t('fit.nearestForward'), deg: axleAngles.gate.forwardDeg - least.forwardDeg },
    { what: t('fit.nearestSideways'), deg: widthAngles.gate.sidewaysDeg - least.sidewaysDeg },
  ]
  const nearest = margins.reduce((best, one) => (one.deg < best.deg ? one : best))
  return t('fit.nearest', { what: nearest.what, margin: degrees(nearest.deg) })
}
