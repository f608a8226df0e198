import { type Kysely, sql } from 'kysely'

/**
 * What learning from the log needs: how many units a step was counted as, when a press was made beside the instant that it is
 * about; and what the maker decided: times that are used instead of the book's, entries counted or left out, answers at the start.
 */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of [
    `alter table step add column units real check (units >= 0)`,
    `alter table step add column unit_min real check (unit_min >= 0)`,
    `alter table log add column pressed_at_ms integer`,
    `alter table shop add column follow_times text check (follow_times in ('by-themselves', 'when-accepted'))`,
    `create table time_decision (
      operation text not null primary key,
      choice text not null check (choice in ('mine', 'book')),
      per_unit_min real check (per_unit_min > 0),
      decided_at_min integer not null,
      check ((choice = 'mine') = (per_unit_min is not null))
    ) strict`,
    `create table observation_choice (
      step_id text not null primary key,
      choice text not null check (choice in ('count', 'leave-out'))
    ) strict`,
    `create table asked_time (
      operation text not null primary key,
      minutes real not null check (minutes > 0),
      units real not null check (units > 0),
      asked_at_min integer not null
    ) strict`,
  ])
    await sql.raw(statement).execute(db)
}
