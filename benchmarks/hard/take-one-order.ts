import { addCommission } from '../../db/commissions.ts'
import { openShopFile } from '../../db/connection.ts'
import { anOrder } from '../../test/db/support/orders.ts'
import { NOW_MS } from './whole-book.ts'

// Opens a book, takes one order, closes it, and says what came of it: `take-one-order.ts <file>`.
try {
  const opened = await openShopFile(process.argv[2] ?? '', { clockMs: () => NOW_MS })
  if (!opened.ok) console.log(`refused ${opened.problems[0]?.code}`)
  else {
    const { db, close } = opened.value
    await addCommission(db, anOrder('more'), { atMs: NOW_MS, makerId: null }).then(
      ({ number }) => console.log(`order more ${number}`),
      (fault: unknown) => console.log(`refused ${String(fault)}`),
    )
    await close().catch(() => undefined)
  }
} catch (fault) {
  console.log(`refused ${String(fault)}`)
}
