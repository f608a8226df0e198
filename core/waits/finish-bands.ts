/** How a finish hardens, which decides how much weather slows it. */
export type FinishFamily = 'oxygen-curing' | 'water-based' | 'evaporative' | 'catalysed' | 'never-hardens'

/** Air in the shop: temperature in degrees Celsius, relative humidity as a fraction 0..1. */
export interface Conditions {
  readonly celsius: number
  readonly rh: number
}

/** What `bandMultiplier` rests on, in one line. */
export const BANDS_SOURCE =
  'our own reading of published statements, as no maker prints a rule (DuraSeal 2012; WOOD magazine, Working Around the Weather; WoodWeb 2008)'

/** How far from comfortable the air is: the worse of its temperature and its damp. */
export type Band = 'good' | 'slow' | 'poor' | 'out'

/**
 * The band of the air. Good: 18 C and warmer, up to 60 % (27 C and more gets no credit and no penalty); slow: down to 13 C or up to
 * 75 %; poor: down to 10 C or up to 85 %; out: colder or damper, in which nothing should be applied.
 */
export function bandOf({ celsius, rh }: Conditions): Band {
  const byTemperature = celsius < 10 ? 3 : celsius < 13 ? 2 : celsius < 18 ? 1 : 0
  const byDamp = rh > 0.85 ? 3 : rh > 0.75 ? 2 : rh > 0.6 ? 1 : 0
  return BANDS[Math.max(byTemperature, byDamp)] ?? 'out'
}

/**
 * How many times longer a coat that is on takes in this air, between coats or before packing. What is applied goes on drying in air
 * in which nothing should be applied, only slower: below 10 C twice as long for every 10 C. Valid for thin coats with some air
 * movement; not for days of full cure. Limits of applying are another matter: see `application.ts`.
 * @source our own reading of published statements (no maker prints a rule): best 18-27 C and 40-60 % RH, poor under 10 C (DuraSeal
 * 2012); 6-8 h become 12-24 h in cool or humid rooms (oil-base tips page); at 10 C and less an oil-modified varnish takes several
 * hours longer (Australian urethane maker KB Q5, 2010); solvent finishes mind weather least, water-based most (WOOD magazine)
 */
export function bandMultiplier(family: FinishFamily, conditions: Conditions): number {
  if (family === 'never-hardens') return 1
  const multipliers = MULTIPLIERS[family]
  const byBand = multipliers[bandOf(conditions)]
  if (conditions.celsius >= 10) return byBand
  const byCold = multipliers.poor * 2 ** ((10 - conditions.celsius) / 10)
  return Math.max(byCold, conditions.rh > 0.85 ? multipliers.out : 0)
}

const BANDS: readonly Band[] = ['good', 'slow', 'poor', 'out']

const MULTIPLIERS: Readonly<Record<Exclude<FinishFamily, 'never-hardens'>, Readonly<Record<Band, number>>>> = {
  'oxygen-curing': { good: 1, slow: 1.5, poor: 2.5, out: 4 },
  'water-based': { good: 1, slow: 2, poor: 4, out: 8 },
  evaporative: { good: 1, slow: 1.2, poor: 1.5, out: 2 },
  catalysed: { good: 1, slow: 1.5, poor: 2.5, out: 4 },
}
