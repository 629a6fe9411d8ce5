import type { Body } from '../body/measurements.ts'
import type { Load, Person } from '../body/person.ts'
import {
  type BodyMasses,
  bodyMasses,
  centreOfBody,
  type Joints,
  type Point,
  type Seat,
  seatedJoints,
  seatPitch,
} from '../body/seated-body.ts'
import type { ChairModel, Cushion } from '../chair/chair-model.ts'
import { toRadians } from '../units.ts'

type SeatHeight = ChairModel['seatHeights'][number]
type AxlePosition = ChairModel['axlePositions'][number]

/** What is on the seat side of the chair, before an axle position is chosen. */
export const seatOf = (model: ChairModel, height: SeatHeight, cushion: Cushion): Seat => ({
  rearMm: height.rearMm,
  frontMm: height.frontMm,
  referenceDepthMm: model.seatReferenceDepthMm,
  reclineDeg: model.backReclineDeg,
  footrestForwardDeg: model.footrestForwardDeg,
  backSagMm: model.backSagMm,
  underSeatBonesMm: cushion.loadedMm - model.seatSagMm,
  underThighsMm: (cushion.loadedFrontMm ?? cushion.loadedMm) - model.seatSagMm,
})

interface Mass {
  readonly massKg: number
  readonly xMm: number
  readonly zMm: number
  readonly yMm: number
}

const combine = (masses: readonly Mass[]): Mass => {
  let [kg, x, z, y] = [0, 0, 0, 0]
  for (const mass of masses) {
    kg += mass.massKg
    x += mass.massKg * mass.xMm
    z += mass.massKg * mass.zMm
    y += mass.massKg * mass.yMm
  }
  return { massKg: kg, xMm: x / kg, zMm: z / kg, yMm: y / kg }
}

/**
 * Frame without rear wheels, from the chair as weighed. Other seat heights than the weighed one leave it where it is:
 * 50 mm of rail move about 3 mm of the whole, far inside the chair's own error (z 25 mm).
 */
const frameMass = (model: ChairModel): Mass => {
  const axle = model.axlePositions.find(one => one.key === model.referenceAxle)
  if (!axle)
    throw new Error(`chair model ${model.key}: reference axle ${model.referenceAxle} is not one of its positions`)
  const massKg = model.massKg - model.wheelMassKg
  return {
    massKg,
    xMm: (model.massKg * model.centreOfMassXMm - model.wheelMassKg * axle.xMm) / massKg,
    zMm: (model.massKg * model.centreOfMassZMm - model.wheelMassKg * model.rearWheelRadiusMm) / massKg,
    yMm: 0,
  }
}

/** Places of loads (project values): handles at the back height and 60 mm behind the back line, lap 120 mm above the middle of the thighs, under at half the seat depth and 120 mm below the rail. */
const loadMass = (load: Load, seat: Seat, joints: Joints, backHeightMm: number): Mass => {
  const recline = toRadians(seat.reclineDeg)
  if (load.at === 'handles')
    return {
      massKg: load.massKg,
      xMm: -backHeightMm * Math.sin(recline) - 60,
      zMm: seat.rearMm + backHeightMm * Math.cos(recline),
      yMm: 0,
    }
  if (load.at === 'lap') {
    const knee = {
      xMm: (joints.knee.left.xMm + joints.knee.right.xMm) / 2,
      zMm: (joints.knee.left.zMm + joints.knee.right.zMm) / 2,
    }
    return {
      massKg: load.massKg,
      xMm: (joints.hip.xMm + knee.xMm) / 2,
      zMm: (joints.hip.zMm + knee.zMm) / 2 + 120,
      yMm: 0,
    }
  }
  const pitch = seatPitch(seat)
  const along = seat.referenceDepthMm / 2
  return {
    massKg: load.massKg,
    xMm: along * Math.cos(pitch) + 120 * Math.sin(pitch),
    zMm: seat.rearMm + along * Math.sin(pitch) - 120 * Math.cos(pitch),
    yMm: 0,
  }
}

/** One standard error's shift of the loaded centre and of the shoulder, mm. */
export interface Shift {
  readonly source: 'body' | 'chair' | 'sitting' | 'model'
  readonly xMm: number
  readonly zMm: number
  readonly yMm: number
  readonly shoulderXMm: number
  readonly shoulderZMm: number
}

/** A person in a chair whose axle is not chosen yet: everything that turns with the frame, from S. */
export interface LoadedFrame {
  readonly model: ChairModel
  readonly seat: Seat
  readonly joints: Joints
  /** Loads as usual, for the adult set: what is shown. */
  readonly usual: Mass
  /** Every load case and segment set: what is gated. The usual one first. */
  readonly cases: readonly Mass[]
  /** Index in `cases` of the usual load by the children's set, where that is computed. */
  readonly childCase: number | undefined
  readonly shifts: readonly Shift[]
}

