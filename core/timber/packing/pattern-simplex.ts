import type { Pattern } from './kinds.ts'

/**
 * The basis of a covering problem over patterns: least number of patterns so that every row is covered as often as wanted. Keeps a
 * dense inverse (by columns); patterns and exchanges are brought in one at a time. Rows are sorted from the largest size down.
 */
export class PatternSimplex {
  /** What one more of each row would cost: the dual solution. */
  readonly worths: Float64Array
  private readonly rows: number
  private readonly demand: Int32Array
  private readonly inverse: Float64Array
  private readonly levels: Float64Array
  private readonly basis: (Pattern | Exchange)[]
  private readonly direction: Float64Array

  /** Begins with one pattern a row, filled with nothing but that row. */
  constructor(sizes: Int32Array, demand: Int32Array, capacity: number) {
    const m = sizes.length
    this.rows = m
    this.demand = demand
    this.inverse = new Float64Array(m * m)
    this.levels = new Float64Array(m)
    this.worths = new Float64Array(m)
    this.direction = new Float64Array(m)
    this.basis = []
    for (let row = 0; row < m; row++) {
      const count = Math.min(demand[row]!, Math.floor(capacity / sizes[row]!))
      this.basis.push({ kinds: [row], counts: [count] })
      this.inverse[row * m + row] = 1 / count
      this.worths[row] = 1 / count
      // A little more than is wanted, differently for each row, so that the search does not stall on ties.
      this.levels[row] = (demand[row]! + 1e-6 * (0.5 + ((row * 0.618034) % 1))) / count
    }
  }

  worthOf(pattern: Pattern): number {
    const { kinds, counts } = pattern
    let worth = 0
    for (let index = 0; index < kinds.length; index++) worth += this.worths[kinds[index]!]! * counts[index]!
    return worth
  }

  /** The dual value: at the optimum the value of the relaxation, free of the levels' little extra. */
  value(): number {
    let value = 0
    for (let row = 0; row < this.rows; row++) value += this.worths[row]! * this.demand[row]!
    return value
  }

  enter(pattern: Pattern): void {
    const { rows: m, inverse, direction } = this
    direction.fill(0)
    for (let index = 0; index < pattern.kinds.length; index++) {
      const count = pattern.counts[index]!
      const start = pattern.kinds[index]! * m
      for (let row = 0; row < m; row++) direction[row]! += count * inverse[start + row]!
    }
    this.pivot(pattern, 1 - this.worthOf(pattern))
  }

  /**
   * Lets a larger size stand in for the next smaller one (or the smallest be covered more often than wanted) where the smaller is
   * worth more; false when there is none such.
   */
  enterExchange(): boolean {
    const { rows: m, worths, inverse, direction } = this
    let lowest = -1e-9
    let larger = -1
    for (let row = 0; row < m; row++) {
      const gain = worths[row]! - (row + 1 < m ? worths[row + 1]! : 0)
      if (gain < lowest) {
        lowest = gain
        larger = row
      }
    }
    if (larger < 0) return false
    const [from, to] = [larger * m, (larger + 1) * m]
    for (let row = 0; row < m; row++) direction[row] = (larger + 1 < m ? inverse[to + row]! : 0) - inverse[from + row]!
    return this.pivot({ larger }, lowest)
  }

  /** How often each pattern of the basis is used; what exchanges do is left out. */
  uses(): readonly { readonly pattern: Pattern; readonly use: number }[] {
    return this.basis.flatMap((column, row) =>
      'kinds' in column && this.levels[row]! > 1e-5 ? [{ pattern: column, use: this.levels[row]! }] : [],
    )
  }

  private pivot(entering: Pattern | Exchange, reducedCost: number): boolean {
    const { rows: m, inverse, levels, direction, worths } = this
    let leaving = -1
    let step = Infinity
    for (let row = 0; row < m; row++) {
      if (direction[row]! < 1e-9) continue
      const ratio = levels[row]! / direction[row]!
      if (ratio < step - 1e-13 || (ratio < step + 1e-13 && direction[row]! > direction[leaving]!)) {
        step = ratio
        leaving = row
      }
    }
    if (leaving < 0) return false
    const scale = 1 / direction[leaving]!
    direction[leaving] = 0
    for (let column = 0; column < m; column++) {
      const start = column * m
      const factor = inverse[start + leaving]! * scale
      if (factor === 0) continue
      for (let row = 0; row < m; row++) inverse[start + row]! -= direction[row]! * factor
      inverse[start + leaving] = factor
      worths[column]! += reducedCost * factor
    }
    for (let row = 0; row < m; row++) levels[row] = Math.max(0, levels[row]! - direction[row]! * step)
    levels[leaving] = step
    this.basis[leaving] = entering
    return true
  }
}

/** One of row `larger` serves as one of the next row. */
interface Exchange {
  readonly larger: number
}
