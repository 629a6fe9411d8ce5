import practiceCatalogue from '../../demo/practice-catalogue.json'
import { type Catalogue, type ChairModel, catalogueSchema } from '../../src/chair/chair-model.ts'
import { type ResolvedSetUp, resolveSetUp, type SetUp } from '../../src/chair/set-up.ts'

export const practice: Catalogue = catalogueSchema.parse(practiceCatalogue)

export const practiceModel = (key: string): ChairModel => {
  const model = practice.models.find(one => one.key === key)
  if (model === undefined) throw new Error(`no practice model ${key}`)
  return model
}

const keyOf = (rows: readonly { readonly key: string }[], index: number): string => {
  const row = rows[index % rows.length]
  if (row === undefined) throw new Error('an empty list of choices')
  return row.key
}

/** A set-up of a model: the first of each choice, the axle as weighed. */
export const practiceSetUp = (model: ChairModel): SetUp => ({
  chair: model.key,
  seatWidthMm: model.seatWidthsMm[0] ?? Number.NaN,
  seatDepth: keyOf(model.seatDepths, 0),
  seatHeight: keyOf(model.seatHeights, 0),
  axle: model.referenceAxle,
  backHeight: keyOf(model.backHeights, 0),
  cushion: keyOf(model.cushions, 0),
  footrestLeftMm: model.footrest.minMm,
  footrestRightMm: model.footrest.minMm,
  armrestMm: model.armrest?.minMm ?? null,
})

export const resolvedIn = (catalogue: Catalogue, setUp: SetUp): ResolvedSetUp => {
  const target = resolveSetUp(catalogue, setUp)
  if (target === undefined) throw new Error(`no such set-up of ${setUp.chair}`)
  return target
}

/** The same model with parts replaced, through its schema. */
export const changedModel = (key: string, change: Partial<ChairModel>): Catalogue =>
  catalogueSchema.parse({ ...practice, models: [{ ...practiceModel(key), ...change }] })