/** Person-dependent parts that stay the same for every chair. */
export interface Sitter {
  readonly person: Person
  readonly body: Body
  readonly masses: readonly BodyMasses[]
  /** Nothing carried, the usual loads, the worst usual day: each gated, since a bag can be put down. The usual first. */
  readonly loadCases: readonly (readonly Load[])[]
  readonly carriesOnHandles: boolean
}

export const sitterOf = (person: Person, body: Body): Sitter => {
  const loads = person.loads ?? []
  const usual = loads.filter(load => load.when !== 'worst')
  const loadCases = [usual]
  if (usual.length < loads.length) loadCases.push(loads)
  if (usual.length > 0) loadCases.push([])
  return {
    person,
    body,
    masses: body.segmentSets.map(set => bodyMasses(person, body, set)),
    loadCases,
    carriesOnHandles: loads.some(load => load.at === 'handles'),
  }
}

/** The heaviest load case with the person: what a capacity must carry. */
export const carriedKg = (sitter: Sitter): number =>
  sitter.body.totalMassKg + (sitter.person.loads ?? []).reduce((sum, load) => sum + load.massKg, 0)

const placed = (masses: BodyMasses, joints: Joints, statureMm: number): Mass => ({
  massKg: masses.totalKg,
  ...centreOfBody(masses, joints, statureMm),
})

/** A person posed on a chair, nothing carried yet: what a back height does not change. */
export interface PosedFrame extends Pick<LoadedFrame, 'model' | 'seat' | 'joints' | 'shifts'> {
  readonly sitter: Sitter
  readonly frame: Mass
  /** The body by each segment set. */
  readonly bodies: readonly Mass[]
}

const loadsOn = (
  { sitter, seat, joints, frame }: Omit<PosedFrame, 'shifts'>,
  body: Mass,
  backHeightMm: number,
): Mass[] =>
  sitter.loadCases.map(loads =>
    combine([body, frame, ...loads.map(load => loadMass(load, seat, joints, backHeightMm))]),
  )

export const poseFrame = (sitter: Sitter, model: ChairModel, height: SeatHeight, cushion: Cushion): PosedFrame => {
  const seat = seatOf(model, height, cushion)
  const joints = seatedJoints(sitter.body, seat)
  const frame = frameMass(model)
  const bodies = sitter.masses.map(masses => placed(masses, joints, sitter.body.statureMm))
  const posed = { model, seat, joints, sitter, frame, bodies }
  const [body, adult] = [bodies[0], sitter.masses[0]]
  // Wherever the back is, the loads weigh the same.
  const usual = body && loadsOn(posed, body, 0)[0]
  if (!usual || !adult) throw new Error('a sitter without segment sets')
  return { ...posed, shifts: shiftsOf(sitter, adult, seat, joints, frame, usual.massKg + model.wheelMassKg) }
}

export const loadPosed = (posed: PosedFrame, backHeightMm: number): LoadedFrame => {
  const { model, seat, joints, shifts, sitter, bodies } = posed
  const cases = bodies.flatMap(body => loadsOn(posed, body, backHeightMm))
  const [usual] = cases
  if (!usual) throw new Error('a sitter without segment sets')
  const childCase = sitter.masses.length > 1 ? sitter.loadCases.length : undefined
  return { model, seat, joints, usual, cases, childCase, shifts }
}

export const loadFrame = (
  sitter: Sitter,
  model: ChairModel,
  height: SeatHeight,
  cushion: Cushion,
  backHeightMm: number,
): LoadedFrame => loadPosed(poseFrame(sitter, model, height, cushion), backHeightMm)

/**
 * Standard errors as shifts, each by moving one input and posing the body again (fitting review, part 1: body, chair, how
 * the person sits, model). Errors of the sources are taken as independent of each other.
 */
