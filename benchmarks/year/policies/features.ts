import type { ShopView } from '../lived.ts'
import type { WorkOrder } from '../work-order.ts'

/** What a rule may look at when a day is quoted; times in minutes. */
export interface Features {
  /** Hands-on work of the order, p. */
  readonly own: number
  /** Its steps, n. */
  readonly steps: number
  /** The longest chain of its waits, c. */
  readonly waits: number
  /** Hands-on work ahead in the book, W, and open orders, J. */
  readonly ahead: number
  readonly orders: number
}

export function featuresOf({ open, isDone }: Pick<ShopView, 'open' | 'isDone'>, { book }: WorkOrder): Features {
  let ahead = 0
  for (const { order } of open) for (const step of order.book.steps) if (!isDone(step.id)) ahead += step.minutes
  return {
    own: book.steps.reduce((sum, { minutes }) => sum + minutes, 0),
    steps: book.steps.length,
    waits: longestWaits(book),
    ahead,
    orders: open.length,
  }
}

function longestWaits({ steps, lags }: WorkOrder['book']): number {
  const into = Map.groupBy(lags, ({ toStep }) => toStep)
  const known = new Map<string, number>()
  const until = (step: string): number => {
    const found = known.get(step)
    if (found !== undefined) return found
    const longest = Math.max(0, ...(into.get(step) ?? []).map(({ fromStep, minMin }) => until(fromStep) + minMin))
    known.set(step, longest)
    return longest
  }
  return Math.max(0, ...steps.map(({ id }) => until(id)))
}
