/** One piece of work as a number: `y` = effect of its maker + of its operation + of its order + noise. Positions count from 0. */
export interface EffectRow {
  readonly maker: number
  readonly operation: number
  /** Rows of one order share its effect; null: none. */
  readonly order: string | null
  readonly y: number
  /** 1 / variance of the noise. */
  readonly precision: number
}

export interface Spreads {
  readonly makerSd: number
  readonly operationSd: number
  readonly orderSd: number
}

export interface JointEffects {
  /** Of the makers, then of the operations. */
  readonly means: readonly number[]
  readonly covariance: readonly (readonly number[])[]
  readonly orders: ReadonlyMap<string, number>
}

/**
 * What is known of all effects together, each with a normal prior around 0: weighted least squares with the priors as further
 * rows, the orders' effects integrated out.
 * @source Gelman et al., Bayesian Data Analysis (3rd ed. 2013), 15.3
 */
export function jointEffects(
  rows: readonly EffectRow[],
  makers: number,
  operations: number,
  { makerSd, operationSd, orderSd }: Spreads,
): JointEffects {
  const size = makers + operations
  const information = Array.from({ length: size }, (_, at) => {
    const row = Array<number>(size).fill(0)
    row[at] = 1 / (at < makers ? makerSd : operationSd) ** 2
    return row
  })
  const target = Array<number>(size).fill(0)
  const byOrder = Map.groupBy(rows, ({ order }) => order)
  for (const [order, own] of byOrder) {
    const sums = Array<number>(size).fill(0)
    let [total, weighted] = [order === null ? Infinity : 1 / orderSd ** 2, 0]
    for (const { maker, operation, y, precision } of own) {
      for (const one of [maker, makers + operation]) {
        for (const other of [maker, makers + operation]) information[one]![other]! += precision
        target[one]! += precision * y
        sums[one]! += precision
      }
      total += precision
      weighted += precision * y
    }
    if (order === null) continue
    const touched = sums.flatMap((sum, at) => (sum === 0 ? [] : [at]))
    for (const one of touched) {
      for (const other of touched) information[one]![other]! -= (sums[one]! * sums[other]!) / total
      target[one]! -= (sums[one]! * weighted) / total
    }
  }
  const covariance = inverse(information)
  const means = covariance.map((row) => row.reduce((sum, value, at) => sum + value * target[at]!, 0))
  const orders = new Map<string, number>()
  for (const [order, own] of byOrder) {
    if (order === null) continue
    const left = own.reduce(
      (sum, row) => sum + row.precision * (row.y - means[row.maker]! - means[makers + row.operation]!),
      0,
    )
    orders.set(order, left / (1 / orderSd ** 2 + own.reduce((sum, { precision }) => sum + precision, 0)))
  }
  return { means, covariance, orders }
}

/** The lower triangle L with L L' = the matrix, which must be symmetric and positive definite. */
export function cholesky(matrix: readonly (readonly number[])[]): number[][] {
  const lower: number[][] = []
  for (const [at, row] of matrix.entries()) {
    const made: number[] = []
    for (let column = 0; column <= at; column++) {
      const other = column === at ? made : lower[column]!
      let rest = row[column]!
      for (let k = 0; k < column; k++) rest -= made[k]! * other[k]!
      made.push(column === at ? Math.sqrt(Math.max(rest, 1e-15)) : rest / other[column]!)
    }
    lower.push(made)
  }
  return lower
}

function inverse(matrix: readonly (readonly number[])[]): number[][] {
  const lower = cholesky(matrix)
  const size = matrix.length
  const solved = Array.from({ length: size }, () => Array<number>(size).fill(0))
  for (let unit = 0; unit < size; unit++) {
    const forward = Array<number>(size).fill(0)
    for (let at = unit; at < size; at++) {
      let rest = at === unit ? 1 : 0
      for (let k = unit; k < at; k++) rest -= lower[at]![k]! * forward[k]!
      forward[at] = rest / lower[at]![at]!
    }
    for (let at = size - 1; at >= 0; at--) {
      let rest = forward[at]!
      for (let k = at + 1; k < size; k++) rest -= lower[k]![at]! * solved[k]![unit]!
      solved[at]![unit] = rest / lower[at]![at]!
    }
  }
  return solved
}
