import type { YearFigure, YearFigures } from '../core/year/goods-sold.ts'
import { change } from './change.ts'
import type { Stamp } from './log.ts'
import { changesBetween } from './row-changes.ts'
import type { Db } from './schema.ts'
import { inTransaction } from './transaction.ts'

/** What the maker has said of a year, in minor units. */
export async function yearFigures(db: Db, year: number): Promise<YearFigures> {
  const rows = await db.selectFrom('year_figure').selectAll().where('year', '=', year).execute()
  return Object.fromEntries(rows.map(({ name, minor }) => [name, minor]))
}

/** Keeps one figure of a year; null takes it away. Answers with the entry of the log, null when nothing changed. */
export const keepYearFigure = (
  db: Db,
  year: number,
  name: YearFigure,
  minor: number | null,
  stamp: Stamp,
): Promise<number | null> =>
  inTransaction(db, async (trx) => {
    const before = await trx
      .selectFrom('year_figure')
      .selectAll()
      .where('year', '=', year)
      .where('name', '=', name)
      .execute()
    const after = minor === null ? [] : [{ year, name, minor }]
    return change(trx, changesBetween({ year_figure: before }, { year_figure: after }), {
      ...stamp,
      action: 'year-figure',
    })
  })
