import type { TimeChoiceTable } from './time-choice-rows.ts'
import type { Database } from './schema.ts'

export type AlmanacTable =
  | 'shop'
  | 'unheated_month'
  | 'own_list'
  | 'maker'
  | 'maker_hours'
  | 'special_day'
  | 'special_day_hours'
  | 'station'
  | 'product'
  | 'product_label'
  | 'wood'
  | 'own_construction'
  | 'standard_time'
  | TimeChoiceTable
  | 'allowance'
  | 'yard_size'
  | 'shop_figure'
  | 'drying_place'
  | 'own_wait'
  | 'wood_price'
  | 'money_fact'

/** Every row in which an almanac differs from the one that a new shop starts with. */
export type AlmanacRows = { readonly [T in AlmanacTable]: readonly Database[T][] }
