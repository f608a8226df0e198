import type { Generated, Kysely } from 'kysely'
import type { DryingPlace, ShopAir, StationKind, WoodPrice } from '../core/almanac/almanac.ts'
import type { OwnWait } from '../core/almanac/own-wait.ts'
import type { FollowTimes } from '../core/almanac/times-in-use.ts'
import type { LumberSource } from '../core/book/lumber.ts'
import type { Belonging, Standing, TakenWhere } from '../core/book/book.ts'
import type { SupplyKind } from '../core/book/supplies.ts'
import type { OfferTaken, PromiseRecord } from '../core/book/promise.ts'
import type { Units } from '../core/constructions/construction.ts'
import type { EnteredKind, PaidHow } from '../core/money/ledger.ts'
import type { YearFigure } from '../core/year/goods-sold.ts'
import type { WaitKind } from '../core/planning/index.ts'

/** A connection or an open transaction; every query function takes one first. */
export type Db = Kysely<Database>

/**
 * The tables as they are stored. Instants end in `_min` or `_ms` (since the Unix epoch), other `_min` are durations in whole
 * minutes; money is in minor units; days are `YYYY-MM-DD`; yes and no are 1 and 0; JSON is text.
 */
export interface Database {
  customer: CustomerRow
  commission: CommissionRow
  piece: PieceRow
  step: StepRow
  step_hold: StepHoldRow
  lag: LagRow
  log: LogTable
  promise: PromiseTable
  running_number: { name: string; last: number }
  draft: DraftRow
  notice_shown: { id: string; shown_at_ms: number }
  announced_start: { step_id: string; start_min: number }
  upkeep: { task: string; done_at_ms: number }
  shop: ShopRow
  /** Months 1 to 12 of the unheated shop; null: as built in. */
  unheated_month: { month: number; celsius: number | null; rh: number | null }
  own_list: { name: OwnList }
  maker: { id: string; position: number; name: string; attendance: number }
  maker_hours: { maker_id: string; weekday: number; from_min: number; to_min: number }
  special_day: SpecialDayRow
  special_day_hours: { special_day_id: string; from_min: number; to_min: number }
  station: { id: string; position: number; name: string; kind: StationKind; capacity: number }
  product: { shelf: Shelf; id: string; position: number; class: string; name: string }
  product_label: ProductLabelRow
  /** `definition`: JSON of everything but id and name. */
  own_construction: { id: string; position: number; name: string; definition: string }
  wood: { id: string; position: number; name: string; species: string }
  standard_time: StandardTimeRow
  time_decision: TimeDecisionRow
  observation_choice: { step_id: string; choice: 'count' | 'leave-out' }
  asked_time: { operation: string; minutes: number; units: number; asked_at_min: number }
  allowance: { name: string; length_nm: number }
  /** Sizes of the yard: all of a kind, where they are not as built in. */
  yard_size: { kind: YardSizeKind; size_nm: number }
  /** Single figures of the almanac where they are not as built in. */
  shop_figure: { name: string; value: string }
  drying_place: {
    id: string
    position: number
    name: string
    kind: DryingPlace['kind']
    celsius: number
    rh: number
    capacity: number
    carry_min: number
    in_plans: 0 | 1
  }
  own_wait: { product: string; wait: OwnWait['wait']; use: OwnWait['use']; factor: number; count: number }
  wood_price: { wood: string; minor: number; per: WoodPrice['per'] }
  /** Facts of prices and papers where they are not as built in; `value` is JSON. */
  money_fact: { name: string; value: string }
  money_entry: MoneyEntryRow
  /** What only the maker can say of a year. */
  year_figure: { year: number; name: YearFigure; minor: number }
  paper: PaperRow
  photo: { id: string; media_type: PhotoType; kept_at_ms: number; bytes: Uint8Array }
  board: BoardRow
  board_flaw: { board_id: string; position: number; from_nm: number; to_nm: number }
  part_cut: PartCutRow
  supply: SupplyRow
  /** `done_at_ms` null: to be done again, because an older copy was opened. */
  erasure: { customer_id: string; asked_at_ms: number; done_at_ms: number | null }
  /** Holds a row only within the transaction that erases a person, see `db/erase-person.ts`. */
  erasing: { started_at_ms: number }
}

/** Glue, finish or hardware. `amount` null: not counted. `out_since` and `expected_on` are local days. */
export interface SupplyRow {
  id: string
  position: number
  name: string
  kind: SupplyKind
  product_id: string | null
  unit: string
  amount: number | null
  reorder_at: number | null
  out_since: string | null
  expected_on: string | null
}

/** Append-only; what was written by mistake is taken back by another row. */
export interface MoneyEntryRow {
  id: string
  commission_id: string
  at_ms: number
  day: string
  kind: EnteredKind
  minor: number
  how: PaidHow
  reference: string
  takes_back: string | null
}

/** Issued for good: triggers refuse changing and removing. `content` is JSON. */
export interface PaperRow {
  id: string
  kind: string
  number: number
  commission_id: string
  issued_at_ms: number
  day: string
  amends: string | null
  content: string
}

export type YardSizeKind = 'thickness' | 'width' | 'length'

export type PhotoType = 'image/jpeg' | 'image/png' | 'image/webp'

