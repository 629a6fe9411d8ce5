import { type Formula, type SumFunction, type SumSymbol, symbolsOf } from '../../src/sum.ts'

const DEGREE = Math.PI / 180

/** What a person with a calculator does (precedence of multiplication over addition; angles in degrees). */
const FUNCTIONS: Readonly<Record<SumFunction, (...values: readonly number[]) => number>> = {
  atan: value => Math.atan(value ?? Number.NaN) / DEGREE,
  cos: value => Math.cos((value ?? Number.NaN) * DEGREE),
  sqrt: value => Math.sqrt(value ?? Number.NaN),
  ln: value => Math.log(value ?? Number.NaN),
  floor: value => Math.floor(value ?? Number.NaN),
  min: (...values) => Math.min(...values),
  max: (...values) => Math.max(...values),
}

class Working {
  #at = 0
  readonly #symbols: readonly SumSymbol[]
  readonly #given: (name: string) => number

  constructor(symbols: readonly SumSymbol[], given: (name: string) => number) {
    this.#symbols = symbols
    this.#given = given
  }

  whole(): number {
    const value = this.#sum()
    if (this.#at !== this.#symbols.length) throw new Error(`something is left over at symbol ${this.#at}`)
    return value
  }

  #takes(...signs: readonly string[]): string | undefined {
    const symbol = this.#symbols[this.#at]
    if (symbol?.type !== 'sign' || !signs.includes(symbol.sign)) return undefined
    this.#at += 1
    return symbol.sign
  }

  #must(sign: string): void {
    if (this.#takes(sign) === undefined) throw new Error(`no ${sign} at symbol ${this.#at}`)
  }

  #sum(): number {
    let value = this.#product()
    for (let sign = this.#takes('+', '-'); sign; sign = this.#takes('+', '-'))
      value = sign === '+' ? value + this.#product() : value - this.#product()
    return value
  }

  #product(): number {
    let value = this.#factor()
    for (let sign = this.#takes('*', '/'); sign; sign = this.#takes('*', '/'))
      value = sign === '*' ? value * this.#factor() : value / this.#factor()
    return value
  }

  #factor(): number {
    if (this.#takes('(')) {
      const value = this.#sum()
      this.#must(')')
      return value
    }
    const symbol = this.#symbols[this.#at]
    this.#at += 1
    if (symbol?.type === 'figure') return symbol.value
    if (symbol?.type === 'input') return this.#given(symbol.name)
    if (symbol?.type !== 'function') throw new Error(`no value at symbol ${this.#at - 1}`)
    this.#must('(')
    const values = [this.#sum()]
    while (this.#takes(',')) values.push(this.#sum())
    this.#must(')')
    return FUNCTIONS[symbol.name](...values)
  }
}

/** The right side of a formula, worked out with these values. */
export const workedOut = (formula: Formula, given: (name: string) => number): number =>
  new Working(symbolsOf(formula).slice(2), given).whole()

/** Names that a formula takes, the result first. */
export const namesIn = (formula: Formula): readonly string[] =>
  symbolsOf(formula).flatMap(symbol => (symbol.type === 'input' ? [symbol.name] : []))
