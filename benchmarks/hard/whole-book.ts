import { sql } from 'kysely'
import { openBook } from '../../db/commissions.ts'
import { openShopFile } from '../../db/connection.ts'
import { anOrder } from '../../test/db/support/orders.ts'

export const NOW_MS = Date.UTC(2026, 10, 25, 18)
const one = anOrder('x')

/**
 * Opens a file after an attack and compares it with what its writer had been answered.
 * @param answered lines of `write-orders.ts`: `order ID NUMBER`, `step ID`
 * @returns what broke; null: nothing
 */
export async function whatBroke(path: string, answered: readonly string[]): Promise<string | null> {
  const opened = await openShopFile(path, { clockMs: () => NOW_MS })
  if (!opened.ok) return `not opened: ${opened.problems[0]?.message}`
  const { db, close } = opened.value
  try {
    const { rows } = await sql<{ integrity_check: string }>`pragma integrity_check`.execute(db)
    if (rows[0]?.integrity_check !== 'ok') return `integrity: ${rows[0]?.integrity_check}`
    const book = await openBook(db)
    const numbers = new Map(book.commissions.map(({ id, number }) => [id, number]))
    const started = new Set(book.log.map(({ stepId }) => stepId))
    for (const line of answered) {
      const [what, id = '', number] = line.split(' ')
      if (what === 'order' && numbers.get(id) !== Number(number)) return `lost: ${line}`
      if (what === 'step' && !started.has(`${id}-piece-first-glue-up`)) return `lost: ${line}`
    }
    for (const id of numbers.keys()) {
      const steps = book.steps.filter((step) => step.commissionId === id)
      if (steps.length !== one.steps.length) return `by half: order ${id} with ${steps.length} steps`
    }
    return null
  } finally {
    await close()
  }
}

/** A program of the tests, under this Node. */
export const programPath = (name: string): string => new URL(`../../test/db/programs/${name}`, import.meta.url).pathname
