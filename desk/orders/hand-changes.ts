import type { HandChange } from '../../core/book/hand-changes-carried.ts'
import { entriesOf } from '../../db/log.ts'
import type { RowChange } from '../../db/row-changes.ts'
import type { Order } from '../../db/commissions.ts'
import type { Db } from '../../db/schema.ts'

/** What the maker did to the steps of an order by hand and did not undo, by piece, oldest first. */
export type HandChanges = ReadonlyMap<string, readonly HandChange[]>

/** Reads it out of the log: a step that was left out is nowhere else any more. */
export async function handChanges(db: Db, { commission, steps }: Order): Promise<HandChanges> {
  const entries = (await entriesOf(db, commission.id)).filter(({ counts }) => counts)
  const changes = entries.flatMap(({ action, event }) => {
    if (event.kind !== 'rows') return []
    const rows = event.changes.filter(({ table }) => table === 'step')
    if (action === 'step-left-out') return rows.flatMap(leftOut)
    return action === 'step-earlier' ? earlier(rows, steps) : []
  })
  return new Map(
    [...Map.groupBy(changes, ({ pieceId }) => pieceId)].map(([pieceId, all]) => [
      pieceId,
      all.map(({ change }) => change),
    ]),
  )
}

interface OfPiece {
  readonly pieceId: string
  readonly change: HandChange
}

function leftOut({ before, after }: RowChange): OfPiece[] {
  if (before === null || after !== null) return []
  const step = { operation: String(before['operation']), name: String(before['name']) }
  return [{ pieceId: String(before['piece_id']), change: { kind: 'left-out', lot: Number(before['lot']), step } }]
}

function earlier(rows: readonly RowChange[], steps: Order['steps']): OfPiece[] {
  const moved = (isIt: (by: number) => boolean) => {
    const row = rows.find(({ before, after }) => isIt(Number(after?.['position']) - Number(before?.['position'])))
    return steps.find(({ id }) => id === row?.key['id'])
  }
  const [step, before] = [moved((by) => by < 0), moved((by) => by > 0)]
  return step === undefined || before === undefined
    ? []
    : [{ pieceId: step.pieceId, change: { kind: 'earlier', lot: step.lot, step, before } }]
}
