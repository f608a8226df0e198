import type { PaperKind } from '../core/papers/paper.ts'
import { withDigest } from './row-digest.ts'
import type { Db } from './schema.ts'

/** What is numbered through. A number is never given twice, also not after what had it was taken back. */
export type Numbered = 'commission' | 'board' | `paper-${PaperKind}`

/** The number that the next one will get. */
export async function nextOf(db: Db, name: Numbered): Promise<number> {
  const row = await db.selectFrom('running_number').select('last').where('name', '=', name).executeTakeFirst()
  return (row?.last ?? 0) + 1
}

/** Takes so many numbers in a row and answers with the first of them; to be called within a transaction. */
export async function takeNumbers(trx: Db, name: Numbered, count: number): Promise<number> {
  const first = await nextOf(trx, name)
  const last = first + count - 1
  const row = withDigest('running_number', { name, last })
  await trx
    .insertInto('running_number')
    .values(row)
    .onConflict((conflict) => conflict.column('name').doUpdateSet({ last, digest: row.digest }))
    .execute()
  return first
}
