import type { PieceState } from '../../core/book/piece-state.ts'
import type { RackRow } from '../../desk/screens/rack.ts'

/**
 * By how much one press pushes a wait back that turned out too short: a sixth of what it has waited, in whole half hours,
 * between half an hour and half a day. The maker looks again then and may push once more.
 */
export function pushBackMinutes(row: Pick<RackRow, 'sinceAt'>, nowMin: number): number {
  const halfHours = Math.ceil((nowMin - row.sinceAt) / 6 / 30)
  return Math.min(24, Math.max(1, halfHours)) * 30
}

/**
 * Whether it makes sense to say that it is not ready: from three quarters of its wait on for as long as it lies there. Whoever works in the
 * evenings looks a day later, whatever the label says.
 */
export const mayBeUnready = (row: Pick<RackRow, 'sinceAt' | 'readyAt'>, nowMin: number): boolean =>
  row.readyAt !== null && nowMin - row.sinceAt >= 0.75 * (row.readyAt - row.sinceAt)

/** Whether it makes sense to say that it is ready before its time: from half of its wait on, and at any time where it stands still. */
export function mayBeReadyEarly(row: Pick<RackRow, 'sinceAt' | 'readyAt'>, nowMin: number): boolean {
  if (row.readyAt === null) return true
  return nowMin < row.readyAt && (nowMin - row.sinceAt) * 2 >= row.readyAt - row.sinceAt
}

/** What the maker finds when a wait was too short. */
export const notYetWords: Readonly<Record<PieceState, string>> = {
  drying: 'Still tacky',
  'in-clamps': 'Not set yet',
  curing: 'Not cured yet',
  resting: 'Not settled yet',
  'waiting-its-turn': 'Not yet',
  'on-the-bench': 'Not yet',
  finished: 'Not yet',
}
