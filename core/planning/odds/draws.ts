import { luckOf, normal, Triangle, uniform } from './luck.ts'
import type { Lag, PlanStep } from '../problem/model.ts'

/** How often each maker gets to the shop at all when hours are planned, 0..1. */
export type Attendance = readonly { readonly maker: string; readonly rate: number }[]

/**
 * Spread that all steps of a commission share (a hard wood, an unusual shape), and that all steps of a maker share (a
 * slow month), as standard deviations of the logarithm. Independent errors alone cancel out over thirty steps and make
 * the safe date far too early. Common practice, no source.
 */
const COMMISSION_SPREAD = 0.12
const MAKER_SPREAD = 0.08

/** What turns out how in each replication, by name: a step, a wait, an evening has the same luck wherever it is asked for. */
export class Draws {
  readonly #count: number
  readonly #seed: number
  readonly #rates: ReadonlyMap<string, number>
  readonly #factors = new Map<string, Float64Array>()

  /** @param count replications */
  constructor(count: number, seed: number, attendance: Attendance) {
    this.#count = count
    this.#seed = seed
    this.#rates = new Map(attendance.map(({ maker, rate }) => [maker, rate]))
  }

  /** Working minutes of a step in each replication, without set-ups, written to `into`. @param maker who works on it first of all */
  minutes({ id, commissionId, minutes, spread }: PlanStep, maker: string | undefined, into: Int32Array): void {
    if (spread === undefined || minutes === 0) {
      into.fill(minutes)
      return
    }
    const luck = luckOf(`step ${id}`, this.#seed)
    const shared = this.#sharedBy(commissionId, maker)
    const draw = new Triangle(spread.optimistic, minutes, spread.pessimistic)
    for (let run = 0; run < into.length; run++) {
      const own = Math.round(draw.at(uniform(luck, run)) * shared[run]!)
      into[run] = own < 1 ? 1 : own
    }
  }

  /** Minutes of a wait in each replication, written to `into`. False: they are certain, and nothing is written. */
  wait({ from, to, name, minMin, spread }: Lag, into: Int32Array): boolean {
    if (spread === undefined || spread.pessimistic <= spread.optimistic) return false
    const luck = luckOf(`wait ${from} ${to} ${name}`, this.#seed)
    const draw = new Triangle(spread.optimistic, minMin, spread.pessimistic)
    for (let run = 0; run < into.length; run++) into[run] = Math.round(draw.at(uniform(luck, run)))
    return true
  }

  rateOf(maker: string): number {
    return this.#rates.get(maker) ?? 1
  }

  luckOfEvenings(maker: string): number {
    return luckOf(`evening ${maker}`, this.#seed)
  }

  /** What all steps of a commission and all of a maker have in common, as a factor in each replication. */
  #sharedBy(commission: string, maker: string | undefined): Float64Array {
    const ofCommission = this.#factor(`commission ${commission}`, COMMISSION_SPREAD)
    if (maker === undefined) return ofCommission
    const name = `${commission}\n${maker}`
    const known = this.#factors.get(name)
    if (known !== undefined) return known
    const ofMaker = this.#factor(`maker ${maker}`, MAKER_SPREAD)
    const both = ofCommission.map((factor, run) => factor * ofMaker[run]!)
    this.#factors.set(name, both)
    return both
  }

  #factor(name: string, spread: number): Float64Array {
    const known = this.#factors.get(name)
    if (known !== undefined) return known
    const luck = luckOf(name, this.#seed)
    const factor = new Float64Array(this.#count)
    for (let run = 0; run < factor.length; run++) factor[run] = Math.exp(spread * normal(luck, run))
    this.#factors.set(name, factor)
    return factor
  }
}

/**
 * Whether somebody gets to a session in a replication: as a whole or not at all.
 * @param luck of the maker's evenings
 * @param opens by the instant at which it opens, so that hours added elsewhere do not change the luck of this one
 */
export const getsThere = (luck: number, rate: number, opens: number, run: number): boolean =>
  rate >= 1 || uniform(luck ^ Math.imul(opens, 0x27d4eb2f), run) < rate
