import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { randomStream } from '../core/chance/seeded-random.ts'
import { everyByte } from './hard/bytes.ts'
import { everyProcedure } from './hard/calls.ts'
import { clockCases } from './hard/clocks.ts'
import { growth } from './hard/growth.ts'
import { kills } from './hard/kills.ts'
import { flatMemory } from './hard/memory.ts'
import { randomPage } from './hard/page.ts'
import { powerCuts } from './hard/power-cuts.ts'
import { restoresWhileWriting } from './hard/restores.ts'
import { twoStarts } from './hard/starts.ts'
import { failingSyscalls } from './hard/syscalls.ts'
import type { Outcome, Trial } from './hard/trial.ts'

// What the store, the desk and the page bear: nothing acknowledged is lost, nothing is there by half, nothing is opened silently wrong.
//   npm run --silent bench:hard -- --scale 0.02 --only kills,calls --seed 7
// Hours at full size; `--scale` takes a share of each trial, `--seconds` ends each after so long, `--part 2/5` takes the second of
// five parts of the bytes. Ends with 1 when anything broke.
const { values } = parseArgs({
  options: {
    scale: { type: 'string', default: '1' },
    only: { type: 'string', default: '' },
    seconds: { type: 'string', default: 'Infinity' },
    seed: { type: 'string', default: '1' },
    part: { type: 'string', default: '1/1' },
  },
})

const TRIALS: Readonly<Record<string, Trial>> = {
  kills,
  'power-cuts': powerCuts,
  syscalls: failingSyscalls,
  bytes: everyByte,
  starts: twoStarts,
  restores: restoresWhileWriting,
  calls: everyProcedure,
  clocks: clockCases,
  memory: flatMemory,
  growth,
  page: randomPage,
}

const scale = Number(values.scale)
const only = values.only === '' ? Object.keys(TRIALS) : values.only.split(',')
const unknown = only.filter((name) => !(name in TRIALS))
if (unknown.length > 0 || !(scale > 0))
  throw new Error(`Trials are ${Object.keys(TRIALS).join(', ')}; the scale is a number above 0.`)

const [part = 1, parts = 1] = values.part.split('/').map(Number)
let broke = 0
console.log(`seed ${values.seed}, scale ${scale}`)
for (const name of only) {
  const folder = mkdtempSync(join(tmpdir(), `hard-${name}-`))
  const from = performance.now()
  try {
    const { fraction: random } = randomStream(Number(values.seed))
    const isOver = (): boolean => (performance.now() - from) / 1000 > Number(values.seconds)
    print(
      name,
      await TRIALS[name]!({ scale, random, part: [part - 1, parts], isOver, folder }),
      (performance.now() - from) / 1000,
    )
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}
process.exitCode = broke === 0 ? 0 : 1

function print(name: string, { runs, said, broken }: Outcome, seconds: number): void {
  broke += broken.length
  console.log(
    `${name.padEnd(12)} ${String(runs).padStart(7)} runs  ${broken.length} broke  ${seconds.toFixed(0)} s  ${said}`,
  )
  for (const line of broken.slice(0, 10)) console.log(`    ${line}`)
}
