import type { LengthUnits } from '../lengths/length.ts'
import { progressBetween, readyAt, type RateSegment } from './cure-clock.ts'
import { rateAt } from './cure-rate.ts'
import type { Conditions } from './finish-bands.ts'
import { usual } from './figure.ts'
import { FINISH_FIGURES } from './finish-figures.ts'
import { ABOVE_DEW_POINT_K, dewPointC } from './dew-point.ts'
import { nearDewPoint, tooCold, tooDamp, tooWarm, type AirHold } from './hold.ts'
import { classOf, clockOf, limitsOf, type ClockName, type Product } from './product.ts'
import type { ClimateSegment, WorkingInterval } from './temperature-profile.ts'
import { writeCelsius } from './write-celsius.ts'

/** Why a glue or finish should not be put on in this air; null where it may. What is on already is another matter. */
export function applicationHold(product: Product, { celsius, rh }: Conditions): AirHold | null {
  const limits = limitsOf(product)
  if (limits === null) return null
  if (celsius < limits.coldestC) return tooCold(product.name, 'should not be put on', celsius, limits)
  if (celsius > limits.warmestC) return tooWarm(product.name, celsius, limits)
  if (rh > limits.dampestRh) return tooDamp(product.name, rh, limits)
  // Of a product that damp does nothing to, or whose label has a limit of its own, nothing more is asked.
  const mindsDew = limits.dampestRh < 1 && product.label['dampestRh'] === undefined
  return mindsDew && celsius - dewPointC(celsius, rh) < ABOVE_DEW_POINT_K
    ? nearDewPoint(product.name, { celsius, rh })
    : null
}

/** What ruins a product while it is wet: colder or damper than this within so long of the end of the step. */
export interface Spoiling {
  readonly belowC: number | null
  readonly aboveRh: number | null
  /** Minutes for which it stays wet: at reference conditions on `clock`, elapsed where that is null. */
  readonly wetMin: number
  readonly clock: ClockName | null
  /** What it does then: `dries to a chalky line without strength`. */
  readonly how: string
  readonly source: string
}

/** Null: cold and damp make it slow and nothing worse. */
export function spoilingOf(product: Product): Spoiling | null {
  const of = classOf(product)
  const limits = limitsOf(product)
  if (of === null || limits === null) return null
  const wetMin = (clock: ClockName): number => clockOf(product, clock)?.typical ?? 0
  const { coldestC, dampestRh, source } = limits
  if (of.kind === 'glue') {
    const { spoils } = of.glue
    if (spoils === null) return null
    return { belowC: coldestC, ...spoils, aboveRh: null, wetMin: wetMin('clampsOff'), clock: 'clampsOff' }
  }
  const untilDry = { wetMin: wetMin('touchDry'), clock: 'touchDry', source } as const
  switch (of.finish.family) {
    case 'water-based':
      return { ...untilDry, belowC: coldestC, aboveRh: null, how: 'dries without forming a film' }
    case 'catalysed': {
      const { warm_hold: keptWarm } = FINISH_FIGURES.conversion_varnish
      const how = 'may never harden through'
      return {
        belowC: coldestC,
        aboveRh: null,
        wetMin: usual(keptWarm) * 60,
        clock: null,
        how,
        source: keptWarm.source,
      }
    }
    case 'evaporative':
      return { ...untilDry, belowC: null, aboveRh: dampestRh, how: 'turns white (blushes)' }
    case 'oxygen-curing':
    case 'never-hardens':
      return null
  }
}

/** A wet joint or coat that the air has ruined: look at it, and do it again where need be. */
export interface Spoiled {
  readonly at: number
  /** In the scale of the shop. */
  readonly message: (units: LengthUnits) => string
  readonly source: string
}

