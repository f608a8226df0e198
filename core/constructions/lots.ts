import { failed, ok, problem, type Problem, type Result } from '../problems.ts'
import type { Build, Construction, Consumed, Fitting, Part } from './construction.ts'
import { LIMITS } from './limits.ts'
import { evenShare } from './steps/glue-ups.ts'
import type { ShopFacts } from './shop-facts.ts'
import type { NetworkLag, NetworkStep } from './step-network.ts'

/** A batch of equal pieces, in as many lots as the clamps and the rack ask for. */
export interface LotsBuild {
  readonly title: string
  /** Of one lot, the biggest. */
  readonly geometry: Build['geometry']
  /** Of all lots together. */
  readonly parts: readonly Part[]
  readonly fittings: readonly Fitting[]
  /** Glue and finish of all lots. */
  readonly consumed: readonly Consumed[]
  readonly lots: readonly LotBuild[]
  /** Why there is more than one lot, as a sentence; null: there is one. */
  readonly whyLots: string | null
  readonly warnings: readonly string[]
}

/** What travels together: its step keys are unique within the lot. */
export interface LotBuild {
  readonly count: number
  readonly steps: readonly NetworkStep[]
  readonly lags: readonly NetworkLag[]
}

/** Builds a batch, split evenly into the fewest lots that each fit into the clamps and onto the rack at once. */
export function buildLots<Spec>(
  construction: Construction<Spec>,
  spec: Spec,
  count: number,
  facts: ShopFacts,
): Result<LotsBuild> {
  const whole = construction.build(spec, count, facts)
  if (whole.ok) return ok(inLots([whole.value], [count], null))
  const tooBig = whole.problems.find((one) => one.code === LOT_TOO_BIG)
  if (tooBig === undefined || whole.problems.some((one) => one.code !== LOT_TOO_BIG)) return whole
  const smallest = construction.build(spec, Math.ceil(count / LIMITS.lots), facts)
  if (!smallest.ok && count > LIMITS.lots) {
    const single = construction.build(spec, 1, facts)
    return single.ok ? failed(tooManyLots(count)) : single
  }
  const built = new Map<number, Build | null>()
  for (let lots = 2; lots <= Math.min(count, LIMITS.lots); lots += 1) {
    const counts = Array.from({ length: lots }, (_, index) => evenShare(count, lots, index))
    const builds = buildEach(construction, spec, counts, facts, built)
    if (builds !== null)
      return ok(inLots(builds, counts, `Made in ${lots} lots of ${sizesOf(counts)}: ${whyOf(tooBig)}`))
  }
  const single = construction.build(spec, 1, facts)
  return single.ok ? whole : single
}

const tooManyLots = (count: number): Problem =>
  problem(
    'too-many-lots',
    `${count} pieces need more than ${LIMITS.lots} lots in this shop’s clamps and rack: split them over several orders.`,
  )

/** What would be too big, without the advice that has been followed. */
const whyOf = ({ message }: Problem): string =>
  `${message.charAt(0).toLowerCase()}${message.slice(1)}`.replace(/: make smaller lots\.$/, '.')

/** Code of the problems that smaller lots solve. */
export const LOT_TOO_BIG = 'lot-too-big'

/** Null where one of the lots cannot be built; lots of one size are built once, and kept in `built`. */
function buildEach<Spec>(
  construction: Construction<Spec>,
  spec: Spec,
  counts: readonly number[],
  facts: ShopFacts,
  built: Map<number, Build | null>,
): Build[] | null {
  for (const count of new Set(counts)) {
    if (!built.has(count)) {
      const build = construction.build(spec, count, facts)
      built.set(count, build.ok ? build.value : null)
    }
    if (built.get(count) === null) return null
  }
  return counts.flatMap((count) => built.get(count) ?? [])
}

function inLots(builds: readonly Build[], counts: readonly number[], whyLots: string | null): LotsBuild {
  const [first] = builds
  if (first === undefined) throw new Error('a batch has at least one lot')
  const warnings = [...new Set(builds.flatMap((build) => build.warnings))]
  return {
    title: first.title,
    geometry: first.geometry,
    parts: togetherOf(builds.flatMap((build) => build.parts)),
    fittings: togetherOf(builds.flatMap((build) => build.fittings ?? [])),
    consumed: builds.flatMap((build) => build.consumed ?? []),
    lots: builds.map(({ steps, lags }, index) => ({ count: counts[index] ?? 1, steps, lags })),
    whyLots,
    warnings,
  }
}

/** Equal things of several lots counted together. */
function togetherOf<Thing extends Part | Fitting>(parts: readonly Thing[]): Thing[] {
  const together = new Map<string, Thing>()
  for (const part of parts) {
    const key = JSON.stringify({ ...part, quantity: 0 })
    together.set(key, { ...part, quantity: part.quantity + (together.get(key)?.quantity ?? 0) })
  }
  return [...together.values()]
}

const sizesOf = (counts: readonly number[]): string =>
  counts.length < 2 ? counts.join('') : `${counts.slice(0, -1).join(', ')} and ${counts.at(-1) ?? ''}`
