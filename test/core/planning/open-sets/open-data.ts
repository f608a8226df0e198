import { existsSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { describe, it } from 'vitest'
import { instancesIn, type KnownValue } from '../../../../benchmarks/known-values.ts'

interface OpenInstance {
  readonly name: string
  readonly text: string
  readonly known: KnownValue
}

/**
 * Tests on every n-th instance of an open benchmark that may not travel with the project; it is looked for beside the
 * project folder, and where it is missing its tests are reported as skipped by name.
 */
export function describeOpenData(
  folder: string,
  names: RegExp,
  every: number,
  tests: (instances: readonly OpenInstance[]) => void,
): void {
  const path = fileURLToPath(new URL(`../../../../../shared/bench-data/${folder}`, import.meta.url))
  if (!existsSync(path)) {
    describe(`instances of ${folder}`, () => it.skip(`are missing: ../shared/bench-data/${folder}`, () => undefined))
    return
  }
  const instances = instancesIn(path, names)
    .filter((_, index) => index % every === 0)
    .flatMap(({ name, file, known }) => (known === null ? [] : [{ name, text: readFileSync(file, 'utf8'), known }]))
  if (instances.length === 0) throw new Error(`No instance of ${folder} has a name like ${names}.`)
  describe(`${instances.length} instances of ${folder}`, () => tests(instances))
}
