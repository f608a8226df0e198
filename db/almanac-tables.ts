import type { ShopAir } from '../core/almanac/almanac.ts'
import type { FollowTimes } from '../core/almanac/times-in-use.ts'
import type { Units } from '../core/constructions/construction.ts'

export type YardSizeKind = 'thickness' | 'width' | 'length'

/** Null: as built in. */
export interface ShopRow {
  id: 'shop'
  name: string | null
  time_zone: string
  units: Units
  currency: string
  currency_decimals: number
  temperature_c: number | null
  humidity_rh: number | null
  heated: ShopAir['heated'] | null
  warm_up_min: number | null
  cool_down_min: number | null
  home_dry_c: number | null
  home_dry_rh: number | null
  home_damp_c: number | null
  home_damp_rh: number | null
  glue_up_within_min: number | null
  yard_waste: number | null
  follow_times: FollowTimes | null
}

/** Lists of the almanac that are stored whole once the maker has changed them. */
export type OwnList = 'makers' | 'specialDays' | 'stations' | 'glues' | 'finishes' | 'woods'

export type Shelf = 'glue' | 'finish'

export interface SpecialDayRow {
  id: string
  position: number
  day: string
  kind: 'closed' | 'extra' | 'fair'
  /** Null: everybody. */
  maker_id: string | null
  note: string
}

export interface ProductLabelRow {
  shelf: Shelf
  product_id: string
  quantity: string
  min: number
  typical: number
  max: number
}

export interface TimeDecisionRow {
  operation: string
  choice: 'mine' | 'book'
  /** Of `mine` alone. */
  per_unit_min: number | null
  decided_at_min: number
}

export interface StandardTimeRow {
  operation: string
  name: string
  set_up_min: number
  family: string | null
  per_unit_min: number
  unit: string
  optimistic_factor: number
  pessimistic_factor: number
  source: string
}
