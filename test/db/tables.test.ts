import { sql } from 'kysely'
import { describe, expect, test } from 'vitest'
import { addBoards } from '../../db/boards.ts'
import { addCommission } from '../../db/commissions.ts'
import { saveAlmanac } from '../../db/almanac.ts'
import { startingAlmanac } from '../../core/almanac/defaults.ts'
import { everythingIn } from './support/everything.ts'
import { aBoard } from './support/boards.ts'
import { anOrder } from './support/orders.ts'
import { openShop, START_MS } from './support/shop-files.ts'

const stamp = { atMs: START_MS, makerId: null }

describe('the file itself refuses', () => {
  test.each([
    [
      'a count of half a piece',
      `update piece set count = 1.5`,
      /cannot store REAL value in INTEGER column piece.count/,
    ],
    ['a count in words', `update piece set count = 'two'`, /cannot store TEXT value in INTEGER column piece.count/],
    ['money with a fraction', `update commission set price_minor = 99.5`, /cannot store REAL value in INTEGER/],
    [
      'an instant as text',
      `update commission set taken_at_min = '2026-11-25 18:00'`,
      /cannot store TEXT value in INTEGER/,
    ],
    ['a weight in words', `update commission set weight = 'heavy'`, /cannot store TEXT value in REAL/],
    ['a name as bytes', `update customer set name = x'00ff'`, /cannot store BLOB value in TEXT/],
    ['no name at all', `update customer set name = null`, /NOT NULL/],
    ['an unknown standing', `update commission set standing = 'in-the-shop'`, /CHECK/],
    ['an unknown place', `update commission set taken_where = 'dream'`, /CHECK/],
    ['a promise that is not a day', `update commission set promised_for = 'soon'`, /CHECK/],
    ['a hold until nobody knows what', `update commission set on_hold_until = 'later'`, /CHECK/],
    ['a negative weight', `update commission set weight = -1`, /CHECK/],
    [
      'a number given twice',
      `insert into commission (id, number, customer_id, taken_at_min, taken_where, standing, on_hold_until, on_hold_why,
      needed_by, needed_why, promised_for, weight, notes, price_minor, deposit_minor, deposit_how) select 'x', number, customer_id, taken_at_min, taken_where, standing, on_hold_until,
      on_hold_why, needed_by, needed_why, promised_for, weight, notes, price_minor, deposit_minor, deposit_how from commission`,
      /UNIQUE/,
    ],
    ['no pieces in a batch', `update piece set count = 0`, /CHECK/],
    ['a spec that is not JSON', `update piece set spec = '{cells: 8'`, /CHECK/],
    ['cautions that are no list', `update step set cautions = '{}'`, /CHECK/],
    ['a lot beyond the last', `update step set lot = 2`, /CHECK/],
    ['a spread the wrong way round', `update step set optimistic_min = minutes + 1`, /CHECK/],
    ['maybe as an answer to yes or no', `update step set dusty = 2`, /CHECK/],
    ['a setup of no family', `update step set set_up_min = 10, set_up_family = null`, /CHECK/],
    ['a hold until nothing', `update step_hold set until_step_id = null`, /CHECK/],
    ['a hold of nothing', `update step_hold set units = 0`, /CHECK/],
    ['a lag from a step to itself', `update lag set to_step_id = from_step_id`, /CHECK/],
    ['an unknown wait', `update lag set wait = 'sleeping'`, /CHECK/],
    ['a step of no piece', `update step set piece_id = 'nowhere'`, /FOREIGN KEY/],
    ['a lag to no step', `update lag set to_step_id = 'nowhere'`, /FOREIGN KEY/],
    ['an order of nobody', `delete from customer`, /FOREIGN KEY/],
    ['a draft that is not JSON', `insert into draft values ('d', 0, 0, 'half a na', null)`, /CHECK/],
    [
      'a second shop',
      `insert into shop (id, time_zone, units, currency) values ('two', 'UTC', 'inch', 'USD')`,
      /CHECK/,
    ],
    [
      'a construction with the id of a built-in one',
      `insert into own_construction values ('box', 0, 'Box', '{}')`,
      /CHECK/,
    ],
    ['a board of no thickness at the yard', `insert into yard_size values ('thickness', 0)`, /CHECK/],
    ['a price with a fraction', `insert into wood_price values ('walnut', 11.5, 'board-foot')`, /cannot store REAL/],
    ['a price by the armful', `insert into wood_price values ('walnut', 1150, 'armful')`, /CHECK/],
    ['waste of everything', `update shop set yard_waste = 1`, /CHECK/],
    ['a construction that is a list', `insert into own_construction values ('own-box', 0, 'Box', '[]')`, /CHECK/],
    ['an unknown unit', `update shop set units = 'cubit'`, /CHECK/],
    ['a thirteenth month', `insert into unheated_month values (13, 4, 0.5)`, /CHECK/],
    ['air that is wetter than wet', `update shop set humidity_rh = 1.1`, /CHECK/],
    ['hours that end before they begin', `insert into maker_hours values ('m', 1, 600, 540)`, /CHECK/],
    ['an eighth weekday', `insert into maker_hours values ('m', 8, 540, 600)`, /CHECK/],
    ['hours of nobody', `insert into maker_hours values ('m', 1, 540, 600)`, /FOREIGN KEY/],
    ['a station without room', `insert into station values ('s', 0, 'Rack', 'rack', 0)`, /CHECK/],
    ['a label of no product', `insert into product_label values ('glue', 'g', 'open', 1, 2, 3)`, /FOREIGN KEY/],
    ['a length with a fraction of a nanometre', `insert into allowance values ('sawKerfNm', 0.5)`, /cannot store REAL/],
    ['a board of no width', `update board set width_nm = 0`, /CHECK/],
    ['a length of half a nanometre', `update board set length_nm = 1.5`, /cannot store REAL/],
    ['a board number given twice', `update board set number = 1`, /UNIQUE/],
    ['a board that is somewhere in between', `update board set standing = 'half'`, /CHECK/],
    ['an offcut of itself', `update board set cut_from = id`, /CHECK/],
    ['an offcut of no board', `update board set cut_from = 'nowhere'`, /FOREIGN KEY/],
    ['a photo that is not there', `update board set photo_id = 'nowhere'`, /FOREIGN KEY/],
    ['a photo of nothing', `insert into photo values ('p', 'image/png', 0, x'', null)`, /CHECK/],
    ['a photo of another kind', `insert into photo values ('p', 'image/svg+xml', 0, x'00', null)`, /CHECK/],
    ['a flaw that ends before it begins', `insert into board_flaw values ('b1', 0, 20, 10)`, /CHECK/],
    ['a flaw of no board', `insert into board_flaw values ('nowhere', 0, 10, 20)`, /FOREIGN KEY/],
    ['no part at all cut', `insert into part_cut values ('b1', 0, 'p', 1, 'Strip', 0, 1, 1, 1, 0)`, /CHECK/],
    ['a running number that runs backwards past nothing', `update running_number set last = -1`, /CHECK/],
  ])('%s', async (_, statement, why) => {
    const { db } = await openShop()
    const starting = startingAlmanac({ timeZone: 'UTC', units: 'inch', currency: 'USD' })
    await saveAlmanac(db, starting, starting, stamp)
    await addCommission(db, anOrder(), stamp)
    await addBoards(db, aBoard(), ['b1', 'b2'], { kind: 'none' }, stamp)
    const before = await everythingIn(db)
    await expect(sql.raw(statement).execute(db)).rejects.toThrow(why)
    expect(await everythingIn(db)).toEqual(before)
  })
})
