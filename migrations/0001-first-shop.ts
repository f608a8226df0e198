import { type Kysely, sql } from 'kysely'

/** The order book, its log, drafts, what was already told, and the almanac as far as it differs from the built-in one. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

// References inside an order are checked at commit, so that an order may be rewritten in any sequence.
const STATEMENTS: readonly string[] = [
  `create table customer (
    id text not null primary key,
    name text not null,
    reach text not null,
    second_reach text not null,
    address text not null,
    allergies text not null,
    child_under_3 text not null check (child_under_3 in ('yes', 'no', 'not-asked'))
  ) strict`,

  `create table commission (
    id text not null primary key,
    number integer not null unique check (number > 0),
    customer_id text not null references customer (id) deferrable initially deferred,
    taken_at_min integer not null,
    taken_where text not null check (taken_where in ('fair', 'in-person', 'phone', 'mail')),
    standing text not null check (standing in ('asked-about', 'agreed', 'handed-over', 'called-off')),
    on_hold_until text check (on_hold_until = 'open-end' or on_hold_until like '____-__-__'),
    on_hold_why text not null,
    needed_by text check (needed_by like '____-__-__'),
    needed_why text not null,
    promised_for text check (promised_for like '____-__-__'),
    weight real not null check (weight > 0),
    notes text not null,
    price_minor integer,
    deposit_minor integer not null,
    deposit_how text not null
  ) strict`,
  `create index commission_by_customer on commission (customer_id)`,
  `create index commission_by_standing on commission (standing)`,

  `create table piece (
    id text not null primary key,
    commission_id text not null references commission (id) deferrable initially deferred,
    position integer not null check (position >= 0),
    construction text not null check (construction <> ''),
    title text not null,
    count integer not null check (count > 0),
    spec text not null check (json_valid(spec))
  ) strict`,
  `create index piece_by_commission on piece (commission_id, position)`,

  `create table step (
    id text not null primary key,
    piece_id text not null references piece (id) deferrable initially deferred,
    position integer not null check (position >= 0),
    lot integer not null check (lot >= 1),
    lots integer not null check (lots >= lot),
    lot_count integer not null check (lot_count > 0),
    key text not null check (key <> ''),
    operation text not null,
    name text not null,
    note text not null,
    minutes integer not null check (minutes >= 0),
    optimistic_min integer not null check (optimistic_min between 0 and minutes),
    pessimistic_min integer not null check (pessimistic_min >= minutes),
    hands integer not null check (hands >= 0),
    interruptible integer not null check (interruptible in (0, 1)),
    smallest_stretch_min integer not null check (smallest_stretch_min >= 0),
    dusty integer not null check (dusty in (0, 1)),
    tacky_min integer not null check (tacky_min >= 0),
    tacky_product text,
    set_up_family text,
    set_up_min integer check (set_up_min >= 0),
    cautions text not null check (json_type(cautions) = 'array'),
    check ((set_up_family is null) = (set_up_min is null))
  ) strict`,
  `create index step_by_piece on step (piece_id, position)`,

  `create table step_hold (
    step_id text not null references step (id) deferrable initially deferred,
    position integer not null check (position >= 0),
    station text not null check (station <> ''),
    units integer not null check (units > 0),
    until_kind text not null check (until_kind in ('end', 'after', 'start-of', 'end-of')),
    until_minutes integer check (until_minutes >= 0),
    until_step_id text references step (id) deferrable initially deferred,
    primary key (step_id, position),
    check ((until_kind = 'after') = (until_minutes is not null)),
    check ((until_kind in ('start-of', 'end-of')) = (until_step_id is not null))
  ) strict`,
  `create index step_hold_by_until_step on step_hold (until_step_id)`,

  `create table lag (
    piece_id text not null references piece (id) deferrable initially deferred,
    position integer not null check (position >= 0),
    from_step_id text not null references step (id) deferrable initially deferred,
    to_step_id text not null references step (id) deferrable initially deferred,
    wait text not null check (wait in ('none', 'in-clamps', 'curing', 'drying', 'resting')),
    name text not null,
    min_min integer not null,
    optimistic_min integer not null check (optimistic_min <= min_min),
    pessimistic_min integer not null check (pessimistic_min >= min_min),
    max_min integer,
    remedy_name text,
    remedy_min integer check (remedy_min >= 0),
    product text,
    source text not null,
    primary key (piece_id, position),
    check (from_step_id <> to_step_id),
    check ((remedy_name is null) = (remedy_min is null))
  ) strict`,
  `create index lag_by_from_step on lag (from_step_id)`,
  `create index lag_by_to_step on lag (to_step_id)`,

  // The log outlives what it speaks of (an order taken back, a maker who left), so only its own entries are references.
  `create table log (
    id integer not null primary key autoincrement,
    at_ms integer not null,
    maker_id text,
    commission_id text,
    piece_id text,
    step_id text,
    action text not null check (action <> ''),
    before text check (json_valid(before)),
    after text check (json_valid(after)),
    undoes integer unique references log (id),
    check (undoes < id)
  ) strict`,
  `create index log_by_commission on log (commission_id, id)`,
  `create index log_by_step on log (step_id, id)`,
  `create trigger log_keeps_its_entries before update on log
    begin select raise(abort, 'the log is never changed, only added to'); end`,
  `create trigger log_loses_no_entry before delete on log
    begin select raise(abort, 'the log is never shortened, only added to'); end`,
  // "insert or replace" would delete without asking the trigger above.
  `create trigger log_replaces_no_entry before insert on log
    when exists (select 1 from log where id = new.id or undoes = new.undoes)
    begin select raise(abort, 'the log is never changed, only added to'); end`,

  // Numbers are never given twice, also not after an order was taken back.
  `create table running_number (
    name text not null primary key,
    last integer not null check (last >= 0)
  ) strict`,

  `create table draft (
    id text not null primary key,
    begun_at_ms integer not null,
    saved_at_ms integer not null,
    content text not null check (json_valid(content))
  ) strict`,

  `create table notice_shown (
    id text not null primary key,
    shown_at_ms integer not null
  ) strict`,
  `create index notice_shown_by_time on notice_shown (shown_at_ms)`,

  `create table announced_start (
    step_id text not null primary key references step (id) on delete cascade,
    start_min integer not null
  ) strict`,

  `create table upkeep (
    task text not null primary key,
    done_at_ms integer not null
  ) strict`,

  // What comes from the computer that the shop was set up on is always there; null elsewhere: as built in.
  `create table shop (
    id text not null primary key check (id = 'shop'),
    name text,
    time_zone text not null,
    units text not null check (units in ('inch', 'millimetre')),
    currency text not null check (length(currency) = 3),
    temperature_c real,
    humidity_rh real check (humidity_rh between 0 and 1),
    glue_up_within_min integer check (glue_up_within_min >= 0)
  ) strict`,

  // Lists that the maker has changed are stored whole; the others are as built in.
  `create table own_list (
    name text not null primary key
      check (name in ('makers', 'specialDays', 'stations', 'glues', 'finishes', 'woods'))
  ) strict`,

  `create table maker (
    id text not null primary key,
    position integer not null check (position >= 0),
    name text not null,
    attendance real not null check (attendance between 0 and 1)
  ) strict`,
  `create table maker_hours (
    maker_id text not null references maker (id) deferrable initially deferred,
    weekday integer not null check (weekday between 1 and 7),
    from_min integer not null check (from_min >= 0),
    to_min integer not null check (to_min > from_min and to_min <= 1440),
    primary key (maker_id, weekday, from_min)
  ) strict`,

  `create table special_day (
    id text not null primary key,
    position integer not null check (position >= 0),
    day text not null check (day like '____-__-__'),
    kind text not null check (kind in ('closed', 'extra', 'fair')),
    maker_id text,
    note text not null
  ) strict`,
  `create table special_day_hours (
    special_day_id text not null references special_day (id) deferrable initially deferred,
    from_min integer not null check (from_min >= 0),
    to_min integer not null check (to_min > from_min and to_min <= 1440),
    primary key (special_day_id, from_min)
  ) strict`,

  `create table station (
    id text not null primary key,
    position integer not null check (position >= 0),
    name text not null,
    kind text not null check (kind in ('clamps', 'rack', 'glue-up-bench', 'finishing-corner', 'other')),
    capacity integer not null check (capacity >= 1)
  ) strict`,

  `create table product (
    shelf text not null check (shelf in ('glue', 'finish')),
    id text not null,
    position integer not null check (position >= 0),
    class text not null,
    name text not null,
    primary key (shelf, id)
  ) strict`,
  `create table product_label (
    shelf text not null,
    product_id text not null,
    quantity text not null,
    min real not null,
    typical real not null check (typical >= min),
    max real not null check (max >= typical),
    primary key (shelf, product_id, quantity),
    foreign key (shelf, product_id) references product (shelf, id) deferrable initially deferred
  ) strict`,

  `create table wood (
    id text not null primary key,
    position integer not null check (position >= 0),
    name text not null,
    species text not null
  ) strict`,

  `create table standard_time (
    operation text not null primary key,
    name text not null,
    set_up_min real not null check (set_up_min >= 0),
    family text,
    per_unit_min real not null check (per_unit_min >= 0),
    unit text not null,
    optimistic_factor real not null check (optimistic_factor between 0 and 1),
    pessimistic_factor real not null check (pessimistic_factor >= 1),
    source text not null
  ) strict`,

  `create table allowance (
    name text not null primary key,
    length_nm integer not null check (length_nm >= 0)
  ) strict`,
]
