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

/** Farther than this from what it names, a label is tied to it by a thin line, px. */
const LEADER_FROM_PX = 24

/** From the edge of a label to what it names; undefined where they stand close enough. */
export const leaderOf = (box: Box, anchor: Spot): readonly [Spot, Spot] | undefined => {
  const [dx, dy] = [anchor.x - box.x, anchor.y - box.y]
  const share = Math.min(
    1,
    dx === 0 ? Number.POSITIVE_INFINITY : box.width / 2 / Math.abs(dx),
    dy === 0 ? Number.POSITIVE_INFINITY : box.height / 2 / Math.abs(dy),
  )
  const from = { x: box.x + dx * share, y: box.y + dy * share }
  return Math.hypot(anchor.x - from.x, anchor.y - from.y) < LEADER_FROM_PX ? undefined : [from, anchor]
}

/** Small boxes along a line. */
const alongLeader = (leader: readonly [Spot, Spot] | undefined): Box[] => {
  if (!leader) return []
  const [from, to] = leader
  const count = Math.ceil(Math.hypot(to.x - from.x, to.y - from.y) / 6)
  return Array.from({ length: count }, (_, index) => {
    const share = (index + 1) / count
    return { x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y), width: 3, height: 3 }
  })
}

/**
 * Puts labels where nothing else stands, in the order of the wishes: the first place inside the room that touches neither
 * what must stay free nor a label already put, and whose line to what it names crosses no label. A label without such a
 * place is left out: its number stands in the list beside the drawing.
 */
export const placeLabels = (
  wishes: readonly LabelWish[],
  sizeOf: (text: string) => { readonly width: number; readonly height: number },
  free: readonly Box[],
  room: Room,
): readonly PlacedLabel[] => {
  const placed: PlacedLabel[] = []
  const leaders: Box[] = []
  const fits = (box: Box, anchor: Spot): boolean =>
    isInside(box, room) &&
    ![...free, ...leaders, ...placed.map(label => label.box)].some(other => boxesTouch(box, other)) &&
    !alongLeader(leaderOf(box, anchor)).some(step => placed.some(label => boxesTouch(step, label.box)))
  for (const { key, text, anchor, places } of wishes) {
    const size = sizeOf(text)
    const found = places
      .map(place => {
        const by = place.by ?? anchor
        return { by, box: { x: by.x + place.x + shift(place, size.width), y: by.y + place.y, ...size } }
      })
      .find(({ box, by }) => fits(box, by))
    if (!found) continue
    placed.push({ key, text, box: found.box, anchor: found.by })
    leaders.push(...alongLeader(leaderOf(found.box, found.by)))
  }
  return placed
}
