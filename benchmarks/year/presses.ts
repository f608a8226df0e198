import type { StepEntry } from '../../core/book/book.ts'
import type { Bench } from './executor/bench.ts'
import type { Happening } from './executor/evening.ts'
import type { Mishap } from './executor/truth.ts'
import { uniform } from './luck.ts'
import type { Shop } from './shop.ts'

/** Something that went wrong, as it is pressed. */
export interface Failure {
  readonly stepId: string
  readonly atMin: number
  readonly reason: Mishap['reason']
}

/** The log as this shop keeps it: some starts are never pressed, some presses come late, some pauses are forgotten. */
export class Presses {
  readonly #shop: Shop
  #open: StepEntry[] = []
  readonly #closed: StepEntry[] = []
  readonly #failures: Failure[] = []
  #ids = 0

  constructor(shop: Shop) {
    this.#shop = shop
  }

  /** Presses of the evening. What is to be done again is taken back. */
  log(happened: readonly Happening[], bench: Bench): void {
    const { noStart, late, lateMin, pauseForgotten } = this.#shop.world.pressing
    for (const happening of happened) {
      const { kind, step, at } = happening
      if (kind === 'failed') {
        this.#failures.push({ stepId: step, atMin: at, reason: happening.reason })
        continue
      }
      if (kind === 'undone') {
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

  /** What was said to have gone wrong until an instant. */
  failures(now: number): readonly Failure[] {
    return this.#failures.filter(({ atMin }) => atMin <= now)
  }

  /** Everything that was pressed until an instant and not taken back. */
  whole(now: number): readonly StepEntry[] {
    return upTo([...this.#closed, ...this.#open].sort(inOrder), now)
  }
}

const inOrder = (a: StepEntry, b: StepEntry): number => a.atMin - b.atMin || a.id - b.id

const upTo = (entries: readonly StepEntry[], now: number): readonly StepEntry[] =>
  entries.filter(({ atMin }) => atMin <= now)
