import type { RackRow } from '../../desk/screens/rack.ts'

/** Whether its wait is over by now, also when that came to pass after the desk was asked. */
export const isReady = (row: RackRow, nowMin: number): boolean =>
  row.advice.kind === 'ready' || (row.readyAt !== null && row.readyAt <= nowMin)

/** Ready ones first, then by when they are ready, last what stands still. */
export const readyFirst = (rows: readonly RackRow[], nowMin: number): readonly RackRow[] =>
  rows.toSorted(
    (a, b) =>
      Number(isReady(b, nowMin)) - Number(isReady(a, nowMin)) ||
      (a.readyAt ?? Number.MAX_SAFE_INTEGER) - (b.readyAt ?? Number.MAX_SAFE_INTEGER),
  )

/**
 * Each row with a key of its own that stays while others come and go: two panels that were glued up at the same minute
 * wait under the same name for the same step.
 */
export function withKeys(rows: readonly RackRow[]): readonly { readonly key: string; readonly row: RackRow }[] {
  const seen = new Map<string, number>()
  return rows.map((row) => {
    const name = [row.piece.pieceId, row.piece.lot, row.waitName, row.sinceAt, row.next?.stepId].join(' ')
    const count = (seen.get(name) ?? 0) + 1
    seen.set(name, count)
    return { key: `${name} ${count}`, row }
  })
}
