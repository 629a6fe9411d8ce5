/** What a line of stock can be, apart from what a crew counts under words of its own (fasteners, tubes, tools). */
export type StockItem =
  | { readonly kind: 'chair'; readonly model: string; readonly seatWidthMm: number; readonly seatDepthMm: number }
  | { readonly kind: 'cushion'; readonly cushion: string }
  | { readonly kind: 'part'; readonly model: string; readonly part: string }

/**
 * The name of a line of stock: `chair trail-folding 400 x 440`, `cushion flat-foam`, `part trail-folding caster-fork-pair`.
 * Chairs of one model, width and depth are one line, since any of them is as good as another. A cushion key names the same
 * cushion in every model. No movement takes a name above 80 characters: keys of model and part should be short.
 */
export const stockLineOf = (item: StockItem): string => {
  switch (item.kind) {
    case 'chair':
      return `chair ${item.model} ${item.seatWidthMm} x ${item.seatDepthMm}`
    case 'cushion':
      return `cushion ${item.cushion}`
    case 'part':
      return `part ${item.model} ${item.part}`
  }
}

const KEY = '[a-z0-9][a-z0-9-]{0,39}'
const MM = '\\d+(?:\\.\\d+)?'
const CHAIR = new RegExp(`^chair (${KEY}) (${MM}) x (${MM})$`)
const CUSHION = new RegExp(`^cushion (${KEY})$`)
const PART = new RegExp(`^part (${KEY}) (${KEY})$`)

/** What a line names; undefined for one that a crew named otherwise. Gives back exactly what `stockLineOf` wrote. */
export const readStockLine = (line: string): StockItem | undefined => {
  const [, model, width, depth] = CHAIR.exec(line) ?? []
  if (model && width && depth) return { kind: 'chair', model, seatWidthMm: Number(width), seatDepthMm: Number(depth) }
  const [, cushion] = CUSHION.exec(line) ?? []
  if (cushion) return { kind: 'cushion', cushion }
  const [, ofModel, part] = PART.exec(line) ?? []
  return ofModel && part ? { kind: 'part', model: ofModel, part } : undefined
}