/** Whether what was put on by `endedAt` has been ruined before `now`; null: it has not. @param air of the place where it stood */
export function spoiledSince(
  product: Product,
  endedAt: number,
  now: number,
  air: readonly ClimateSegment[],
): Spoiled | null {
  const spoiling = spoilingOf(product)
  if (spoiling === null) return null
  const dryAt = readyAt(endedAt, spoiling.wetMin, wetClock(product, spoiling, air)) ?? Infinity
  for (const [index, segment] of air.entries()) {
    if ((air[index + 1]?.from ?? Infinity) <= endedAt) continue
    const at = Math.max(segment.from, endedAt)
    if (at >= dryAt || at > now) return null
    if (!ruins(spoiling, segment)) continue
    const was = (units: LengthUnits): string =>
      spoiling.belowC === null ? `${Math.round(segment.rh * 100)}% humidity` : writeCelsius(segment.celsius, units)
    const message = (units: LengthUnits): string =>
      `Check it or redo it. It was still wet at ${was(units)}: ${product.name} then ${spoiling.how}.`
    return { at, message, source: spoiling.source }
  }
  return null
}

/**
 * When a step may put this product on, from an instant on: sorted, disjoint, half-open. The whole step lies within one of them:
 * the air allows it throughout, and ruins nothing until it is no longer wet. Empty: never in this air.
 * @param air segments of the place where it is put on; the last one counts for ever
 * @param dryingAir of the place where it is carried at once and dries
 */
export function applicationWindows(
  product: Product,
  air: readonly ClimateSegment[],
  fromMin: number,
  dryingAir: readonly ClimateSegment[] = air,
): readonly WorkingInterval[] {
  const spoiling = spoilingOf(product)
  const windows: WorkingInterval[] = []
  for (const harmless of stretchesOf(dryingAir, fromMin, (one) => spoiling === null || !ruins(spoiling, one))) {
    const last = lastEnd(product, spoiling, harmless, dryingAir)
    for (const { from, to } of stretchesOf(air, harmless.from, (one) => applicationHold(product, one) === null)) {
      if (from >= last) break
      windows.push({ from, to: Math.min(to, last) })
    }
  }
  return windows.filter(({ from, to }, index) => from < to && windows[index - 1]?.from !== from)
}

/** Beyond any plan, and still a whole number of minutes that fits 32 bits. */
const FOR_EVER = 2 ** 31 - 1

/** Stretches of air of a kind, joined. */
function* stretchesOf(
  air: readonly ClimateSegment[],
  fromMin: number,
  isOne: (air: Conditions) => boolean,
): Generator<WorkingInterval> {
  let open: number | null = null
  for (const [index, segment] of air.entries()) {
    if ((air[index + 1]?.from ?? FOR_EVER) <= fromMin) continue
    if (isOne(segment)) open ??= Math.max(segment.from, fromMin)
    else if (open !== null) {
      yield { from: open, to: segment.from }
      open = null
    }
  }
  if (open !== null) yield { from: open, to: FOR_EVER }
}

/** The latest instant in a harmless stretch of air at which the step may end: what follows is dry before the stretch ends. */
function lastEnd(
  product: Product,
  spoiling: Spoiling | null,
  { from, to }: WorkingInterval,
  air: readonly ClimateSegment[],
): number {
  if (spoiling === null || to === FOR_EVER) return to
  const clock = wetClock(product, spoiling, air)
  let [low, high] = [from - 1, to]
  while (low < high) {
    const middle = Math.ceil((low + high) / 2)
    if (progressBetween(middle, to, clock) >= spoiling.wetMin) low = middle
    else high = middle - 1
  }
  return low
}

const ruins = ({ belowC, aboveRh }: Spoiling, { celsius, rh }: Conditions): boolean =>
  (belowC !== null && celsius < belowC) || (aboveRh !== null && rh > aboveRh)

const wetClocks = new WeakMap<readonly ClimateSegment[], Map<string, readonly RateSegment[]>>()

/** On which it dries; remembered for the air as long as that lives. */
function wetClock(product: Product, { clock }: Spoiling, air: readonly ClimateSegment[]): readonly RateSegment[] {
  if (clock === null) return [{ from: 0, rate: 1 }]
  const known = wetClocks.get(air) ?? new Map<string, readonly RateSegment[]>()
  wetClocks.set(air, known)
  const key = JSON.stringify([product, clock])
  const segments =
    known.get(key) ?? air.map(({ from, celsius, rh }) => ({ from, rate: rateAt(product, clock, celsius, rh) }))
  known.set(key, segments)
  return segments
}
