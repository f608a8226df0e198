import type { CameTrue } from '../../../core/learning/index.ts'
import type { OpenOrder, ShopView } from '../lived.ts'

/** What became of the promises of a shop, as its maker sees it: an order that is no longer open is done. */
export class OwnRecord {
  /** The promise that was last given, by customer. */
  readonly #promised = new Map<string, OpenOrder>()
  readonly #cameTrue = new Map<string, CameTrue & { readonly dueAt: number }>()

  promised(order: OpenOrder): void {
    this.#promised.set(order.order.customer.id, order)
  }

  /** Promises that are kept or whose day is past, the first that was due first. */
  until({ now, open, wholeLog }: ShopView): readonly CameTrue[] {
    const isOpen = new Set(open.map(({ order }) => order.customer.id))
    const over = [...this.#promised].filter(([id, { promised }]) => !isOpen.has(id) || promised.dueAt < now)
    if (over.length > 0) {
      const doneAt = lastDone(wholeLog())
      for (const [id, { order, promised }] of over) {
        this.#promised.delete(id)
        if (promised.stated === null) continue
        const end = Math.max(0, ...order.book.steps.map((step) => doneAt.get(step.id) ?? 0))
        const kept = !isOpen.has(id) && end <= promised.dueAt
        this.#cameTrue.set(id, { stated: promised.stated, kept, dueAt: promised.dueAt })
      }
    }
    return [...this.#cameTrue.values()].sort((a, b) => a.dueAt - b.dueAt)
  }
}

const lastDone = (log: ReturnType<ShopView['wholeLog']>): ReadonlyMap<string, number> =>
  new Map(log.flatMap(({ stepId, action, atMin }) => (action.kind === 'done' ? [[stepId, atMin]] : [])))