const shiftsOf = (
  sitter: Sitter,
  masses: BodyMasses,
  seat: Seat,
  joints: Joints,
  frame: Mass,
  totalKg: number,
): readonly Shift[] => {
  const { body } = sitter
  const share = body.totalMassKg / totalKg
  const before = placed(masses, joints, body.statureMm)
  const moved = (source: Shift['source'], change: Partial<Body>, seatChange: Partial<Seat> = {}): Shift => {
    const other = { ...body, ...change }
    const posed = seatedJoints(other, { ...seat, ...seatChange })
    const after = placed(masses, posed, other.statureMm)
    return {
      source,
      xMm: (after.xMm - before.xMm) * share,
      zMm: (after.zMm - before.zMm) * share,
      yMm: 0,
      shoulderXMm: posed.shoulder.xMm - joints.shoulder.xMm,
      shoulderZMm: posed.shoulder.zMm - joints.shoulder.zMm,
    }
  }
  const straight = (
    source: Shift['source'],
    xMm: number,
    zMm: number,
    yMm = 0,
    shoulderXMm = 0,
    shoulderZMm = 0,
  ): Shift => ({ source, xMm, zMm, yMm, shoulderXMm, shoulderZMm })
  const { errors, thighDepthMm, calfLengthMm } = body
  const longer = (lengths: { left: number; right: number }) => ({
    left: lengths.left + errors.lengthMm,
    right: lengths.right + errors.lengthMm,
  })
  const massShift = errors.massKg / totalKg
  return [
    straight(
      'body',
      (before.xMm - frame.xMm) * massShift * (1 - share),
      (before.zMm - frame.zMm) * massShift * (1 - share),
    ),
    moved('body', { thighDepthMm: longer(thighDepthMm) }),
    moved('body', { calfLengthMm: longer(calfLengthMm) }),
    moved('body', { shoulderHeightMm: body.shoulderHeightMm + errors.shoulderMm }),
    moved('body', { statureMm: body.statureMm + errors.statureMm }),
    straight('chair', (10 * frame.massKg) / totalKg, 0),
    straight('chair', 0, (25 * frame.massKg) / totalKg),
    moved('chair', {}, { rearMm: seat.rearMm + 5 }),
    moved('chair', {}, { frontMm: seat.frontMm + 5 }),
    moved('chair', {}, { reclineDeg: seat.reclineDeg + 1 }),
    moved('chair', {}, { underSeatBonesMm: seat.underSeatBonesMm + 6, underThighsMm: seat.underThighsMm + 6 }),
    straight('sitting', 15 * share, 0, 0, 15, 0),
    straight('sitting', 0, 0, 15 * share),
    moved('sitting', { shoulderHeightMm: body.shoulderHeightMm - 8 }),
    straight('model', 10 * share, 0),
    straight('model', 0, 12 * share),
  ]
}

/** The loaded chair on its wheels with one axle position: what the tipping formulas take. */
export interface OnWheels {
  readonly axleXMm: number
  readonly wheelbaseMm: number
  readonly totalKg: number
  readonly comAheadMm: number
  readonly comHeightMm: number
  readonly comLeftMm: number
  readonly cases: readonly { readonly comAheadMm: number; readonly comHeightMm: number; readonly comLeftMm: number }[]
  readonly shoulder: Point
  /** Radians by which a raised hole turns the frame about the caster axle, rear down. */
  readonly turn: number
}

/** Turns a point of the frame about the caster axle, rear down: wheels and ground stay (fitting review, 1.2). */
export const turnAboutCaster = (model: ChairModel, turn: number, point: Point): Point => {
  if (turn === 0) return point
  const dx = point.xMm - model.casterContactXMm
  const dz = point.zMm - model.casterRadiusMm
  return {
    xMm: model.casterContactXMm + dx * Math.cos(turn) - dz * Math.sin(turn),
    zMm: model.casterRadiusMm + dz * Math.cos(turn) + dx * Math.sin(turn),
  }
}

export const frameTurn = (model: ChairModel, axle: AxlePosition): number =>
  axle.raiseMm === 0 ? 0 : Math.atan(axle.raiseMm / (model.casterContactXMm - axle.xMm))

export const putOnWheels = (frame: LoadedFrame, axle: AxlePosition): OnWheels => {
  const { model } = frame
  const turn = frameTurn(model, axle)
  const hole = turnAboutCaster(model, turn, { xMm: axle.xMm, zMm: model.rearWheelRadiusMm + axle.raiseMm })
  const axleXMm = hole.xMm
  const withWheels = (mass: Mass) => {
    const turned = turnAboutCaster(model, turn, mass)
    const total = mass.massKg + model.wheelMassKg
    return {
      comAheadMm: (mass.massKg * (turned.xMm - axleXMm)) / total,
      comHeightMm: (mass.massKg * turned.zMm + model.wheelMassKg * model.rearWheelRadiusMm) / total,
      comLeftMm: (mass.massKg * mass.yMm) / total,
    }
  }
  const cases = frame.cases.map(withWheels)
  const usual = cases[0] ?? withWheels(frame.usual)
  return {
    axleXMm,
    wheelbaseMm: model.casterContactXMm - axleXMm,
    totalKg: frame.usual.massKg + model.wheelMassKg,
    ...usual,
    cases,
    shoulder: turnAboutCaster(model, turn, frame.joints.shoulder),
    turn,
  }
}
