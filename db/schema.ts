import type { Kysely } from 'kysely'
import type { DryingPlace, StationKind, WoodPrice } from '../core/almanac/almanac.ts'
import type { OwnWait } from '../core/almanac/own-wait.ts'
import type { SupplyKind } from '../core/book/supplies.ts'
import type { EnteredKind, PaidHow } from '../core/money/ledger.ts'
import type { YearFigure } from '../core/year/goods-sold.ts'
import type {
  CustomerRow,
  CommissionRow,
  PieceRow,
  StepRow,
  StepHoldRow,
  LagRow,
  LogTable,
  PromiseTable,
  DraftRow,
} from './order-tables.ts'
import type {
  YardSizeKind,
  ShopRow,
  OwnList,
  Shelf,
  SpecialDayRow,
  ProductLabelRow,
  TimeDecisionRow,
  StandardTimeRow,
} from './almanac-tables.ts'

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
  running_number: { name: string; last: number; digest: string | null }
  draft: DraftRow
  notice_shown: { id: string; shown_at_ms: number; digest: string | null }
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
  photo: { id: string; media_type: PhotoType; kept_at_ms: number; bytes: Uint8Array; digest: string | null }
  board: BoardRow
  board_flaw: { board_id: string; position: number; from_nm: number; to_nm: number }
  part_cut: PartCutRow
  supply: SupplyRow
  /** `done_at_ms` null: to be done again, because an older copy was opened. */
  erasure: { customer_id: string; asked_at_ms: number; done_at_ms: number | null; digest: string | null }
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
  digest: string | null
}

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
  lost: 0 | 1
}
