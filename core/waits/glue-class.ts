import { deadlineClock, waitClock, type Clock } from './clock.ts'
import { practice, usual, type Figure } from './figure.ts'
import type { GLUE_FIGURES } from './glue-figures.ts'
import type { TemperatureResponse } from './temperature-response.ts'

/** A class of glue, by chemistry; a maker's own bottle is a product of one class with what its label says. */
export interface GlueClass {
  readonly id: GlueClassId
  readonly name: string
  readonly note: string
  readonly clocks: Readonly<Record<GlueClockName, Clock>>
  /** Of what is mixed, from mixing on; null: it comes ready. */
  readonly potLife: Clock | null
  /** Coldest at which wood, glue and air may be when it is applied. Labels of one class differ: `min`..`max`. */
  readonly coldestC: { readonly min: number; readonly typical: number; readonly max: number; readonly source: string }
  readonly response: TemperatureResponse
  /** Below `coldestC` it does not set: it waits for warmth. Gelling and drying glues do not wait. */
  readonly setsInTheCold: boolean
  /** What its wet joint does below `coldestC` (or below `belowC`) before the clamps may come off; null: it only waits. */
  readonly spoils: { readonly belowC?: number; readonly how: string; readonly source: string } | null
  /** Glue per area of one joint, grams per square metre; null: no figure found, see the label. */
  readonly spread: { readonly min: number; readonly max: number; readonly source: string } | null
  /** Its water swells the wood along the joint: planed too soon, the joint sinks later. */
  readonly waterBorne: boolean
  /**
   * What water does to a cured joint: `none` lets go, `resists` stands a wipe, `waterproof` a sink now and then; no class is for
   * standing in water.
   * @source EN 204:2016 and ANSI/HPVA Type I and II as suppliers explain them; hide glue: common practice, no source
   */
  readonly water: 'none' | 'resists' | 'waterproof'
  /** Fills gaps or holds by itself: contact is enough, clamp force is not asked for. */
  readonly contactOnly: boolean
  /** Caution ids of the glue itself, worst first. */
  readonly cautions: readonly string[]
}

export type GlueClassId = keyof typeof GLUE_FIGURES

/**
 * The clocks of a glue, all counted at reference conditions. `open` (from spreading to closing the joint) and `assembly` (from
 * spreading to full pressure) are deadlines. The others are waits from the end of the glue-up: `clampsOff` for a joint
 * without stress, `clampsOffStressed` for bent or sprung parts, `mayMachine` for planing, sanding and sawing,
 * `fullStrength` for load.
 */
export type GlueClockName = 'open' | 'assembly' | 'clampsOff' | 'clampsOffStressed' | 'mayMachine' | 'fullStrength'

export const GLUE_CLOCKS: readonly GlueClockName[] = [
  'open',
  'assembly',
  'clampsOff',
  'clampsOffStressed',
  'mayMachine',
  'fullStrength',
]

export function glueClocks(figures: Readonly<Record<GlueClockName, Figure>>): Readonly<Record<GlueClockName, Clock>> {
  return {
    open: deadlineClock(figures.open),
    assembly: deadlineClock(figures.assembly),
    clampsOff: waitClock(figures.clampsOff),
    clampsOffStressed: waitClock(figures.clampsOffStressed),
    mayMachine: waitClock(figures.mayMachine),
    fullStrength: waitClock(figures.fullStrength),
  }
}

export function coldest(figure: Figure): GlueClass['coldestC'] {
  const planned = usual(figure)
  return { min: figure.min ?? planned, typical: planned, max: figure.max ?? planned, source: figure.source }
}

export const STRESSED_A_DAY = practice([24, 24, null], 'h', 'joints under stress')

export const NO_RULE: TemperatureResponse = {
  kind: 'no-rule',
  referenceC: 18,
  deadlineIntervalC: 10,
  source:
    'no rule for this class was found: when cold, the slow end of the range is planned with, when warm, the open time halves every 10 C (our own reading)',
}
