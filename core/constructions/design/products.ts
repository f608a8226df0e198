import { failed, ok, problem, type Result } from '../../problems.ts'

interface Named {
  readonly id: string
  readonly name: string
}

/** The glue, finish or wood of that id; a problem where the almanac no longer has it. */
export function named<Thing extends Named>(
  things: readonly Thing[],
  id: string,
  kind: 'glue' | 'finish' | 'wood',
): Result<Thing> {
  const found = things.find((thing) => thing.id === id)
  if (found !== undefined) return ok(found)
  return failed(
    problem(`${kind}-unknown`, `The almanac has no ${kind} “${id}” any more: choose another, or add it there.`, kind),
  )
}

/** Its name, or the id where the almanac no longer has it. */
export const nameOf = (things: readonly Named[], id: string): string =>
  things.find((thing) => thing.id === id)?.name ?? id
