import { sql } from 'kysely'
import type { Db } from './schema.ts'

/** Whether anything in the shop has an amount yet: an order, a payment, a paper, a board, a wood's price, a year's figure. */
export async function hasAmounts(db: Db): Promise<boolean> {
  const { rows } = await sql<{ found: number }>`
    select exists (select 1 from money_entry)
      or exists (select 1 from paper)
      or exists (select 1 from commission where price_minor is not null or deposit_minor > 0)
      or exists (select 1 from board where price_minor is not null)
      or exists (select 1 from wood_price)
      or exists (select 1 from year_figure) as found`.execute(db)
  return rows[0]?.found === 1
}
