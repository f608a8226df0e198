import { readFileSync, writeFileSync } from 'node:fs'
import { resolve } from 'node:path'
import { parseArgs } from 'node:util'
import { packBins } from '../core/timber/packing/pack.ts'
import { checkPacking } from './check-packing.ts'
import { readBinPacking } from './formats/bin-packing.ts'
import { instancesIn, type Instance } from './known-values.ts'

interface Row {
  readonly instance: string
  /** Bins used. */
  readonly value: number
  readonly known: number | null
  /** Bound that the packer proved itself. */
  readonly lower: number
  readonly seconds: number
  /** Bin of each item, in the order of the instance file, from 0. */
  readonly bins: readonly number[]
}

/** The answer is to be out when the time is up, and the search looks at its clock only now and then. */
const READY_BEFORE_MS = 20

main()

function main(): void {
  const { values } = parseArgs({
    options: {
      dir: { type: 'string' },
      seconds: { type: 'string', default: '1' },
      seed: { type: 'string', default: '1' },
      out: { type: 'string' },
    },
  })
  const seconds = Number(values.seconds)
  if (values.dir === undefined || !(seconds > 0)) {
    console.error('Use: bench:cut -- --dir <folder> [--seconds <s>] [--seed k] [--out result.json]')
    process.exitCode = 2
    return
  }
  const instances = instancesIn(resolve(values.dir), /\.(txt|bpp)$/i)
  const rows = instances.map((instance) => packed(instance, seconds, Number(values.seed)))
  if (values.out !== undefined) {
    writeFileSync(values.out, `[\n${rows.map((row) => JSON.stringify(row)).join(',\n')}\n]\n`)
  }
  const folders = new Set(rows.map(folderOf))
  if (folders.size > 1) {
    for (const folder of folders)
      console.log(
        summary(
          folder,
          rows.filter((row) => folderOf(row) === folder),
        ),
      )
  }
  console.log(summary('all', rows))
}

function packed(instance: Instance, seconds: number, seed: number): Row {
  const text = readFileSync(instance.file, 'utf8')
  const { sizes, capacity } = readBinPacking(text)
  const started = performance.now()
  const until = started + seconds * 1000 - READY_BEFORE_MS
  const { bins, lowerBound } = packBins(sizes, capacity, {
    seed,
    tries: Number.POSITIVE_INFINITY,
    stop: () => performance.now() > until,
  })
  const elapsed = (performance.now() - started) / 1000
  const binOf = sizes.map(() => -1)
  for (const [bin, items] of bins.entries()) for (const item of items) binOf[item] = bin
  const verdict = checkPacking(text, binOf)
  if (!verdict.fine) throw new Error(`${instance.name}: the answer is no packing, ${verdict.fault}.`)
  const known = instance.known?.value ?? null
  if (known !== null && lowerBound > known) {
    throw new Error(`${instance.name}: the bound ${lowerBound} is above the known ${known}.`)
  }
  const rounded = Math.round(elapsed * 1000) / 1000
  return { instance: instance.name, value: verdict.value, known, lower: lowerBound, seconds: rounded, bins: binOf }
}

function folderOf({ instance }: Row): string {
  return instance.includes('/') ? instance.slice(0, instance.lastIndexOf('/')) : '.'
}

function summary(name: string, rows: readonly Row[]): string {
  const compared = rows.filter((row) => row.known !== null)
  const atKnown = compared.filter((row) => row.value === row.known).length
  const above = compared.reduce((sum, row) => sum + row.value - (row.known ?? 0), 0)
  const proved = rows.filter((row) => row.value === row.lower).length
  const mean = rows.reduce((sum, row) => sum + row.seconds, 0) / Math.max(1, rows.length)
  const longest = Math.max(0, ...rows.map((row) => row.seconds))
  const known =
    compared.length === 0
      ? 'no known values'
      : `${atKnown} of ${compared.length} at the known value, ${above} bins above`
  return `${name}: ${known}; ${proved} of ${rows.length} proved best; ${mean.toFixed(3)} s each, at most ${longest.toFixed(2)} s`
}
