import { failed, ok, problem, type Result } from '../problems.ts'
import type { Almanac } from './almanac.ts'
import { WORK_KINDS } from './work-kinds.ts'

/** The lists of the almanac whose things are added, changed and taken out one by one. */
export type AlmanacList =
  | 'makers'
  | 'specialDays'
  | 'stations'
  | 'glues'
  | 'finishes'
  | 'woods'
  | 'constructions'
  | 'places'
  | 'finishSchedules'

type Listed<List extends AlmanacList> = Almanac[List][number]

/** The almanac with this thing in its list: in place of the one with its id, else at the end. */
export function withListed<List extends AlmanacList>(almanac: Almanac, list: List, thing: Listed<List>): Almanac {
  const things: readonly Listed<AlmanacList>[] = almanac[list]
  const known = things.some((one) => one.id === thing.id)
  return { ...almanac, [list]: known ? things.map((one) => (one.id === thing.id ? thing : one)) : [...things, thing] }
}

/** The almanac without it; the last maker, glue, finish or wood stays, because nothing could be planned without. */
export function withoutListed(almanac: Almanac, list: AlmanacList, id: string): Result<Almanac> {
  const things: readonly Listed<AlmanacList>[] = almanac[list]
  const gone = things.find((one) => one.id === id)
  if (gone === undefined) return failed(problem('not-listed', 'It is not in the almanac any more.', list))
  const last = NEEDED[list]
  if (last !== undefined && things.length === 1) {
    return failed(
      problem('last-one', `The almanac needs at least one ${last}: add another before you take this one out.`, list),
    )
  }
  const without = { ...almanac, [list]: things.filter((one) => one.id !== id) }
  if (list === 'woods') {
    const { [id]: _, ...woodPrices } = almanac.woodPrices
    const { [id]: __, ...woodWaste } = almanac.woodWaste
    return ok({ ...without, woodPrices, woodWaste })
  }
  if (list !== 'makers') return ok(without)
  const { [id]: _, ...leftToOthers } = almanac.leftToOthers
  const lost = WORK_KINDS.find((kind) =>
    almanac.makers.every((maker) => maker.id === id || (leftToOthers[maker.id] ?? []).includes(kind.id)),
  )
  if (lost !== undefined) {
    const message = `Then nobody does it: ${lost.name.toLowerCase()}. Change who does what first.`
    return failed(problem('nobody', message, list))
  }
  return ok({
    ...without,
    leftToOthers,
    specialDays: almanac.specialDays.filter((day) => day.maker !== id),
  })
}

const NEEDED: { readonly [list in AlmanacList]?: string } = {
  makers: 'maker',
  glues: 'glue',
  finishes: 'finish',
  woods: 'wood',
}
