import { withDigest } from './row-digest.ts'
import type { Db } from './schema.ts'

/**
 * Which of these notices were shown already. One that was shown at an instant that is still to come was shown while the clock was
 * ahead: it counts no more.
 */
export async function noticesShown(db: Db, ids: readonly string[], nowMs: number): Promise<ReadonlySet<string>> {
  if (ids.length === 0) return new Set()
  const rows = await db
    .selectFrom('notice_shown')
    .select('id')
    .where('id', 'in', ids)
    .where('shown_at_ms', '<=', nowMs + CLOCKS_DIFFER_MS)
    .execute()
  return new Set(rows.map((row) => row.id))
}

/** A clock that is set right by its time server moves by less. */
const CLOCKS_DIFFER_MS = 60_000

/** Remembers that notices were shown, so that they are not shown again after a restart. */
export async function markShown(db: Db, ids: readonly string[], atMs: number): Promise<void> {
  if (ids.length === 0) return
  await db
    .insertInto('notice_shown')
    .values(ids.map((id) => withDigest('notice_shown', { id, shown_at_ms: atMs })))
    .onConflict((conflict) =>
      conflict
        .column('id')
        .doUpdateSet((of) => ({ shown_at_ms: atMs, digest: of.ref('excluded.digest') }))
        .where('notice_shown.shown_at_ms', '>', atMs),
    )
    .execute()
}

/** Forgets notices shown before that instant, but for those that are still due: what the others were about is long over. */
export async function forgetNoticesBefore(db: Db, atMs: number, due: readonly string[]): Promise<void> {
  await db
    .deleteFrom('notice_shown')
    .where('shown_at_ms', '<', atMs)
    .where('id', 'not in', ['', ...due])
    .execute()
}

/** Has a notice count as never shown. */
export async function forgetShown(db: Db, id: string): Promise<void> {
  await db.deleteFrom('notice_shown').where('id', '=', id).execute()
}
