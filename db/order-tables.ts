import type { Generated } from 'kysely'
import type { LumberSource } from '../core/book/lumber.ts'
import type { Belonging, Standing, TakenWhere } from '../core/book/book.ts'
import type { OfferTaken, PromiseRecord } from '../core/book/promise.ts'
import type { WaitKind } from '../core/planning/index.ts'

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
  kept_minor: number | null
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
  digest: string | null
}

export interface DraftRow {
  id: string
  begun_at_ms: number
  saved_at_ms: number
  content: string
  /** Of the row, see `db/row-digest.ts`; null: from before there were any. So in all tables that have one. */
  digest: string | null
}
