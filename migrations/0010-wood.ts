import { type Kysely, sql } from 'kysely'

/** Places other than the shop where pieces dry, single figures of the almanac that are no lengths, and moisture readings of boards. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of [
    `create table drying_place (
      id text not null primary key,
      position integer not null check (position >= 0),
      name text not null,
      kind text not null check (kind in ('room', 'house', 'warm-box')),
      celsius real not null,
      rh real not null check (rh > 0 and rh <= 1),
      capacity integer not null check (capacity > 0),
      carry_min integer not null check (carry_min >= 0)
    ) strict`,
    `create table shop_figure (
      name text not null primary key,
      value text not null
    ) strict`,
    `alter table board add column moisture_pct real check (moisture_pct > 0 and moisture_pct < 100)`,
    `alter table board add column measured_on text`,
    // A frame glued at the middle of all four sides held its field; what a spec says of a cut was never asked.
    `update piece set spec = json_set(spec, '$.frame.fixing', case json_extract(spec, '$.field.kind') when 'staves' then 'ends' else 'dry' end)
      where json_extract(spec, '$.frame.fixing') = 'middle'`,
    `update piece set spec = json_set(spec, '$.cut', 'unknown') where construction in ('edge-grain-board', 'small-table')`,
    `update piece set spec = json_set(spec, '$.field.cut', 'unknown')
      where construction = 'framed-field' and json_extract(spec, '$.field.kind') = 'staves'`,
  ]) {
    await sql.raw(statement).execute(db)
  }
}
