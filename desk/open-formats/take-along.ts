import { writeFormOfWholeShop, writeWholeShop } from '../../db/whole-shop/write.ts'
import type { OpenShop } from '../open-shop.ts'
import { writeCalendar } from './calendar.ts'
import { hoursTable } from './hours-table.ts'
import { moneyTable, orderTable } from './order-table.ts'
import { almanacTable, stockTable } from './shop-tables.ts'
import { writeCsv, type CsvTable } from './write-csv.ts'

/** What can be taken out of the program in a format that others read. */
export const TAKE_ALONG = ['everything', 'form', 'orders', 'money', 'hours', 'stock', 'almanac', 'calendar'] as const

export type TakeAlong = (typeof TAKE_ALONG)[number]

/** A file for the maker to keep. */
export interface FileToKeep {
  readonly name: string
  readonly mediaType: string
  readonly text: string
}

export async function takeAlong(shop: OpenShop, what: TakeAlong): Promise<FileToKeep> {
  const { today } = shop.moment()
  switch (what) {
    case 'everything':
      return { ...named(`shop-${today}.json`, 'application/json'), text: await writeWholeShop(shop.db) }
    case 'form':
      return { ...named('shop.schema.json', 'application/schema+json'), text: await writeFormOfWholeShop(shop.db) }
    case 'calendar':
      return { ...named(`calendar-${today}.ics`, 'text/calendar'), text: await writeCalendar(shop) }
    default:
      return csvFile(shop, `${what}-${today}`, await TABLES[what](shop))
  }
}

/** A table as a file to keep. */
export const csvFile = (shop: OpenShop, name: string, table: CsvTable): FileToKeep => ({
  ...named(`${name}.csv`, 'text/csv'),
  text: writeCsv(table, shop.almanac.shop.currency.decimals),
})

const TABLES: Readonly<
  Record<Exclude<TakeAlong, 'everything' | 'form' | 'calendar'>, (shop: OpenShop) => CsvTable | Promise<CsvTable>>
> = { orders: orderTable, money: moneyTable, hours: hoursTable, stock: stockTable, almanac: almanacTable }

const named = (name: string, mediaType: string): Omit<FileToKeep, 'text'> => ({
  name: `out-of-clamps-${name}`,
  mediaType,
})
