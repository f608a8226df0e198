import type { Hold, Lag, WaitKind } from '../planning/index.ts'
import type { BookLag, BookStep } from './book.ts'
import type { StepProgress } from './step-progress.ts'
import { foundReadyAt } from './wait-over.ts'

export const lotKey = (step: Pick<BookStep, 'pieceId' | 'lot'>, key: string): string =>
  `${step.pieceId}/${step.lot}/${key}`

/** For a lot that joins another one: what frees its place is a step of theirs. */
export const pieceKey = (step: Pick<BookStep, 'pieceId'>, key: string): string => `${step.pieceId}/${key}`

export function planHold(
  hold: BookStep['holds'][number],
  step: BookStep,
  keys: ReadonlyMap<string, string>,
  undated: ReadonlyMap<string, string>,
): Hold {
  const { until } = hold
  if (until.kind === 'end' || until.kind === 'after') return { station: hold.station, units: hold.units, until }
  const other = keys.get(lotKey(step, until.step)) ?? keys.get(pieceKey(step, until.step))
  // What frees the station has no date: it stays taken for longer than anything is planned.
  if (other === undefined || undated.has(other))
    return { station: hold.station, units: hold.units, until: { kind: 'after', minutes: aYearMin } }
  return { station: hold.station, units: hold.units, until: { kind: until.kind, step: other } }
}

const aYearMin = 365 * 24 * 60

export function planLag(
  lag: BookLag,
  clock: (product: string, wait: WaitKind, fromStep: string) => string,
  before: StepProgress,
): Lag {
  const found = before.kind === 'done' ? foundReadyAt(before, lag) : null
  // What was found ready is over; its window keeps its width.
  const minMin = found === null || before.kind !== 'done' ? lag.minMin : found - before.endedAt
  return {
    ...{ from: lag.fromStep, to: lag.toStep, wait: lag.wait, name: lag.name, minMin },
    maxMin: lag.maxMin === null ? null : lag.maxMin - lag.minMin + minMin,
    spread: {
      optimistic: found === null ? Math.min(lag.optimisticMin, minMin) : minMin,
      pessimistic: found === null ? Math.max(lag.pessimisticMin, minMin) : minMin,
    },
    ...(found !== null || lag.product === null || lag.minMin <= 0
      ? {}
      : { clock: clock(lag.product, lag.wait, lag.fromStep) }),
    ...(lag.remedy === null ? {} : { remedy: lag.remedy }),
  }
}

export const latest = (...instants: readonly (number | null)[]): number | null => {
  const given = instants.filter((instant) => instant !== null)
  return given.length === 0 ? null : Math.max(...given)
}
