/** Activities with durations, needs of each resource, and who follows whom; capacities of the resources. */
export interface Project {
  readonly durations: readonly number[]
  /** By activity, then by resource. */
  readonly needs: readonly (readonly number[])[]
  readonly capacities: readonly number[]
  readonly successors: readonly (readonly number[])[]
}

/**
 * Reads a single-mode project of the `.sm` text format (R. Kolisch, A. Sprecher, EJOR 96 (1996) 205-216). Activities
 * keep their order in the file, both dummies included.
 */
export function readPsplib(text: string): Project {
  const lines = text.split(/\r?\n/)
  const after = (heading: string, skip: number): number => {
    const line = lines.findIndex((candidate) => candidate.startsWith(heading))
    if (line < 0) throw new Error(`The file has no line "${heading}".`)
    return line + 1 + skip
  }
  const numbers = (line: number): number[] => (lines[line] ?? '').trim().split(/\s+/).map(Number)
  const jobs = lines.find((line) => line.startsWith('jobs'))
  const count = Number(jobs?.split(':')[1])
  const precedence = after('PRECEDENCE RELATIONS:', 1)
  const requests = after('REQUESTS/DURATIONS:', 2)
  const activities = Array.from({ length: count }, (_, activity) => activity)
  const rows = activities.map((activity) => numbers(requests + activity))
  return {
    durations: rows.map((row) => row[2] ?? Number.NaN),
    needs: rows.map((row) => row.slice(3)),
    capacities: numbers(after('RESOURCEAVAILABILITIES:', 1)),
    successors: activities.map((activity) =>
      numbers(precedence + activity)
        .slice(3)
        .map((job) => job - 1),
    ),
  }
}
