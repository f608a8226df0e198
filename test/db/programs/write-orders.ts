import { addCommission } from '../../../db/commissions.ts'
import { openShopFile } from '../../../db/connection.ts'
import { saveDraft } from '../../../db/drafts.ts'
import { logStep } from '../../../db/steps.ts'
import { anOrder } from '../support/orders.ts'

/**
 * Writes orders, steps and drafts until it is killed, and says of each thing that it is on disk only when the store has
 * answered. Run as a program: `write-orders.ts <file> <name of this run>`.
 */
const [, , path = '', run = ''] = process.argv
const opened = await openShopFile(path, { clockMs: () => Date.now() })
if (!opened.ok) {
  console.log(`refused ${opened.problems[0]?.message}`)
  process.exit(3)
}
const { db } = opened.value
console.log('open')
for (let at = 0; ; at++) {
  const id = `${run}-${at}`
  const stamp = { atMs: at, makerId: run }
  await saveDraft(db, { id: 'draft', content: { typed: id } }, at)
  console.log(`draft ${id}`)
  const { number } = await addCommission(db, anOrder(id), stamp)
  console.log(`order ${id} ${number}`)
  await logStep(db, `${id}-piece-first-glue-up`, { kind: 'started' }, stamp)
  console.log(`step ${id}`)
}
