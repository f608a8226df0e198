import { entriesTakenBack } from './log.ts'
import type { Db } from './schema.ts'

/** When an order came to stand as it does, in milliseconds since the Unix epoch; null: it never did, or from the start. */
export interface StandingDays {
  readonly agreedAtMs: number | null
  readonly handedOverAtMs: number | null
  readonly calledOffAtMs: number | null
}

const ACTIONS = {
  'commission-agreed': 'agreedAtMs',
  'commission-handed-over': 'handedOverAtMs',
  'commission-called-off': 'calledOffAtMs',
} as const satisfies Readonly<Record<string, keyof StandingDays>>

/** By order, from the log: the last entry of each kind that counts. @param commissionIds of these alone; without it: of all */
export async function standingDays(
  db: Db,
  commissionIds?: readonly string[],
): Promise<ReadonlyMap<string, StandingDays>> {
  if (commissionIds?.length === 0) return new Map()
  let query = db
    .selectFrom('log')
    .select(['id', 'commission_id', 'action', 'at_ms'])
    .where('action', 'in', Object.keys(ACTIONS))
    .orderBy('id')
  if (commissionIds !== undefined) query = query.where('commission_id', 'in', commissionIds)
  const rows = await query.execute()
  const takenBack = await entriesTakenBack(db)
  const days = new Map<string, StandingDays>()
  for (const { id, commission_id: order, action, at_ms } of rows) {
    if (order === null || takenBack.has(id)) continue
    const before = days.get(order) ?? NO_DAYS
    days.set(order, { ...before, [ACTIONS[action as keyof typeof ACTIONS]]: at_ms })
  }
  return days
}

export const NO_DAYS: StandingDays = { agreedAtMs: null, handedOverAtMs: null, calledOffAtMs: null }