export interface BoardRow {
  id: string
  number: number
  wood: string
  thickness_nm: number
  width_nm: number
  length_nm: number
  quality: string
  place: string
  price_minor: number | null
  standing: BoardStanding
  added_at_min: number
  /** The board that it is an offcut of. */
  cut_from: string | null
  photo_id: string | null
  /** Last reading of a moisture meter, percent, and its local day; both null: not measured. */
  moisture_pct: number | null
  measured_on: string | null
  /** Local day since which it rests in the shop; null: for longer than anybody asks. */
  here_since: string | null
  /** The commission that it was bought for. */
  bought_for: string | null
}

/** `cut`: sawn as planned, what was left of it is on hand as boards of their own. */
export type BoardStanding = 'on-hand' | 'cut' | 'used-up'

export interface PartCutRow {
  board_id: string
  position: number
  piece_id: string
  lot: number
  name: string
  quantity: number
  length_nm: number
  width_nm: number
  thickness_nm: number
}

export interface CustomerRow {
  id: string
  name: string
  reach: string
  second_reach: string
  address: string
  allergies: string
  child_under_3: 'yes' | 'no' | 'not-asked'
  notes: string
}

export interface CommissionRow {
  id: string
  number: number
  customer_id: string
  taken_at_min: number
  taken_where: TakenWhere
  standing: Standing
  on_hold_until: string | null
  on_hold_why: string
  needed_by: string | null
  needed_why: string
  promised_for: string | null
  weight: number
  notes: string
  price_minor: number | null
  deposit_minor: number
  deposit_how: string
  untaxed_why: string
  /** JSON. */
  extra_lines: string
  /** All four null: the almanac's home. */
  home_dry_c: number | null
  home_dry_rh: number | null
  home_damp_c: number | null
  home_damp_rh: number | null
  lumber_from: LumberSource
  lumber_expected_on: string | null
  lumber_here_on: string | null
  lumber_rested: number
  remind_on: string | null
  told_on: string | null
  closed_from: 'asked-about' | 'agreed' | null
  closed_why: string
  /** Both null: to none. */
  belongs_to: string | null
  belongs_as: Belonging['as'] | null
  gift_for: string
  gift_address: string
}

export interface PieceRow {
  id: string
  commission_id: string
  position: number
  construction: string
  title: string
  count: number
  spec: string
  handed_over_on: string | null
}

export interface StepRow {
  id: string
  piece_id: string
  position: number
  lot: number
  lots: number
  lot_count: number
  key: string
  operation: string
  name: string
  note: string
  minutes: number
  optimistic_min: number
  pessimistic_min: number
  hands: number
  interruptible: number
  smallest_stretch_min: number
  dusty: number
  tacky_min: number
  tacky_product: string | null
  set_up_family: string | null
  set_up_min: number | null
  cautions: string
  /** Both null: of before that was kept. */
  units: number | null
  unit_min: number | null
  /** Of a glue-up: minutes from the first glue to full pressure; null: no glue-up, or of before that was kept. */
  spread_min: number | null
  /** 1: what was made at it is lost. */
  lost: number
}

export interface StepHoldRow {
  step_id: string
  position: number
  station: string
  units: number
  until_kind: 'end' | 'after' | 'start-of' | 'end-of'
  until_minutes: number | null
  until_step_id: string | null
}

export interface LagRow {
  piece_id: string
  position: number
  from_step_id: string
  to_step_id: string
  wait: WaitKind
  name: string
  min_min: number
  optimistic_min: number
  pessimistic_min: number
  max_min: number | null
  remedy_name: string | null
  remedy_min: number | null
  product: string | null
  source: string
}

/** Append-only; triggers refuse everything else. `before` and `after` are JSON, see `db/log.ts`. */
export interface LogTable {
  id: Generated<number>
  at_ms: number
  maker_id: string | null
  commission_id: string | null
  piece_id: string | null
  step_id: string | null
  action: string
  before: string | null
  after: string | null
  /** The entry that this one takes back. */
  undoes: number | null
  /** When it was pressed, where that is not `at_ms`. */
  pressed_at_ms: number | null
  /** First entry of the act that this one belongs to; null: it is that entry, or alone. */
  act: number | null
  /** Words kept with it. */
  note: string | null
  /** See `db/log-chain.ts`; null in entries of before there were any. */
  checksum: string | null
  /** Name of the phone or tablet that it was pressed on; null: the desk itself. */
  device: string | null
  /** By which a press is known that is sent twice. */
  press_key: string | null
}

/** Append-only; triggers refuse everything else. `entry`: the log entry it was given with; null: of before there were records. */
export interface PromiseTable {
  id: Generated<number>
  entry: number | null
  commission_id: string
  kind: PromiseRecord['kind']
  given_at_ms: number
  day: string | null
  chance: number | null
  chance_alone: number | null
  half_day: string | null
  four_in_five_day: string | null
  nineteen_in_twenty_day: string | null
  planned_day: string | null
  offer: OfferTaken['kind'] | null
  offer_takes: string
  times: PromiseRecord['times']
  wanted_by: PromiseRecord['wantedBy']
  why: string
  good_until: string | null
}

export interface DraftRow {
  id: string
  begun_at_ms: number
  saved_at_ms: number
  content: string
}

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
