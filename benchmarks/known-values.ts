import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs'
import { dirname, join, relative, sep } from 'node:path'

export interface KnownValue {
  readonly value: number | null
  readonly lower: number | null
  readonly criticalPath: number | null
  readonly status: string
  /** Of a set with due dates: least weighted tardiness, and least makespan with it; null elsewhere. */
  readonly tardiness: number | null
  readonly makespanAtTardiness: number | null
}

export interface Instance {
  /** Path below the folder that was asked for, with forward slashes. */
  readonly name: string
  readonly file: string
  readonly known: KnownValue | null
}

/**
 * The instance files of a folder and of folders in it, each with its line of `known.csv`: the one beside it or the nearest
 * one further up, up to the folder above the one asked for. Without such a line `known` is null.
 * @param names which files are instances, by their path below the folder
 */
export function instancesIn(folder: string, names: RegExp): Instance[] {
  const files = (at: string): string[] =>
    readdirSync(at)
      .sort(byNumber.compare)
      .map((name) => join(at, name))
      .flatMap((path) => {
        if (statSync(path).isDirectory()) return files(path)
        return names.test(slashed(relative(folder, path))) ? [path] : []
      })
  const tables = new Map<string, Map<string, KnownValue>>()
  const tableIn = (at: string): Map<string, KnownValue> => {
    const table = tables.get(at) ?? readKnown(join(at, 'known.csv'))
    tables.set(at, table)
    return table
  }
  return files(folder).map((file) => {
    let known: KnownValue | null = null
    for (let at = dirname(file); known === null; at = dirname(at)) {
      known = tableIn(at).get(slashed(relative(at, file))) ?? null
      if (at === dirname(at) || relative(dirname(folder), at) === '') break
    }
    return { name: slashed(relative(folder, file)), file, known }
  })
}

function readKnown(file: string): Map<string, KnownValue> {
  if (!existsSync(file)) return new Map()
  const [heading = '', ...rows] = readFileSync(file, 'utf8').trim().split(/\r?\n/)
  const columns = heading.split(',')
  return new Map(
    rows.map((row) => {
      const cells = row.split(',')
      const cell = (column: string): string => cells[columns.indexOf(column)] ?? ''
      const number = (column: string): number | null => (cell(column) === '' ? null : Number(cell(column)))
      return [
        cell('instance'),
        {
          value: number('optimum_or_best'),
          lower: number('lower_bound'),
          criticalPath: number('critical_path'),
          status: cell('status'),
          tardiness: number('weighted_tardiness'),
          makespanAtTardiness: number('makespan_at_min_tardiness'),
        },
      ]
    }),
  )
}

const slashed = (path: string): string => path.split(sep).join('/')

const byNumber = new Intl.Collator('en', { numeric: true })
