import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { projectFolder, runProgram, type Ended } from './run-program.ts'

export interface Check {
  readonly name: string
  run(): Promise<Ended>
}

const program =
  (file: string, ...args: string[]): Check['run'] =>
  () =>
    runProgram(file, args, { shown: false })

/** Everything that can be checked without running the app, the slowest first so that several at a time end together. */
const checks: readonly Check[] = [
  { name: 'lint (eslint)', run: program('eslint/bin/eslint.js', '--max-warnings=0', '.') },
  {
    name: 'types (svelte-check)',
    run: program('svelte-check/bin/svelte-check', '--tsconfig', './tsconfig.json', '--fail-on-warnings'),
  },
  {
    name: 'format (prettier)',
    run: program('prettier/bin/prettier.cjs', '--check', '--cache', '--log-level=warn', '.'),
  },
  { name: 'unused code (knip)', run: program('knip/bin/knip.js', '--no-progress') },
  {
    name: 'core runs in the app (knip)',
    run: program('knip/bin/knip.js', '--no-progress', '--config', 'knip.app.json'),
  },
  {
    name: 'layers (dependency-cruiser)',
    run: program('dependency-cruiser/bin/dependency-cruiser.mjs', '--output-type', 'err', ...layered()),
  },
]

function layered(): string[] {
  return ['core', 'db', 'migrations', 'desk', 'electron', 'renderer', 'commands', 'test', 'benchmarks'].filter(
    (folder) => existsSync(join(projectFolder, folder)),
  )
}

/** Runs all checks, so many at a time, and shows what each has to say when it fails. */
export async function runChecks(atATime = 2): Promise<{ readonly passed: number; readonly failed: number }> {
  const waiting = [...checks]
  let failed = 0
  const runNext = async (): Promise<void> => {
    for (let check = waiting.shift(); check !== undefined; check = waiting.shift()) {
      const started = performance.now()
      const { code, output } = await check.run()
      console.log(
        `${code === 0 ? 'ok    ' : 'FAILED'} ${check.name}, ${((performance.now() - started) / 1000).toFixed(1)} s`,
      )
      if (code === 0) continue
      failed += 1
      console.log(output.trim())
    }
  }
  await Promise.all(Array.from({ length: atATime }, runNext))
  return { passed: checks.length - failed, failed }
}
