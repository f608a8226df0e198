import type { BookLag, BookStep } from '../core/book/book.ts'
import type { NetworkHold } from '../core/constructions/step-network.ts'
import type { LagRow, StepHoldRow } from './order-tables.ts'

export function holdRow(step: BookStep, hold: NetworkHold, position: number, stepIds: StepIds): StepHoldRow {
  const { until } = hold
  const other = 'step' in until ? stepIds.find(step, until.step) : null
  return {
    step_id: step.id,
    position,
    station: hold.station,
    units: hold.units,
    until_kind: until.kind,
    until_minutes: until.kind === 'after' ? until.minutes : null,
    until_step_id: other,
  }
}

/** @param keyOf the key of a step by its id */
export function holdOf(row: StepHoldRow, keyOf: (stepId: string) => string): NetworkHold {
  const { station, units } = row
  switch (row.until_kind) {
    case 'end':
      return { station, units, until: { kind: 'end' } }
    case 'after':
      return { station, units, until: { kind: 'after', minutes: row.until_minutes ?? 0 } }
    case 'start-of':
    case 'end-of':
      return { station, units, until: { kind: row.until_kind, step: keyOf(row.until_step_id ?? '') } }
  }
}

export const lagRow = (lag: BookLag, position: number): LagRow => ({
  piece_id: lag.pieceId,
  position,
  from_step_id: lag.fromStep,
  to_step_id: lag.toStep,
  wait: lag.wait,
  name: lag.name,
  min_min: lag.minMin,
  optimistic_min: lag.optimisticMin,
  pessimistic_min: lag.pessimisticMin,
  max_min: lag.maxMin,
  remedy_name: lag.remedy?.name ?? null,
  remedy_min: lag.remedy?.minutes ?? null,
  product: lag.product,
  source: lag.source,
})

/** @param keyOf the key of a step by its id */
export const lagOf = (row: LagRow, keyOf: (stepId: string) => string): BookLag => ({
  pieceId: row.piece_id,
  fromStep: row.from_step_id,
  toStep: row.to_step_id,
  from: keyOf(row.from_step_id),
  to: keyOf(row.to_step_id),
  wait: row.wait,
  name: row.name,
  minMin: row.min_min,
  optimisticMin: row.optimistic_min,
  pessimisticMin: row.pessimistic_min,
  maxMin: row.max_min,
  remedy:
    row.remedy_name === null || row.remedy_min === null ? null : { name: row.remedy_name, minutes: row.remedy_min },
  product: row.product,
  source: row.source,
})

interface StepIds {
  find(from: BookStep, key: string): string
}

/** Keys are unique within a lot; a key that is not in the step's own lot is looked for in the whole piece. */
export function stepIdsByKey(steps: readonly BookStep[]): StepIds {
  const inLot = new Map(steps.map((step) => [JSON.stringify([step.pieceId, step.lot, step.key]), step.id]))
  const inPiece = new Map(steps.map((step) => [JSON.stringify([step.pieceId, step.key]), step.id]))
  return {
    find(from, key) {
      const id =
        inLot.get(JSON.stringify([from.pieceId, from.lot, key])) ?? inPiece.get(JSON.stringify([from.pieceId, key]))
      if (id === undefined) throw new Error(`Step ${from.key} holds until ${key}, which its piece does not have`)
      return id
    },
  }
}
