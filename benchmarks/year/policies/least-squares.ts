/**
 * The weights with which a sum of terms comes nearest to the values, in the sense of least squares, by the normal equations.
 * A term that follows from others gets no weight of its own.
 * @param rows the terms of each value
 */
export function leastSquares(rows: readonly (readonly number[])[], values: readonly number[]): number[] {
  const count = rows[0]?.length ?? 0
  // Terms are scaled to their size, so that minutes and counts can be told from rounding in the same way.
  const scale = Array.from({ length: count }, (_, term) => Math.max(1e-12, ...rows.map((row) => Math.abs(row[term]!))))
  const matrix = Array.from({ length: count }, (_, a) => [
    ...Array.from({ length: count }, (_unused, b) => sum(rows, (row) => (row[a]! / scale[a]!) * (row[b]! / scale[b]!))),
    sum(rows, (row, index) => (row[a]! / scale[a]!) * values[index]!),
  ])
  return eliminated(matrix).map((weight, term) => weight / scale[term]!)
}

const sum = <T>(items: readonly T[], of: (item: T, index: number) => number): number =>
  items.reduce((total, item, index) => total + of(item, index), 0)

/** Solves by elimination with the largest pivot; columns without one get 0. */
function eliminated(matrix: number[][]): number[] {
  const count = matrix.length
  const least = 1e-9 * Math.max(1, ...matrix.map((row, index) => Math.abs(row[index]!)))
  const pivots: number[] = []
  const left = new Set(matrix.keys())
  for (let column = 0; column < count; column++) {
    const pivot = [...left].reduce((best, row) =>
      Math.abs(matrix[row]![column]!) > Math.abs(matrix[best]![column]!) ? row : best,
    )
    pivots.push(-1)
    if (Math.abs(matrix[pivot]![column]!) < least) continue
    pivots[column] = pivot
    left.delete(pivot)
    for (let row = 0; row < count; row++) {
      if (row === pivot) continue
      const factor = matrix[row]![column]! / matrix[pivot]![column]!
      for (let at = column; at <= count; at++) matrix[row]![at]! -= factor * matrix[pivot]![at]!
    }
    if (left.size === 0) {
      for (let rest = column + 1; rest < count; rest++) pivots.push(-1)
      break
    }
  }
  return pivots.map((pivot, column) => (pivot < 0 ? 0 : matrix[pivot]![count]! / matrix[pivot]![column]!))
}
