/**
 * How far measurers differ on the same people, as sums that add up. Values are whole numbers of a field's steps, so that the
 * sums are exact in any order.
 */
export interface Agreement {
  /** By number of measurers of a person: how many such persons, and the squares of the differences of each two of their values. */
  readonly byMeasurers: Map<number, { readonly people: number; readonly squares: number }>
  values: number
  sum: number
  squareSum: number
}

export const noAgreement = (): Agreement => ({ byMeasurers: new Map(), values: 0, sum: 0, squareSum: 0 })

/** Notes what several measurers found of one person, one value each. One value alone says nothing of agreement. */
export const addMeasured = (agreement: Agreement, values: readonly number[]): void => {
  if (values.length < 2) return
  const wrong = values.find(value => !Number.isInteger(value))
  if (wrong !== undefined) throw new RangeError(`not a whole number of steps: ${wrong}`)
  let squares = 0
  for (const [index, value] of values.entries())
    for (const other of values.slice(index + 1)) squares += (value - other) ** 2
  const known = agreement.byMeasurers.get(values.length)
  agreement.byMeasurers.set(values.length, {
    people: (known?.people ?? 0) + 1,
    squares: (known?.squares ?? 0) + squares,
  })
  for (const value of values) {
    agreement.values += 1
    agreement.sum += value
    agreement.squareSum += value ** 2
  }
}

export const mergeAgreement = (agreement: Agreement, other: Agreement): void => {
  for (const [measurers, { people, squares }] of other.byMeasurers) {
    const known = agreement.byMeasurers.get(measurers)
    agreement.byMeasurers.set(measurers, {
      people: (known?.people ?? 0) + people,
      squares: (known?.squares ?? 0) + squares,
    })
  }
  agreement.values += other.values
  agreement.sum += other.sum
  agreement.squareSum += other.squareSum
}

/** In steps of the field, but for the share and the reliability. */
export interface MeasurementError {
  readonly people: number
  /** Technical error of measurement. */
  readonly error: number
  /** Of the mean, in per cent. Null: the mean is 0. */
  readonly relativePercent: number | null
  /** Share of the spread between people that is no error. Null: all values are one. */
  readonly reliability: number | null
}

/**
 * Technical error of measurement: the root of the mean variance within people, of K measurers sum(M^2) - (sum M)^2 / K over
 * K - 1, of two the root of sum(D^2) / 2N; reliability 1 - error^2 / SD^2 (Ulijaszek SJ, Kerr DA. Br J Nutr 1999;82:165-77).
 * Null: nobody was measured by two.
 */
export const measurementError = ({ byMeasurers, values, sum, squareSum }: Agreement): MeasurementError | null => {
  let [people, within, freedom] = [0, 0, 0]
  for (const [measurers, one] of [...byMeasurers].sort(([a], [b]) => a - b)) {
    people += one.people
    // The squares of all differences of K values are K times those about their mean.
    within += one.squares / measurers
    freedom += one.people * (measurers - 1)
  }
  if (freedom === 0) return null
  const variance = within / freedom
  const error = Math.sqrt(variance)
  const mean = sum / values
  const spread = (squareSum - sum * mean) / (values - 1)
  return {
    people,
    error,
    relativePercent: mean === 0 ? null : (100 * error) / mean,
    reliability: spread > 0 ? 1 - variance / spread : null,
  }
}
