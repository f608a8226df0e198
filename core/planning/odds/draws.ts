import { betaQuantile } from '../../chance/quantiles.ts'
import { drawTimes, type TimedStep } from '../../learning/times-model.ts'
import type { Forecast } from './forecast.ts'
import { luckOf, stratified, Triangle } from './luck.ts'
import type { Lag, PlanStep } from '../problem/model.ts'

/** So many values stand for what is believed of a rate. */
const STRATA = 64
const WEEK = 7 * 1440
/** A step that has taken longer than was drawn is drawn again, so many times at most. */
const MOST_DRAWN_AGAIN = 12
/** What is left of one that is longer than all of them, as a share of what was worked. */
const LEFT_OF_OVERRUN = 0.2

/**
 * What turns out how in each replication, by name: a step, a wait, an evening has the same luck wherever it is asked for, so
 * that plans and offers are compared by what differs between them (common random numbers).
 */
export class Draws {
  readonly count: number
  readonly #seed: number
  readonly #forecast: Forecast
  readonly #factorsOf: (step: TimedStep) => Float64Array
  readonly #minutes = new Map<string, Int32Array>()
  readonly #waits = new Map<string, Int32Array>()
  readonly #mishaps = new Map<string, Uint8Array>()
  readonly #evenings = new Map<string, Uint8Array>()
  readonly #rates = new Map<string, Float64Array>()
  readonly #lostWeeks: Float64Array
  /** Share of an evening that each maker works: the minutes that he loses of it are put on his steps. */
  readonly #shares: ReadonlyMap<string, number>

  /** @param count replications */
  constructor(count: number, seed: number, forecast: Forecast) {
    this.count = count
    this.#seed = seed
    this.#forecast = forecast
    this.#factorsOf = drawTimes(forecast.times, count, (name) => this.#luckOf(name))
    this.#shares = new Map(forecast.attendance.makers.map(({ id, share }) => [id, share]))
    this.#lostWeeks = this.#ratesOf('lost weeks', forecast.attendance.lostWeek)
  }

  /**
   * Working minutes of a step in each replication, without set-ups; at least 1 where it has any.
   * @param maker who works on it first of all
   * @param attempt 0, or 1 where it is done a second time after a mishap
   */
  minutes(step: PlanStep, maker: string | undefined, attempt = 0): Int32Array {
    const { minutes, timing } = step
    const name = `${luckNameOf(step)}${attempt === 0 ? '' : ' again'}`
    const key = `${name}\n${maker ?? ''}\n${minutes}`
    const known = this.#minutes.get(key)
    if (known !== undefined) return known
    const drawn = new Int32Array(this.count)
    this.#minutes.set(key, drawn)
    if (minutes === 0) return drawn
    if (timing === undefined) return drawn.fill(minutes)
    const { operation, standardMin, workedMin: worked } = timing
    const perMinute = 1 / (this.#shares.get(maker ?? '') ?? 1)
    const timed = { id: name, operation, commission: step.luck?.order ?? step.commissionId, maker }
    const whole = this.#factorsOf(timed)
    for (let again = 1; again <= MOST_DRAWN_AGAIN && whole.some((factor) => standardMin * factor <= worked); again++) {
      const drawnAgain = this.#factorsOf({ ...timed, id: `${name} ${again}` })
      drawnAgain.forEach((factor, run) => {
        if (standardMin * whole[run]! <= worked) whole[run] = factor
      })
    }
    for (let run = 0; run < this.count; run++) {
      const left = standardMin * whole[run]! - worked
      drawn[run] = Math.max(1, Math.round((left > 0 ? left : worked * LEFT_OF_OVERRUN) * perMinute))
    }
    return drawn
  }

  /** Minutes of a wait between two steps in each replication; null: they are certain. */
  wait({ name, minMin, spread }: Lag, from: PlanStep, to: PlanStep): Int32Array | null {
    if (spread === undefined || spread.pessimistic <= spread.optimistic) return null
    const key = `wait ${luckNameOf(from)} ${luckNameOf(to)} ${name}`
    const known = this.#waits.get(key)
    if (known !== undefined) return known
    const draw = new Triangle(spread.optimistic, minMin, spread.pessimistic)
    const drawn = Int32Array.from(this.#luckOf(key), (luck) => Math.round(draw.at(luck)))
    this.#waits.set(key, drawn)
    return drawn
  }

  /** 1 for each replication in which a glue-up fails, or a piece cracks at this step. */
  mishapsOf(what: 'glueUp' | 'crack', step: PlanStep): Uint8Array {
    const key = `${what} ${luckNameOf(step)}`
    const known = this.#mishaps.get(key)
    if (known !== undefined) return known
    const rates = this.#ratesOf(what, this.#forecast.mishaps[what])
    const luck = this.#luckOf(key)
    const drawn = Uint8Array.from(rates, (rate, run) => (luck[run]! < rate ? 1 : 0))
    this.#mishaps.set(key, drawn)
    return drawn
  }

  /**
   * 1 for each replication in which a maker gets to a session, by the instant at which it opens, so that hours added elsewhere do
   * not change the luck of this one: as a whole or not at all, and not in a week that is lost.
   */
  evening(maker: string, opens: number): Uint8Array {
    const key = `${opens} ${maker}`
    const known = this.#evenings.get(key)
    if (known !== undefined) return known
    const { makers, unknownMaker } = this.#forecast.attendance
    const rates = this.#ratesOf(`evening ${maker}`, makers.find(({ id }) => id === maker)?.rate ?? unknownMaker)
    const luck = this.#luckOf(`evening ${opens} ${maker}`)
    const isLost = this.#weekLost(Math.floor(opens / WEEK))
    const drawn = Uint8Array.from(rates, (rate, run) => (luck[run]! < rate && isLost[run] === 0 ? 1 : 0))
    this.#evenings.set(key, drawn)
    return drawn
  }

  #weekLost(week: number): Uint8Array {
    const key = `lost week ${week}`
    const known = this.#evenings.get(key)
    if (known !== undefined) return known
    const luck = this.#luckOf(key)
    const drawn = Uint8Array.from(this.#lostWeeks, (rate, run) => (luck[run]! < rate ? 1 : 0))
    this.#evenings.set(key, drawn)
    return drawn
  }

  /** A number in (0, 1) for each replication, by name. */
  #luckOf(name: string): Float64Array {
    return stratified(luckOf(name, this.#seed), this.count)
  }

  /** What a rate is in each replication: what is not known of it is the same for all that happens in it. */
  #ratesOf(name: string, believed: Forecast['attendance']['lostWeek']): Float64Array {
    const known = this.#rates.get(name)
    if (known !== undefined) return known
    const { alpha, beta } = believed
    const strata = Float64Array.from({ length: STRATA }, (_, stratum) =>
      beta === 0 ? 1 : alpha === 0 ? 0 : betaQuantile(believed, (stratum + 0.5) / STRATA),
    )
    const rates = this.#luckOf(`rate ${name}`).map((luck) => strata[Math.floor(luck * STRATA)]!)
    this.#rates.set(name, rates)
    return rates
  }
}

const luckNameOf = ({ id, luck }: PlanStep): string => luck?.step ?? id
