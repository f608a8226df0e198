import type { RackRow } from '../../desk/views.ts'

/** Whether its wait is over by now, also when that came to pass after the desk was asked. */
export const isReady = (row: RackRow, nowMin: number): boolean =>
  row.advice.kind === 'ready' || (row.advice.kind === 'wait' && row.readyAt !== null && row.readyAt <= nowMin)

/** Ready ones first, then by when they are ready, last what stands still. */
export const readyFirst = (rows: readonly RackRow[], nowMin: number): readonly RackRow[] =>
  rows.toSorted(
    (a, b) =>
      Number(isReady(b, nowMin)) - Number(isReady(a, nowMin)) ||
      (a.readyAt ?? Number.MAX_SAFE_INTEGER) - (b.readyAt ?? Number.MAX_SAFE_INTEGER),
  )
