import type { StepEntry } from '../../core/book/book.ts'
import type { Bench } from './executor/bench.ts'
import type { Happening } from './executor/evening.ts'
import { uniform } from './luck.ts'
import type { Shop } from './shop.ts'

/** The log as this shop keeps it: some starts are never pressed, some presses come late, some pauses are forgotten. */
export class Presses {
  readonly #shop: Shop
  #open: StepEntry[] = []
  readonly #closed: StepEntry[] = []
  #ids = 0

  constructor(shop: Shop) {
    this.#shop = shop
  }

  /** Presses of the evening. What is to be done again is taken back. */
  log(happened: readonly Happening[], bench: Bench): void {
    const { noStart, late, lateMin, pauseForgotten } = this.#shop.world.pressing
    const undone = new Set<string>()
    for (const { kind, step, at } of happened) {
      if (kind === 'undone') {
        undone.add(step)
        this.#open = this.#open.filter(({ stepId }) => stepId !== step)
        continue
      }
      const luck = `${step}/press ${bench.attempt(step)}`
      const isNeverStarted = uniform(`${luck}/start`) < noStart
      // A pause that was forgotten leaves the step running: there is nothing to go on with either.
      const isForgotten = uniform(`${luck}/pause`) < pauseForgotten
      if (kind !== 'done' && isNeverStarted) continue
      if ((kind === 'paused' || kind === 'went-on') && isForgotten) continue
      const isLate = kind === 'done' && uniform(`${luck}/late`) < late
      this.#press(step, kind, isLate ? at + lateMin : at)
    }
    this.#open.sort(inOrder)
  }

  #press(stepId: string, kind: 'started' | 'paused' | 'went-on' | 'done', atMin: number): void {
    const action = kind === 'went-on' ? ({ kind: 'started' } as const) : ({ kind } as const)
    this.#open.push({ id: ++this.#ids, atMin, stepId, makerId: 'maker', action })
  }

  /** Nobody asks about these steps any more, but for what can be learned from them. */
  close(steps: readonly string[]): void {
    const closed = new Set(steps)
    for (const entry of this.#open) if (closed.has(entry.stepId)) this.#closed.push(entry)
    this.#open = this.#open.filter(({ stepId }) => !closed.has(stepId))
  }

  /** What was pressed until an instant on steps of open orders. */
  ofOpenOrders(now: number): readonly StepEntry[] {
    return upTo(this.#open, now)
  }

  /** Everything that was pressed until an instant and not taken back. */
  whole(now: number): readonly StepEntry[] {
    return upTo([...this.#closed, ...this.#open].sort(inOrder), now)
  }
}

const inOrder = (a: StepEntry, b: StepEntry): number => a.atMin - b.atMin || a.id - b.id

const upTo = (entries: readonly StepEntry[], now: number): readonly StepEntry[] =>
  entries.filter(({ atMin }) => atMin <= now)
