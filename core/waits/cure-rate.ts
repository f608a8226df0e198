import { bandMultiplier, slowestMultiplier, type Conditions } from './finish-bands.ts'
import type { FinishClass } from './finish-class.ts'
import type { GlueClass } from './glue-class.ts'
import { classOf, clockOf, isDeadline, limitsOf, type ClockName, type Product, type ProductLimits } from './product.ts'
import { deadlineRate, waitRate, type TemperatureResponse } from './temperature-response.ts'
import { writeCelsius } from './write-celsius.ts'

/** It does not cure or dry in this air, however long one waits. */
export interface Hold {
  readonly kind: 'hold'
  readonly reason: 'too-cold' | 'too-warm' | 'too-damp'
  /** What is wrong and what would do. */
  readonly message: string
}

/**
 * Progress of a wait per elapsed minute in this air, relative to reference conditions: 1 at reference, 0 while nothing cures. A
 * wait of m reference minutes is over when the progress since its beginning adds up to m. For a deadline (`open`, `assembly`) it
 * says how much faster than at reference the time runs out.
 * @param celsius the coldest of wood, glue and air
 * @param rh relative humidity, fraction 0..1; matters to finishes only
 */
export function rateAt(product: Product, clock: ClockName, celsius: number, rh: number): number {
  const of = classOf(product)
  if (of === null) return 1
  if (isDeadline(clock)) return of.kind === 'glue' ? deadlineRate(responseOf(product, of.glue), celsius) : 1
  if (holdAt(product, { celsius, rh }) !== null) return 0
  if (of.kind === 'finish') return finishRate(product, of.finish, clock, { celsius, rh })
  const range = clockOf(product, clock)
  const slowest = range === null || range.max === 0 ? 1 : range.typical / range.max
  return waitRate(responseOf(product, of.glue), celsius, slowest) ?? 0
}

/** Why nothing cures or dries in this air; null where it does. */
export function holdAt(product: Product, conditions: Conditions): Hold | null {
  const of = classOf(product)
  const limits = limitsOf(product)
  if (of === null || limits === null) return null
  const { celsius, rh } = conditions
  if (celsius < limits.coldestC) return tooCold(product, of.kind, celsius, limits)
  if (celsius > limits.warmestC) return tooWarm(product, celsius, limits)
  if (rh > limits.dampestRh) return tooDamp(product, rh, limits.dampestRh)
  if (of.kind === 'glue') {
    const table = responseOf(product, of.glue)
    const coldest = table.kind === 'table' ? (table.waits[0]?.celsius ?? celsius) : celsius
    return celsius < coldest ? tooCold(product, 'glue', celsius, { ...limits, coldestC: coldest }) : null
  }
  if (limits.fromLabel || bandMultiplier(of.finish.family, conditions) !== null) return null
  if (bandMultiplier(of.finish.family, { celsius, rh: 0.5 }) !== null) return tooDamp(product, rh, null)
  return celsius > 32 ? tooWarm(product, celsius, limits) : tooCold(product, 'finish', celsius, null)
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

function finishRate(product: Product, finish: FinishClass, clock: ClockName, conditions: Conditions): number {
  if (COUNTED_PLAINLY.has(clock)) return 1
  const multiplier = bandMultiplier(finish.family, conditions)
  if (multiplier !== null) return 1 / multiplier
  return limitsOf(product)?.fromLabel === true ? 1 / slowestMultiplier(finish.family) : 0
}

function tooCold(product: Product, kind: 'glue' | 'finish', celsius: number, limits: ProductLimits | null): Hold {
  const does = kind === 'glue' ? 'does not cure' : 'does not dry as it should'
  const least = limits === null ? 'It needs a warmer shop' : `It needs ${writeCelsius(limits.coldestC)}`
  const where = kind === 'glue' ? 'in wood, glue and air' : 'in the wood and the air'
  const label = limits?.fromLabel === true ? '' : ', or what its label says'
  return {
    kind: 'hold',
    reason: 'too-cold',
    message: `Too cold: ${product.name} ${does} at ${writeCelsius(celsius)}. ${least} ${where}${label}.`,
  }
}

const tooWarm = (product: Product, celsius: number, limits: ProductLimits): Hold => ({
  kind: 'hold',
  reason: 'too-warm',
  message: `Too warm: ${product.name} should not be worked at ${writeCelsius(celsius)}. Wait until it is under ${writeCelsius(limits.warmestC)}.`,
})

function tooDamp(product: Product, rh: number, dampest: number | null): Hold {
  const until =
    dampest === null ? 'Warm and air the room' : `Warm and air the room until it is under ${percent(dampest)}`
  return {
    kind: 'hold',
    reason: 'too-damp',
    message: `Too damp: at ${percent(rh)} humidity ${product.name} stays soft or turns white. ${until}.`,
  }
}

const percent = (fraction: number): string => `${Math.round(fraction * 100)} %`
