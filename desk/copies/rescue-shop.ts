import { rmSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { failed, ok, problem, type Result } from '../../core/problems.ts'
import { rescue } from '../../db/rescue.ts'
import { readyFile, type ReadyCopy } from '../../db/restore.ts'
import type { RescueView } from '../safekeeping.ts'

/** The rescued file is in place by now: no room for the list must not be told as if it were not. */
function writeLost(setAside: string, lost: readonly string[]): void {
  try {
    writeFileSync(join(setAside, 'what-was-lost.txt'), [...lost, ''].join('\n'), { mode: 0o600 })
  } catch (fault) {
    console.error('What was lost was not written down:', fault)
  }
}

/**
 * The guided way out of a damaged file: first what can be read is put into a new file and told, with what cannot; only then,
 * when the maker says so, does that file take the damaged one's place, which is kept aside with the list beside it.
 */
export class ShopRescue {
  readonly #path: string
  #found: RescueView | null = null

  constructor(path: string) {
    this.#path = path
  }

  get #rescued(): string {
    return `${this.#path}-rescued`
  }

  async look(): Promise<Result<RescueView>> {
    this.#found = null
    const rescued = await rescue(this.#path, this.#rescued)
    if (!rescued.ok) return rescued
    this.#found = { orders: rescued.value.orders, lost: rescued.value.lost }
    return ok(this.#found)
  }

  /** The rescued file, ready to take the place of the damaged one. */
  ready(): Result<ReadyCopy> {
    if (this.#found === null) return failed(problem('not-looked', 'Look first what can be read.'))
    const { lost } = this.#found
    const ready = readyFile(this.#path, { path: this.#rescued, name: 'of what was rescued' })
    if (!ready.ok) return ready
    return ok({
      putInPlace: (atMs) => {
        const done = ready.value.putInPlace(atMs)
        if (done.ok && done.value.setAside !== null) writeLost(done.value.setAside, lost)
        this.leave()
        return done
      },
    })
  }

  /** Takes the new file away again. */
  leave(): void {
    this.#found = null
    for (const ending of ['', '-wal', '-shm']) rmSync(this.#rescued + ending, { force: true })
  }
}
