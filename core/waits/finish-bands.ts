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
 * The band of the air. Good: 18-27 C and up to 60 % (27-32 C gets no credit and no penalty); slow: down to 13 C or up to 75 %; poor:
 * down to 10 C or up to 85 %; out: colder, warmer than 32 C or damper.
 */
export function bandOf({ celsius, rh }: Conditions): Band {
  const byTemperature = celsius < 10 || celsius > 32 ? 3 : celsius < 13 ? 2 : celsius < 18 ? 1 : 0
  const byDamp = rh > 0.85 ? 3 : rh > 0.75 ? 2 : rh > 0.6 ? 1 : 0
  return BANDS[Math.max(byTemperature, byDamp)] ?? 'out'
}

/**
 * How many times longer a wait between coats or before packing takes in this air; null: hold, it would not dry or would be
 * spoiled (blush). Valid for thin coats with some air movement; not for days of full cure.
 * @source our own reading of published statements (no maker prints a rule): best 18-27 C and 40-60 % RH, poor under 10 C, over
 * 32 C (DuraSeal 2012); 6-8 h become 12-24 h in cool or humid rooms (oil-base tips page); solvent finishes mind weather least,
 * water-based most (WOOD magazine, Working Around the Weather); catalysed ones need 21 C (WoodWeb 2008)
 */
export function bandMultiplier(family: FinishFamily, conditions: Conditions): number | null {
  if (family === 'never-hardens') return 1
  if (family === 'catalysed' && conditions.celsius < CATALYSED_COLDEST_C) return null
  return MULTIPLIERS[family][bandOf(conditions)]
}

/** The longest multiplier that a family has: what a label that allows worse air than the bands is planned with. */
export const slowestMultiplier = (family: FinishFamily): number =>
  family === 'never-hardens' ? 1 : Math.max(...Object.values(MULTIPLIERS[family]).map((multiplier) => multiplier ?? 1))

const BANDS: readonly Band[] = ['good', 'slow', 'poor', 'out']

/** WoodWeb knowledge base, Temperature and Humidity Issues When Spraying On Site (2008): 70 F during and after. */
const CATALYSED_COLDEST_C = 21

const MULTIPLIERS: Readonly<Record<Exclude<FinishFamily, 'never-hardens'>, Readonly<Record<Band, number | null>>>> = {
  'oxygen-curing': { good: 1, slow: 1.5, poor: 2.5, out: null },
  'water-based': { good: 1, slow: 2, poor: null, out: null },
  evaporative: { good: 1, slow: 1.2, poor: null, out: null },
  catalysed: { good: 1, slow: null, poor: null, out: null },
}
