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
    /** Share of an evening that is worked once somebody is there, 0..1: who comes late or leaves early has less of it. */
    readonly share: number
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

/** Whether anything that somebody logged or said is in it; else it is the prior, and times are those of the book. */
export const isTaught = ({ makers, operations }: TimesModel): boolean =>
  [...makers, ...operations].some(({ mean }) => mean !== 0)

/** An operation of the almanac with its best and worst day as parts of the usual. */
export interface OperationSpread {
  readonly id: string
  readonly optimisticFactor: number
  readonly pessimisticFactor: number
}

/** Noise of a step before anything is logged: a third of the range of its book figure, at least a quarter. */
export const priorNoise = ({ optimisticFactor, pessimisticFactor }: OperationSpread): number =>
  Math.max(PRIOR.leastNoise, (Math.log(pessimisticFactor) - Math.log(optimisticFactor)) / 3)

/** Before anything is logged: nineteen twentieths of an evening are worked. Common practice, no source. */
export const USUAL_SHARE = 0.95

/** One evening missed in ten, 20 evenings' worth of belief; 1 lost week in 40. Common practice, no source. */
export const priorAttendance = (
  makers: readonly { readonly id: string; readonly attendance: number }[],
): AttendanceModel => ({
  makers: makers.map(({ id, attendance }) => ({
    ...{ id, met: 0, missed: 0, rate: believed(attendance) },
    share: USUAL_SHARE,
  })),
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

/**
 * No step is drawn to take more than so many times what is usual for its maker, operation and order, nor less than that part of it, which is
 * what learning leaves out, too: who sits so long at one does it another way, or begins anew, which mishaps stand for. Student's t on a
 * logarithm has no mean; its last thousandths would say years for an evening's work. Common practice, no source.
 */
const MOST_TIMES_USUAL = 10

/** Whose step it is, for its luck. `maker` undefined: nobody is named. */
export interface TimedStep {
  readonly id: string
  readonly operation: string
  readonly commission: string
  readonly maker: string | undefined
}

/**
 * How long everything takes in so many replications, as factors on standard minutes: in each one draw of each maker, operation and
 * commission, which all their steps share, and one of each step.
 * @param luckOf numbers in (0, 1) of a name, one for each replication; always the same for the same name
 */
export function drawTimes(
  model: TimesModel,
  count: number,
  luckOf: (name: string) => Float64Array,
): (step: TimedStep) => Float64Array {
  const normalsOf = (name: string): Float64Array => luckOf(name).map(normalQuantile)
  const normals = remembered((at: number) =>
    normalsOf(
      at < model.makers.length
        ? `maker ${model.makers[at]!.id}`
        : `operation ${model.operations[at - model.makers.length]?.id}`,
    ),
  )
  const known = ({ mean, loadings }: Effect): Float64Array => {
    const drawn = new Float64Array(count).fill(mean)
    loadings.forEach((loading, at) => {
      if (loading === 0) return
      const shared = normals(at)
      for (let run = 0; run < count; run++) drawn[run]! += loading * shared[run]!
    })
    return drawn
  }
  const alone = (name: string, { mean, sd }: { readonly mean: number; readonly sd: number }): Float64Array =>
    normalsOf(name).map((normal) => mean + sd * normal)
  const makerOf = remembered((id: string) => {
    const listed = model.makers.find((maker) => maker.id === id)
    return listed === undefined ? alone(`maker ${id}`, model.unknownMaker) : known(listed)
  })
  const operationOf = remembered((id: string) => {
    const listed = model.operations.find((operation) => operation.id === id)
    const { noiseScale } = listed ?? model.unknownOperation
    return { noiseScale, effect: listed ? known(listed) : alone(`operation ${id}`, model.unknownOperation) }
  })
  const orderOf = remembered((id: string) => alone(`order ${id}`, { mean: 0, sd: model.orderSd }))
  return ({ id, operation, commission, maker }) => {
    const a = makerOf(maker ?? '')
    const { effect, noiseScale } = operationOf(operation)
    const u = orderOf(commission)
    const luck = luckOf(`step ${id}`)
    const most = Math.log(MOST_TIMES_USUAL)
    const noise = (run: number): number => Math.max(-most, Math.min(most, noiseScale * student4Quantile(luck[run]!)))
    return a.map((own, run) => Math.exp(own + effect[run]! + u[run]! + noise(run)))
  }
}

/** The same answer to the same question, worked out once. */
function remembered<Key, Value>(make: (key: Key) => Value): (key: Key) => Value {
  const answers = new Map<Key, Value>()
  return (key) => {
    const before = answers.get(key)
    if (before !== undefined) return before
    const made = make(key)
    answers.set(key, made)
    return made
  }
}
