/** A project with lags of either sign from start to start. */
export interface LaggedProject {
  readonly durations: readonly number[]
  /** By activity, then by resource. */
  readonly needs: readonly (readonly number[])[]
  readonly capacities: readonly number[]
  readonly lags: readonly StartLag[]
}

/** start(to) >= start(from) + lag; below 0 it is a maximum lag the other way round. */
export interface StartLag {
  readonly from: number
  readonly to: number
  readonly lag: number
}

/** Reads a project with minimum and maximum lags of the `.sch` text format (ProGen/max); source and sink keep their places. */
export function readProgenMax(text: string): LaggedProject {
  const rows = text
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '')
  const numbers = (row: number): number[] => (rows[row] ?? '').replace(/[[\]]/g, ' ').trim().split(/\s+/).map(Number)
  const nodes = (numbers(0)[0] ?? Number.NaN) + 2
  const lags: StartLag[] = []
  const durations: number[] = []
  const needs: number[][] = []
  for (let node = 0; node < nodes; node++) {
    const arcs = numbers(1 + node)
    const from = arcs[0]!
    const heads = arcs[2]!
    for (let arc = 0; arc < heads; arc++) lags.push({ from, to: arcs[3 + arc]!, lag: arcs[3 + heads + arc]! })
    const needsRow = numbers(1 + nodes + node)
    durations.push(needsRow[2]!)
    needs.push(needsRow.slice(3))
  }
  return { durations, needs, capacities: numbers(1 + 2 * nodes), lags }
}
