import { type Kysely, sql } from 'kysely'

/**
 * What becomes of an order besides its work: when to be reminded of it, why it was closed and from what, which earlier order it belongs
 * to, whom it is given to, and which of its pieces has left already. Notes on a customer stay with them.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of [
    `alter table commission add column remind_on text check (remind_on like '____-__-__')`,
    `alter table commission add column told_on text check (told_on like '____-__-__')`,
    `alter table commission add column closed_from text check (closed_from in ('asked-about', 'agreed'))`,
    `alter table commission add column closed_why text not null default ''`,
    // No reference: an order that was taken back leaves those that belonged to it as they are.
    `alter table commission add column belongs_to text`,
    `alter table commission add column belongs_as text check (belongs_as in ('again', 'repair', 'complaint'))`,
    `alter table commission add column gift_for text not null default ''`,
    `alter table commission add column gift_address text not null default ''`,
    `alter table piece add column handed_over_on text check (handed_over_on like '____-__-__')`,
    `alter table customer add column notes text not null default ''`,
    `create index commission_by_belonging on commission (belongs_to) where belongs_to is not null`,
  ])
    await sql.raw(statement).execute(db)
}
