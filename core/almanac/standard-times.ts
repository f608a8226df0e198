import type { StandardTime } from '../constructions/shop-facts.ts'
import { OPERATIONS } from './operations.ts'

/** Hands-on times that a new shop starts with. */
export const STARTING_TIMES: readonly StandardTime[] = OPERATIONS.map(
  // What is done in an operation is not the maker's to change.
  ({ kind: _kind, dangers: _dangers, ...time }) => time,
)

/** The almanac's book by operation; what this version brings along stands in for what the almanac lacks. */
export const standardTimesOf = ({
  standardTimes,
}: {
  readonly standardTimes: readonly StandardTime[]
}): ReadonlyMap<string, StandardTime> =>
  new Map([...STARTING_TIMES, ...standardTimes].map((each) => [each.operation, each]))
