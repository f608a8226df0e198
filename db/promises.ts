import type { Selectable } from 'kysely'
import type { NewPromise, PromiseRecord } from '../core/book/promise.ts'
import { entriesTakenBack } from './log.ts'
import { withDigest } from './row-digest.ts'
import type { Db } from './schema.ts'
import type { PromiseTable } from './order-tables.ts'

/**
 * Writes down a day that was given or quoted; there is no way to change it afterwards.
 * @param entry of the log that tells of it, in the same transaction: taken back, the record counts no more
 */
export async function recordPromise(
  trx: Db,
  commissionId: string,
  promise: NewPromise,
  atMs: number,
  entry: number | null,
): Promise<void> {
  const { kind, day, chance, chanceAlone, days, plannedDay, offer, times, wantedBy, why, goodUntil } = promise
  await trx
    .insertInto('promise')
    .values(
      withDigest('promise', {
        entry,
        commission_id: commissionId,
        kind,
        given_at_ms: atMs,
        day,
        chance,
        chance_alone: chanceAlone,
        half_day: days?.half ?? null,
        four_in_five_day: days?.fourInFive ?? null,
        nineteen_in_twenty_day: days?.nineteenInTwenty ?? null,
        planned_day: plannedDay,
        offer: offer?.kind ?? null,
        offer_takes: offer?.takes ?? '',
        times,
        wanted_by: wantedBy,
        why,
        good_until: goodUntil,
      }),
    )
    .execute()
}

/** Days given and quoted, oldest first, only those that count; of these commissions, or of all. */
export async function promisesOf(db: Db, commissionIds?: readonly string[]): Promise<PromiseRecord[]> {
  let query = db.selectFrom('promise').selectAll().orderBy('id')
  if (commissionIds !== undefined) query = query.where('commission_id', 'in', commissionIds)
  const rows = await query.execute()
  const takenBack = await entriesTakenBack(db)
  return rows.filter(({ entry }) => entry === null || !takenBack.has(entry)).map(promiseOf)
}

const promiseOf = (row: Selectable<PromiseTable>): PromiseRecord => ({
  commissionId: row.commission_id,
  kind: row.kind,
  givenAtMs: row.given_at_ms,
  day: row.day,
  chance: row.chance,
  chanceAlone: row.chance_alone,
  days:
    row.half_day === null || row.four_in_five_day === null || row.nineteen_in_twenty_day === null
      ? null
      : { half: row.half_day, fourInFive: row.four_in_five_day, nineteenInTwenty: row.nineteen_in_twenty_day },
  plannedDay: row.planned_day,
  offer: row.offer === null ? null : { kind: row.offer, takes: row.offer_takes },
  times: row.times,
  wantedBy: row.wanted_by,
  why: row.why,
  goodUntil: row.good_until,
})
