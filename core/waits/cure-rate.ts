import { bandMultiplier } from './finish-bands.ts'
import type { GlueClass, GlueClockName } from './glue-class.ts'
import { tooCold, type AirHold } from './hold.ts'
import { classOf, clockOf, isDeadline, limitsOf, type ClockName, type Product } from './product.ts'
import { deadlineRate, waitRate, type TemperatureResponse } from './temperature-response.ts'

/**
 * Progress of a wait per elapsed minute in this air, relative to reference conditions: 1 at reference, 0 while it stands still. A
 * wait of m reference minutes is over when the progress since its beginning adds up to m. For a deadline (`open`, `assembly`,
 * `recoatCloses`) it says how much faster than at reference the time runs out. Limits of applying are another matter: see
 * `application.ts`.
 * @param celsius the coldest of wood, glue and air
 * @param rh relative humidity, fraction 0..1; matters to finishes only
 */
export function rateAt(product: Product, clock: ClockName, celsius: number, rh: number): number {
  const of = classOf(product)
  if (of === null) return 1
  if (of.kind === 'finish') {
    if (clock === 'recoatCloses') return Math.max(1, 2 ** ((celsius - WARMEST_COMFORT_C) / WINDOW_HALVES_C))
    return COUNTED_PLAINLY.has(clock) ? 1 : 1 / bandMultiplier(of.finish.family, { celsius, rh })
  }
  if (isDeadline(clock)) return deadlineRate(responseOf(product, of.glue), celsius)
  return glueRate(product, of.glue, clock as GlueClockName, celsius)
}

/** Why a wait of a product stands still in this air; null where it goes on, however slowly. */
export function standstillAt(product: Product, clock: ClockName, celsius: number, rh: number): AirHold | null {
  const limits = limitsOf(product)
  if (limits === null || isDeadline(clock) || rateAt(product, clock, celsius, rh) > 0) return null
  return tooCold(product.name, 'does not set', celsius, limits)
}

/** How the product's waits answer to temperature: its label's own rule, else its class's. */
export function responseOf(product: Product, glue: GlueClass): TemperatureResponse {
  if (product.table !== undefined && product.table.length >= 2) {
    const reference = product.table.reduce((best, point) =>
      Math.abs(point.celsius - 21) < Math.abs(best.celsius - 21) ? point : best,
    )
    const source = `label of ${product.name}`
    return { kind: 'table', referenceC: reference.celsius, waits: product.table, deadlines: null, source }
  }
  const interval = product.label['doublingC']
  if (interval === undefined) return glue.response
  const fastestC = glue.response.kind === 'doubling' ? glue.response.fastestC : glue.response.referenceC
  return {
    kind: 'doubling',
    referenceC: glue.response.referenceC,
    intervalC: interval.typical,
    fastestC,
    source: `label of ${product.name}`,
  }
}

/** Days of use and of full cure are not stretched: the figures are too loose for that; see `waitMinutes` for what is said instead. */
export const COUNTED_PLAINLY: ReadonlySet<ClockName> = new Set<ClockName>(['lightUse', 'fullCure'])

/** Above this a recoat window closes sooner; nobody prints by how much, so half for every 10 C, as for glues (our own reading). */
const WARMEST_COMFORT_C = 27
const WINDOW_HALVES_C = 10

/** What counts from when a joint has set: it no longer stands still in the cold. */
const ONCE_SET: ReadonlySet<ClockName> = new Set<ClockName>(['mayMachine', 'fullStrength'])

function glueRate(product: Product, glue: GlueClass, clock: GlueClockName, celsius: number): number {
  // Before planing only the water has to leave the wood along the joint.
  if (clock === 'mayMachine' && glue.waterBorne) return dryingOutRate(celsius)
  const coldestC = limitsOf(product)?.coldestC ?? -Infinity
  if (celsius < coldestC && !glue.setsInTheCold) {
    if (!ONCE_SET.has(clock)) return 0
    return rateAbove(product, glue, clock, coldestC) * (dryingOutRate(celsius) / dryingOutRate(coldestC))
  }
  return rateAbove(product, glue, clock, celsius)
}

/** At the temperatures that the class's rule covers; colder than a printed table stands still. */
function rateAbove(product: Product, glue: GlueClass, clock: GlueClockName, celsius: number): number {
  const range = clockOf(product, clock)
  const slowest = range === null || range.max === 0 ? 1 : range.typical / range.max
  return waitRate(responseOf(product, glue), celsius, slowest) ?? 0
}

/**
 * How fast moisture evens out in wood, relative to 21 C and never faster: half as fast for every 13 C, down to any cold.
 * @source derived from the activation energy of bound-water diffusion at 10 % moisture, 35.6 kJ/mol (Siau, 1984; from memory)
 */
const dryingOutRate = (celsius: number): number => Math.min(1, 2 ** ((celsius - 21) / 13))
