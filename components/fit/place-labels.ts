/** A box on screen, px: its middle and its size. */
export interface Box {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

/** A point on screen, px. */
export interface Spot {
  readonly x: number
  readonly y: number
}

/** What wants to be written near a place of the drawing, and where it may stand, the best place first. */
export interface LabelWish {
  readonly key: string
  readonly text: string
  readonly anchor: Spot
  readonly places: readonly Place[]
}

/** From the anchor, px: where the middle of the box stands, or its start or end edge. */
export interface Place {
  readonly x: number
  readonly y: number
  readonly edge?: 'start' | 'end'
  /** Another point of the same thing to stand by. */
  readonly by?: Spot
}

export interface PlacedLabel {
  readonly key: string
  readonly text: string
  readonly box: Box
  readonly anchor: Spot
}

export interface Room {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

export const boxesTouch = (a: Box, b: Box): boolean =>
  Math.abs(a.x - b.x) * 2 < a.width + b.width && Math.abs(a.y - b.y) * 2 < a.height + b.height

const isInside = (box: Box, room: Room): boolean =>
  box.x - box.width / 2 >= room.left &&
  box.x + box.width / 2 <= room.right &&
  box.y - box.height / 2 >= room.top &&
  box.y + box.height / 2 <= room.bottom

const shift = ({ edge }: Place, width: number): number =>
  edge === undefined ? 0 : edge === 'start' ? width / 2 : -width / 2

/** A stroke on the drawing, px. */
export type Stroke = readonly [Spot, Spot]
export interface Ring {
  readonly centre: Spot
  readonly radius: number
}

/** What no label may cover. */
export interface KeptFree {
  readonly boxes: readonly Box[]
  readonly strokes: readonly Stroke[]
  readonly rings: readonly Ring[]
}

/** Strokes are this wide with the air beside them, px. */
const STROKE_PX = 5

/** Whether a line meets a box: what of the line lies between each pair of opposite edges, cut down until nothing is left. */
export const strokeMeets = ([from, to]: Stroke, box: Box, widthPx = STROKE_PX): boolean => {
  let [start, end] = [0, 1]
  for (const [at, by, middle, half] of [
    [from.x, to.x - from.x, box.x, (box.width + widthPx) / 2],
    [from.y, to.y - from.y, box.y, (box.height + widthPx) / 2],
  ] as const) {
    if (by === 0) {
      if (Math.abs(at - middle) >= half) return false
      continue
    }
    const [one, other] = [(middle - half - at) / by, (middle + half - at) / by]
    start = Math.max(start, Math.min(one, other))
    end = Math.min(end, Math.max(one, other))
    if (start >= end) return false
  }
  return true
}

/** Whether the line of a circle meets a box: its nearest point lies inside the circle and its farthest outside. */
const ringMeets = ({ centre, radius }: Ring, box: Box): boolean => {
  const [dx, dy] = [Math.abs(box.x - centre.x), Math.abs(box.y - centre.y)]
  const [halfX, halfY] = [(box.width + STROKE_PX) / 2, (box.height + STROKE_PX) / 2]
  const nearest = Math.hypot(Math.max(0, dx - halfX), Math.max(0, dy - halfY))
  return nearest <= radius && Math.hypot(dx + halfX, dy + halfY) >= radius
}

/** Farther than this from what it names, a label is tied to it by a thin line, px. */
const LEADER_FROM_PX = 24

/** From the edge of a label to what it names; undefined where they stand close enough. */
export const leaderOf = (box: Box, anchor: Spot): Stroke | undefined => {
  const [dx, dy] = [anchor.x - box.x, anchor.y - box.y]
  const share = Math.min(
    1,
    dx === 0 ? Number.POSITIVE_INFINITY : box.width / 2 / Math.abs(dx),
    dy === 0 ? Number.POSITIVE_INFINITY : box.height / 2 / Math.abs(dy),
  )
  const from = { x: box.x + dx * share, y: box.y + dy * share }
  return Math.hypot(anchor.x - from.x, anchor.y - from.y) < LEADER_FROM_PX ? undefined : [from, anchor]
}

/**
 * Puts labels where nothing else stands, in the order of the wishes: the first place inside the room that touches neither
 * what must stay free nor a label already put, and whose line to what it names crosses no label. A label without such a
 * place is left out: its number stands in the list beside the drawing.
 */
export const placeLabels = (
  wishes: readonly LabelWish[],
  sizeOf: (text: string) => { readonly width: number; readonly height: number },
  free: KeptFree,
  room: Room,
): readonly PlacedLabel[] => {
  const placed: PlacedLabel[] = []
  const leaders: Stroke[] = []
  const fits = (box: Box, anchor: Spot): boolean => {
    if (!isInside(box, room)) return false
    if (placed.some(label => boxesTouch(box, label.box)) || free.boxes.some(other => boxesTouch(box, other)))
      return false
    if (free.rings.some(ring => ringMeets(ring, box))) return false
    if (free.strokes.some(stroke => strokeMeets(stroke, box))) return false
    if (leaders.some(leader => strokeMeets(leader, box))) return false
    const leader = leaderOf(box, anchor)
    return leader === undefined || !placed.some(label => strokeMeets(leader, label.box, 0))
  }
  for (const { key, text, anchor, places } of wishes) {
    const size = sizeOf(text)
    for (const place of places) {
      const by = place.by ?? anchor
      const box = { x: by.x + place.x + shift(place, size.width), y: by.y + place.y, ...size }
      if (!fits(box, by)) continue
      placed.push({ key, text, box, anchor: by })
      const leader = leaderOf(box, by)
      if (leader) leaders.push(leader)
      break
    }
  }
  return placed
}
