import { normalQuantile, student4Quantile, type Beta } from '../chance/quantiles.ts'

/**
 * What is known of how long work takes, as plain data: the logarithm of the factor on a step's standard minutes is
 * `A (maker) + B (operation) + U (commission) + e (step)`. Standard minutes are those of the almanac's book, setup apart.
 */
export interface TimesModel {
  readonly makers: readonly Effect[]
  readonly operations: readonly OperationEffect[]
  /** For makers and operations of whom nothing is listed. */
  readonly unknownMaker: { readonly mean: number; readonly sd: number }
  readonly unknownOperation: { readonly mean: number; readonly sd: number; readonly noiseScale: number }
  /** Standard deviation of U. */
  readonly orderSd: number
  /** Degrees of freedom of the noise, e = noiseScale x t(noiseFreedom). */
  readonly noiseFreedom: 4
}

export interface Effect {
  readonly id: string
  readonly mean: number
  readonly sd: number
  /**
   * Weights of independent standard normals, those of the makers first, then those of the operations: what is not known of a maker
   * and of his operations is known together. Their squares add up to sd x sd; missing ones at the end are 0.
   */
  readonly loadings: readonly number[]
}

export interface OperationEffect extends Effect {
  readonly noiseScale: number
}

/** How often somebody really gets to the shop, and how often a whole week is lost. */
export interface AttendanceModel {
  readonly makers: readonly {
    readonly id: string
    readonly met: number
    readonly missed: number
    readonly rate: Beta
  }[]
  readonly unknownMaker: Beta
  /** Share of weeks in which nobody gets to the shop at all. */
  readonly lostWeek: Beta
}

/** How often a glue-up fails and has to be done again, and a piece cracks and has to be made again. */
export interface MishapModel {
  readonly glueUp: Beta
  readonly crack: Beta
}

/** Spreads before anything is logged: of makers, of operations, of orders, and of one step. Common practice, no source. */
export const PRIOR = { makerSd: 0.3, operationSd: 0.25, orderSd: 0.12, leastNoise: 0.25 } as const

/** What is known before anything is logged. @param makers ids @param operations with the spread of their book figures */
export function priorTimes(makers: readonly string[], operations: readonly OperationSpread[]): TimesModel {
  const alone = (at: number, sd: number): number[] => [...Array<number>(at).fill(0), sd]
  return {
    makers: makers.map((id, at) => ({ id, mean: 0, sd: PRIOR.makerSd, loadings: alone(at, PRIOR.makerSd) })),
    operations: operations.map((operation, at) => ({
      id: operation.id,
      mean: 0,
      sd: PRIOR.operationSd,
      loadings: alone(makers.length + at, PRIOR.operationSd),
      noiseScale: priorNoise(operation),
    })),
    unknownMaker: { mean: 0, sd: PRIOR.makerSd },
    unknownOperation: { mean: 0, sd: PRIOR.operationSd, noiseScale: PRIOR.leastNoise },
    orderSd: PRIOR.orderSd,
    noiseFreedom: 4,
  }
}

/** An operation of the almanac with its best and worst day as parts of the usual. */
export interface OperationSpread {
  readonly id: string
  readonly optimisticFactor: number
  readonly pessimisticFactor: number
}

/** Noise of a step before anything is logged: a third of the range of its book figure, at least a quarter. */
export const priorNoise = ({ optimisticFactor, pessimisticFactor }: OperationSpread): number =>
  Math.max(PRIOR.leastNoise, (Math.log(pessimisticFactor) - Math.log(optimisticFactor)) / 3)

/** One evening missed in ten, 20 evenings' worth of belief; 1 lost week in 40. Common practice, no source. */
export const priorAttendance = (
  makers: readonly { readonly id: string; readonly attendance: number }[],
): AttendanceModel => ({
  makers: makers.map(({ id, attendance }) => ({ id, met: 0, missed: 0, rate: believed(attendance) })),
  unknownMaker: believed(0.9),
  lostWeek: { alpha: 1, beta: 39 },
})

/** What somebody says of his own attendance counts like 20 evenings. */
export const believed = (attendance: number): Beta => ({
  alpha: Math.max(0.5, 20 * attendance),
  beta: Math.max(0.5, 20 * (1 - attendance)),
})

/** 1 failure in 50 glue-ups, 1 crack in 100 pieces. Common practice, no source. */
export const PRIOR_MISHAPS: MishapModel = { glueUp: { alpha: 1, beta: 49 }, crack: { alpha: 1, beta: 99 } }

/** The rate that is expected. */
export const meanRate = ({ alpha, beta }: Beta): number => alpha / (alpha + beta)

/** Whose step it is, for its luck. `maker` undefined: nobody is named. */
export interface TimedStep {
  readonly id: string
  readonly operation: string
  readonly commission: string
  readonly maker: string | undefined
}

/**
 * How long everything takes in one replication, as factors on standard minutes: one draw of each maker, operation and
 * commission, which all their steps share, and one of each step.
 * @param uniformOf a number in (0, 1) by name, always the same for a name within the replication
 */
export function drawTimes(model: TimesModel, uniformOf: (name: string) => number): (step: TimedStep) => number {
  const names = [...model.makers.map(({ id }) => `maker ${id}`), ...model.operations.map(({ id }) => `operation ${id}`)]
  const normals = names.map((name) => normalQuantile(uniformOf(name)))
  const drawn = (effect: Effect): number =>
    effect.loadings.reduce((sum, loading, at) => sum + loading * (normals[at] ?? 0), effect.mean)
  const makers = new Map(model.makers.map((maker) => [maker.id, drawn(maker)]))
  const operations = new Map(
    model.operations.map((each) => [each.id, { effect: drawn(each), noiseScale: each.noiseScale }]),
  )
  const orders = new Map<string, number>()
  const alone = (name: string, { mean, sd }: { readonly mean: number; readonly sd: number }): number =>
    mean + sd * normalQuantile(uniformOf(name))
  const kept = <Value>(map: Map<string, Value>, id: string, make: () => Value): Value => {
    const known = map.get(id)
    if (known !== undefined) return known
    const made = make()
    map.set(id, made)
    return made
  }
  return ({ id, operation, commission, maker }) => {
    const whose = maker ?? ''
    const a = kept(makers, whose, () => alone(`maker ${whose}`, model.unknownMaker))
    const b = kept(operations, operation, () => ({
      effect: alone(`operation ${operation}`, model.unknownOperation),
      noiseScale: model.unknownOperation.noiseScale,
    }))
    const u = kept(orders, commission, () => alone(`order ${commission}`, { mean: 0, sd: model.orderSd }))
    return Math.exp(a + b.effect + u + b.noiseScale * student4Quantile(uniformOf(`step ${id}`)))
  }
}
