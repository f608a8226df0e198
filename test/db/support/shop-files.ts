import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { onTestFinished } from 'vitest'
import type { Problem, Result } from '../../../core/problems.ts'
import { readyCopy } from '../../../db/restore.ts'
import { type OpenOptions, openShopFile, type ShopFile } from '../../../db/connection.ts'

/** Wednesday 25 November 2026, 18:00 UTC. */
export const START_MS = Date.UTC(2026, 10, 25, 18)

/** An empty folder that goes when the test is over. */
export function aFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'out-of-clamps-'))
  onTestFinished(() => rmSync(folder, { recursive: true, force: true }))
  return folder
}

export const aShopPath = (): string => join(aFolder(), 'shop.sqlite')

/** Opens a real file and closes it when the test is over, should the test not have done so. */
export async function openShop(path = aShopPath(), options: Partial<OpenOptions> = {}): Promise<ShopFile> {
  const shop = valueOf(await openShopFile(path, { clockMs: () => START_MS, ...options }))
  let open = true
  const close = async () => {
    if (open) await shop.close()
    open = false
  }
  onTestFinished(close)
  return { ...shop, close }
}

/** The value, or the problems as a failure of the test. */
export function valueOf<T>(result: Result<T>): T {
  if (!result.ok) throw new Error(result.problems.map((one) => `${one.code}: ${one.message}`).join('\n'))
  return result.value
}

/** The first problem of something that was to be refused. */
export function problemOf(result: Result<unknown>): Problem {
  const [first] = result.ok ? [] : result.problems
  if (first === undefined) throw new Error('expected a problem, got a value')
  return first
}

/** Puts a copy in the place of a closed file. */
export function restoreBackup(path: string, name: string, atMs: number): Result<{ readonly setAside: string | null }> {
  const ready = readyCopy(path, name)
  return ready.ok ? ready.value.putInPlace(atMs) : ready
}
