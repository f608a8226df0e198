/** Jobs of operations in order, each on one machine, which does one at a time. */
export interface JobShop {
  readonly machines: number
  readonly jobs: readonly (readonly { readonly machine: number; readonly duration: number }[])[]
}

/** Reads a job shop: a line with jobs and machines, then for each job pairs of machine (from 0) and duration. */
export function readJobShop(text: string): JobShop {
  const rows = text
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '' && !line.startsWith('#'))
    .map((line) => line.split(/\s+/).map(Number))
  const [jobs, machines] = rows[0] ?? []
  if (jobs === undefined || machines === undefined || rows.length < jobs + 1)
    throw new Error('The first line must say how many jobs and machines follow.')
  return {
    machines,
    jobs: rows.slice(1, jobs + 1).map((row) =>
      Array.from({ length: row.length / 2 }, (_, place) => ({
        machine: row[2 * place]!,
        duration: row[2 * place + 1]!,
      })),
    ),
  }
}
