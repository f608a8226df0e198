import type { Almanac } from '../core/almanac/almanac.ts'
import { almanacOfRows, rowsOfAlmanac } from './almanac-rows.ts'
import type { AlmanacRows } from './almanac-row-sets.ts'
import { change } from './change.ts'
import type { Stamp } from './log.ts'
import { changesBetween } from './row-changes.ts'
import type { Db } from './schema.ts'
import { inTransaction } from './transaction.ts'

/**
 * The shop's almanac: the built-in one, with everything that the maker has changed.
 * @param starting the almanac that a new shop on this computer would start with
 */
export const loadAlmanac = async (db: Db, starting: Almanac): Promise<Almanac> =>
  almanacOfRows(await almanacRows(db), starting)

/**
 * Keeps an almanac: writes, and logs, only what is different from what is stored. Saving the starting almanac in a new file
 * pins the shop's time zone, units and currency, so that they don't follow the computer elsewhere.
 * @param act first entry of the act that it goes on with
 * @returns number of the log entry; null when nothing was different
 * @throws when it breaks a rule of the almanac (two makers of one id): its readers refuse that before
 */
export const saveAlmanac = (
  db: Db,
  almanac: Almanac,
  starting: Almanac,
  stamp: Stamp,
  action = 'almanac-changed',
  act?: number,
): Promise<number | null> =>
  inTransaction(db, async (trx) => {
    const changes = changesBetween(await almanacRows(trx), rowsOfAlmanac(almanac, starting))
    return change(trx, changes, { ...stamp, action, act })
  })

/** True before the first almanac was saved. */
export const isNewShop = async (db: Db): Promise<boolean> =>
  (await db.selectFrom('shop').select('id').executeTakeFirst()) === undefined

const almanacRows = async (db: Db): Promise<AlmanacRows> => ({
  shop: await db.selectFrom('shop').selectAll().execute(),
  unheated_month: await db.selectFrom('unheated_month').selectAll().orderBy('month').execute(),
  own_list: await db.selectFrom('own_list').selectAll().execute(),
  maker: await db.selectFrom('maker').selectAll().orderBy('position').execute(),
  maker_hours: await db.selectFrom('maker_hours').selectAll().orderBy('from_min').execute(),
  special_day: await db.selectFrom('special_day').selectAll().orderBy('position').execute(),
  special_day_hours: await db.selectFrom('special_day_hours').selectAll().orderBy('from_min').execute(),
  station: await db.selectFrom('station').selectAll().orderBy('position').execute(),
  product: await db.selectFrom('product').selectAll().orderBy('position').execute(),
  product_label: await db.selectFrom('product_label').selectAll().orderBy('quantity').execute(),
  wood: await db.selectFrom('wood').selectAll().orderBy('position').execute(),
  own_construction: await db.selectFrom('own_construction').selectAll().orderBy('position').execute(),
  standard_time: await db.selectFrom('standard_time').selectAll().orderBy('operation').execute(),
  time_decision: await db.selectFrom('time_decision').selectAll().orderBy('operation').execute(),
  observation_choice: await db.selectFrom('observation_choice').selectAll().orderBy('step_id').execute(),
  asked_time: await db.selectFrom('asked_time').selectAll().orderBy('operation').execute(),
  allowance: await db.selectFrom('allowance').selectAll().execute(),
  yard_size: await db.selectFrom('yard_size').selectAll().orderBy('size_nm').execute(),
  money_fact: await db.selectFrom('money_fact').selectAll().orderBy('name').execute(),
  shop_figure: await db.selectFrom('shop_figure').selectAll().orderBy('name').execute(),
  drying_place: await db.selectFrom('drying_place').selectAll().orderBy('position').execute(),
  own_wait: await db.selectFrom('own_wait').selectAll().orderBy('product').orderBy('wait').execute(),
  wood_price: await db.selectFrom('wood_price').selectAll().orderBy('wood').execute(),
})
