import { type Kysely, sql } from 'kysely'

/** The boards on hand with the lengths of them to avoid, their photos, and the parts that were cut out of them. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STATEMENTS) await sql.raw(statement).execute(db)
}

const STATEMENTS: readonly string[] = [
  // Never changed, only added: the log speaks of a photo by its id, so taking back a change finds it again.
  `create table photo (
    id text not null primary key,
    media_type text not null check (media_type in ('image/jpeg', 'image/png', 'image/webp')),
    kept_at_ms integer not null,
    bytes blob not null check (length(bytes) > 0)
  ) strict`,

  `create table board (
    id text not null primary key,
    number integer not null unique check (number > 0),
    wood text not null,
    thickness_nm integer not null check (thickness_nm > 0),
    width_nm integer not null check (width_nm > 0),
    length_nm integer not null check (length_nm > 0),
    quality text not null,
    place text not null,
    price_minor integer check (price_minor >= 0),
    standing text not null check (standing in ('on-hand', 'cut', 'used-up')),
    added_at_min integer not null,
    cut_from text references board (id) deferrable initially deferred,
    photo_id text references photo (id) deferrable initially deferred,
    check (cut_from <> id)
  ) strict`,
  `create index board_by_standing on board (standing, number)`,
  `create index board_by_origin on board (cut_from)`,
  `create index board_by_photo on board (photo_id)`,

  `create table board_flaw (
    board_id text not null references board (id) deferrable initially deferred,
    position integer not null check (position >= 0),
    from_nm integer not null check (from_nm >= 0),
    to_nm integer not null check (to_nm >= from_nm),
    primary key (board_id, position)
  ) strict`,

  // Outlives the piece it was cut for: an order that is taken back leaves its parts on the bench.
  `create table part_cut (
    board_id text not null references board (id) deferrable initially deferred,
    position integer not null check (position >= 0),
    piece_id text not null,
    lot integer not null check (lot >= 1),
    name text not null,
    quantity integer not null check (quantity > 0),
    length_nm integer not null check (length_nm > 0),
    width_nm integer not null check (width_nm > 0),
    thickness_nm integer not null check (thickness_nm > 0),
    primary key (board_id, position)
  ) strict`,
  `create index part_cut_by_piece on part_cut (piece_id, lot)`,
]
