import { entriesTakenBack } from './log.ts'
import type { Db } from './schema.ts'

/** Of more orders than these nobody answers: the newest ones count. */
const AT_MOST = 60

/**
 * Orders that were handed over after an instant, with a piece of whose wood nothing is known: no board was cut for one of its lots, and nobody
 * said that what it took is off the list. The newest first.
 */
export async function ordersWithoutWood(db: Db, afterMs: number): Promise<string[]> {
  const pieces = await db
    .selectFrom('log')
    .innerJoin('commission', 'commission.id', 'log.commission_id')
    .innerJoin('piece', 'piece.commission_id', 'commission.id')
    .select(['commission.id as commission', 'piece.id as piece', 'log.id as entry'])
    .where('log.action', '=', 'commission-handed-over')
    .where('log.at_ms', '>', afterMs)
    .where('commission.standing', '=', 'handed-over')
    .where(({ exists, selectFrom }) =>
      exists(
        selectFrom('step')
          .select('step.id')
          .whereRef('step.piece_id', '=', 'piece.id')
          .where((of) =>
            of.not(
              of.exists(
                of
                  .selectFrom('part_cut')
                  .select('part_cut.board_id')
                  .whereRef('part_cut.piece_id', '=', 'step.piece_id')
                  .whereRef('part_cut.lot', '=', 'step.lot'),
              ),
            ),
          ),
      ),
    )
    .orderBy('log.id', 'desc')
    .execute()
  if (pieces.length === 0) return []
  const takenBack = await entriesTakenBack(db)
  const told = await db
    .selectFrom('log')
    .select(['id', 'piece_id'])
    .where('action', '=', 'step-wood-off-list')
    .execute()
  const answered = new Set(told.flatMap(({ id, piece_id }) => (takenBack.has(id) ? [] : [piece_id])))
  const open = pieces.filter(({ piece, entry }) => !takenBack.has(entry) && !answered.has(piece))
  return [...new Set(open.map(({ commission }) => commission))].slice(0, AT_MOST)
}
