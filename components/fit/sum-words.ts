import { type Formula, isSumInput, type SumInputs, type SumSign, type SumSymbol, symbolsOf } from '../../src/sum.ts'
import { inside } from '../text/say-value.ts'
import { currentSpeech, t } from '../text/text.ts'
import { sayInput, sayInputName } from './reason-words.ts'

const SIGNS: Readonly<Record<SumSign, string>> = {
  '=': ' = ',
  '+': ' + ',
  '-': ' − ',
  '*': ' × ',
  '/': ' / ',
  ',': '; ',
  '(': '(',
  ')': ')',
}
/** ISO 80000-2: the same in every language. */
const FUNCTION_SIGNS = { atan: 'arctan ', cos: 'cos ', sqrt: '√', ln: 'ln ', floor: 'int ', min: 'min ', max: 'max ' }

/** One piece of a line: `value` is a number with its unit, which keeps its own direction. */
export interface SumPiece {
  readonly type: 'value' | 'sign'
  readonly text: string
}

export interface SumLine {
  /** The input that it gives. */
  readonly name: string
  /** The formula with the names of what goes in. */
  readonly words: string
  /** The same with the values, the result apart. */
  readonly figures: readonly SumPiece[]
  readonly result: string
}

const sayFigure = (value: number): string => currentSpeech().number(value, 4)

const inWords = (symbol: SumSymbol): string => {
  switch (symbol.type) {
    case 'input':
      return isSumInput(symbol.name) ? inside(sayInputName(symbol.name)) : symbol.name
    case 'figure':
      return sayFigure(symbol.value)
    case 'function':
      return `${t(`sum.${symbol.name}`)} `
    case 'sign':
      return SIGNS[symbol.sign]
  }
}

const isNumber = (inputs: SumInputs, name: string): boolean =>
  isSumInput(name) && typeof inputs[name] === 'number' && Number.isFinite(inputs[name])

/** The formulas whose every input has a value, in words and in figures. */
export const sumLines = (sum: readonly Formula[], inputs: SumInputs): readonly SumLine[] =>
  sum.flatMap(formula => {
    const symbols = symbolsOf(formula)
    const [first] = symbols
    if (symbols.some(symbol => symbol.type === 'input' && !isNumber(inputs, symbol.name))) return []
    const inFigures = (symbol: SumSymbol): SumPiece => {
      switch (symbol.type) {
        case 'input':
          return {
            type: 'value',
            text: isSumInput(symbol.name) ? sayInput(symbol.name, inputs[symbol.name] ?? null) : '',
          }
        case 'figure':
          return { type: 'value', text: sayFigure(symbol.value) }
        case 'function':
          return { type: 'sign', text: FUNCTION_SIGNS[symbol.name] }
        case 'sign':
          return { type: 'sign', text: SIGNS[symbol.sign] }
      }
    }
    return [
      {
        name: first?.type === 'input' ? first.name : '',
        words: symbols.map(inWords).join(''),
        figures: symbols.slice(2).map(inFigures),
        result: first ? inFigures(first).text : '',
      },
    ]
  })
