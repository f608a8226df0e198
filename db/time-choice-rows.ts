import type { FollowTimes, TimeChoices, TimeDecision } from '../core/almanac/times-in-use.ts'
import type { Database } from './schema.ts'
import type { TimeDecisionRow } from './almanac-tables.ts'

export type TimeChoiceTable = 'time_decision' | 'observation_choice' | 'asked_time'

type Rows = { readonly [T in TimeChoiceTable]: readonly Database[T][] }

/** What the maker decided about times, as rows; whether they are followed is a column of the shop. */
export const rowsOfTimeChoices = ({ decisions, entries, asked }: TimeChoices): Rows => ({
  time_decision: decisions.map(({ operation, use, decidedAtMin }) => ({
    operation,
    choice: use.kind,
    per_unit_min: use.kind === 'mine' ? use.perUnitMin : null,
    decided_at_min: decidedAtMin,
  })),
  observation_choice: entries.map(({ stepId, choice }) => ({ step_id: stepId, choice })),
  asked_time: asked.map(({ operation, minutes, units, askedAtMin }) => ({
    operation,
    minutes,
    units,
    asked_at_min: askedAtMin,
  })),
})

export const timeChoicesOf = (rows: Rows, follow: FollowTimes | null): TimeChoices => ({
  follow,
  decisions: rows.time_decision.map(decisionOf),
  entries: rows.observation_choice.map((row) => ({ stepId: row.step_id, choice: row.choice })),
  asked: rows.asked_time.map((row) => ({
    operation: row.operation,
    minutes: row.minutes,
    units: row.units,
    askedAtMin: row.asked_at_min,
  })),
})

const decisionOf = (row: TimeDecisionRow): TimeDecision => ({
  operation: row.operation,
  use: row.per_unit_min === null ? { kind: 'book' } : { kind: 'mine', perUnitMin: row.per_unit_min },
  decidedAtMin: row.decided_at_min,
})
