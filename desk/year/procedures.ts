import { z } from 'zod'
import { ok } from '../../core/problems.ts'
import { noInput } from '../procedure.ts'
import { csvFile } from '../open-formats/take-along.ts'
import { YEAR_FIGURES } from '../../core/year/goods-sold.ts'
import { yearTable } from './year-table.ts'
import { changeYearFigure, owedView, yearView } from './year-view.ts'
import { inShop } from '../in-shop.ts'

const calendarYear = z.int().min(2000).max(2199)

/** The year in money, and what is owed. */
export const yearProcedures = {
  year: inShop(z.strictObject({ year: calendarYear.nullable() }), async (shop, { year }) =>
    ok(await yearView(shop, year)),
  ),
  yearFigure: inShop(
    z.strictObject({ year: calendarYear, name: z.enum(YEAR_FIGURES), typed: z.string().max(40) }),
    (shop, { year, name, typed }) => changeYearFigure(shop, year, name, typed),
  ),
  yearTable: inShop(z.strictObject({ year: calendarYear }), async (shop, { year }) =>
    ok(csvFile(shop, `year-${year}`, await yearTable(shop, year))),
  ),
  owed: inShop(noInput, async (shop) => ok(await owedView(shop))),
}
