import type { CoatFacts, FinishFacts, RangeMin } from '../constructions/shop-facts.ts'
import { writeDuration } from '../time/duration.ts'
import { coatOverCoat } from '../waits/coat-over-coat.ts'
import { finishClass } from '../waits/finish-classes.ts'
import type { Almanac } from './almanac.ts'
import type { FinishSchedule } from './finish-schedule.ts'

/**
 * A schedule as constructions ask it: like a finish, that of its last coat, with every coat of it in order and the worst of what its
 * products do to people and wood. Null where the almanac has lost one of its finishes.
 */
export function scheduleFacts(
  { id, name, layers, rubOut, wax }: FinishSchedule,
  finishes: readonly FinishFacts[],
  almanac: Pick<Almanac, 'finishes'>,
): FinishFacts | null {
  const factsOf = (product: string): FinishFacts | undefined => finishes.find((one) => one.id === product)
  const coats: CoatFacts[] = []
  for (const layer of layers) {
    const finish = factsOf(layer.finish)
    if (finish === undefined) return null
    for (let number = 0; number < layer.coats; number += 1) {
      const below = coats.at(-1)?.finish ?? null
      coats.push({
        ...{ finish, method: layer.method, sandGrit: below === null ? null : layer.sandGrit },
        ...overOf(finish, below, almanac),
      })
    }
  }
  const last = coats.at(-1)?.finish
  const waxFacts = wax === null ? null : factsOf(wax)
  if (last === undefined || waxFacts === undefined) return null
  const all = [...coats.map(({ finish }) => finish), ...(waxFacts === null ? [] : [waxFacts])]
  const count = coats.length
  return {
    ...last,
    ...{ id, name },
    coats: { least: count, usual: count, most: count, source: `the Almanac’s “${name}”` },
    film: all.some(({ film }) => film),
    dryingOil: all.some(({ dryingOil }) => dryingOil),
    nut: NUTS.find((nut) => all.some((one) => one.nut === nut)) ?? 'none usual',
    onFoodPieces: ON_FOOD.find((food) => all.some((one) => one.onFoodPieces === food)) ?? 'not usual',
    cautions: [...new Set(all.flatMap(({ cautions }) => cautions))],
    schedule: { coats, rubOut, wax: waxFacts },
  }
}

/** Worst first. */
const NUTS = ['contains', 'may contain'] as const
const ON_FOOD = ['not usual', 'trays and rims, not chopping faces', 'chopping faces and trays'] as const

/** What stands between a coat and the one below it. */
function overOf(
  finish: FinishFacts,
  below: FinishFacts | null,
  { finishes }: Pick<Almanac, 'finishes'>,
): Pick<CoatFacts, 'opens' | 'note' | 'never'> {
  if (below === null) return { opens: null, note: '', never: false }
  const classOf = (id: string) => finishClass(finishes.find((one) => one.id === id)?.class ?? '')
  const [above, under] = [classOf(finish.id), classOf(below.id)]
  if (above === null || under === null || finish.id === below.id)
    return { opens: below.recoatOpens, note: '', never: false }
  const { kind, minutes, note, source } = coatOverCoat(above, under)
  const opens: RangeMin =
    kind === 'cured'
      ? below.fullCure
      : kind === 'wait' && minutes > below.recoatOpens.typical
        ? { ...longer(below.recoatOpens, minutes), source: `${source}: ${writeDuration(minutes)}` }
        : below.recoatOpens
  return { opens, note, never: kind === 'never' }
}

const longer = ({ max }: RangeMin, minutes: number): Omit<RangeMin, 'source'> => ({
  ...{ min: minutes, typical: minutes, max: Math.max(max, minutes) },
})
