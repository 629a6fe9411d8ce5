import { type FieldName, fieldOf } from '../../src/case/fields.ts'

/** The shapes of schema that a field's answers are read from, as far as a form needs them. */
interface Shape {
  readonly options?: readonly unknown[]
  readonly element?: Shape
  unwrap?(): Shape
  safeParse(value: unknown): { readonly success: boolean }
}

const shapeOf = (name: FieldName): Shape => fieldOf(name).schema as unknown as Shape

const enumIn = (shape: Shape): readonly string[] => {
  const inner = shape.unwrap ? shape.unwrap() : shape
  const options = inner.options ?? []
  return options.every(option => typeof option === 'string') ? options : []
}

const takes = (name: FieldName, value: unknown): boolean => shapeOf(name).safeParse(value).success

export interface Answers {
  /** The words that the registry allows, in its order. */
  readonly options: readonly string[]
  readonly many: boolean
  /** Whether "none" is an answer: null for one answer, an empty list for many. */
  readonly none: boolean
}

/** The answers that the registry allows for a choice; no options where it is not a choice between words. */
export const answersOf = (name: FieldName): Answers => {
  const shape = shapeOf(name)
  const many = takes(name, []) || (shape.element !== undefined && enumIn(shape.element).length > 0)
  const options = many && shape.element ? enumIn(shape.element) : enumIn(shape)
  return { options, many, none: takes(name, many ? [] : null) }
}

export const isYesOrNo = (name: FieldName): boolean => takes(name, true)
export const isNumber = (name: FieldName): boolean => fieldOf(name).kind === 'choice' && takes(name, 2000)
