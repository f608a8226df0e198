import { inTransaction } from './transaction.ts'
import type { Db } from './schema.ts'
import type { DraftRow } from './order-tables.ts'
import { withDigest } from './row-digest.ts'

/** An order that is being typed, exactly as far as it got. */
export interface SavedDraft {
  readonly id: string
  readonly begunAtMs: number
  readonly savedAtMs: number
  /** What the page holds; its form is the page's own affair. */
  readonly content: unknown
}

/** Keeps what is typed; on disk when this answers. Content is plain JSON. */
export async function saveDraft(db: Db, draft: { id: string; content: unknown }, atMs: number): Promise<void> {
  const content = JSON.stringify(draft.content ?? null)
  const row = withDigest('draft', { id: draft.id, begun_at_ms: atMs, saved_at_ms: atMs, content })
  await db
    .insertInto('draft')
    .values(row)
    .onConflict((conflict) => conflict.column('id').doUpdateSet({ saved_at_ms: atMs, content, digest: row.digest }))
    .execute()
}

/** All drafts, the one that was typed in last first. */
export async function drafts(db: Db): Promise<SavedDraft[]> {
  const rows = await db.selectFrom('draft').selectAll().orderBy('saved_at_ms', 'desc').orderBy('id').execute()
  return rows.map(draftOf)
}

export async function draftById(db: Db, id: string): Promise<SavedDraft | null> {
  const [row] = await draftRow(db, id)
  return row === undefined ? null : draftOf(row)
}

/** Throws a draft away, because the maker said so. */
export async function dropDraft(db: Db, id: string): Promise<void> {
  await db.deleteFrom('draft').where('id', '=', id).execute()
}

/** Has a draft go by another name from now on. False: there is none. */
export const renameDraft = (db: Db, from: string, to: string): Promise<boolean> =>
  inTransaction(db, async (trx) => {
    const draft = await draftById(trx, from)
    if (draft === null) return false
    await saveDraft(trx, { id: to, content: draft.content }, draft.savedAtMs)
    await dropDraft(trx, from)
    return true
  })

/** The stored row, as a list of one or none. */
export const draftRow = (db: Db, id: string): Promise<DraftRow[]> =>
  db.selectFrom('draft').selectAll().where('id', '=', id).execute()

const draftOf = (row: DraftRow): SavedDraft => ({
  id: row.id,
  begunAtMs: row.begun_at_ms,
  savedAtMs: row.saved_at_ms,
  content: JSON.parse(row.content) as unknown,
})
