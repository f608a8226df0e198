import { type Kysely, sql } from 'kysely'

/** How the yard sells rough boards, where it is not as built in, and what it asks for each wood. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of [
    `create table yard_size (
      kind text not null check (kind in ('thickness', 'width', 'length')),
      size_nm integer not null check (size_nm > 0),
      primary key (kind, size_nm)
    ) strict`,
    `create table wood_price (
      wood text not null primary key,
      minor integer not null check (minor >= 0),
      per text not null check (per in ('board-foot', 'cubic-metre'))
    ) strict`,
    `alter table shop add column yard_waste real check (yard_waste >= 0 and yard_waste < 1)`,
  ]) {
    await sql.raw(statement).execute(db)
  }
}
