import { cholesky, jointEffects, type EffectRow, type JointEffects } from './joint-effects.ts'
import { PRIOR, priorNoise, priorTimes, type OperationSpread, type TimesModel } from './times-model.ts'

/** How long one step took: the logarithm of minutes worked on standard minutes, set-up apart. */
export interface Observation {
  readonly stepId: string
  readonly operation: string
  readonly commissionId: string
  readonly makerId: string | null
  readonly y: number
  readonly atMin: number
}

/** How fast the shop is at something, as somebody said. */
export interface Said {
  readonly operation: string
  readonly y: number
}

export interface EstimatedFrom {
  readonly makers: readonly string[]
  readonly operations: readonly OperationSpread[]
  readonly observations: readonly Observation[]
  readonly said: readonly Said[]
  readonly now: number
}

/** A guess of one's own speed is off by a third or so. Common practice, no source. */
const SAID_SD = 0.35
/** What is believed of the noise of an operation counts like so many pieces. */
const NOISE_WORTH = 6
/** After so many days an entry counts half. */
const HALF_LIFE_DAYS = 540
const ROUNDS = 10
const T_FREEDOM = 4

/**
 * How long work takes in this shop, from its log: a hierarchical model fitted by iteratively reweighted least squares, where the
 * noise is Student's t with 4 degrees, so that a slip in the log hardly moves anything. Without pieces it is the prior.
 * Yields after each round, which takes some hundredths of a second in a book of years: whoever runs it may let others have their turn.
 * @source K. L. Lange, R. J. A. Little, J. M. G. Taylor, "Robust statistical modeling using the t distribution", JASA 84 (1989)
 */
export function* estimateTimes({
  makers,
  operations,
  observations,
  said,
  now,
}: EstimatedFrom): Generator<void, TimesModel> {
  const makerAt = new Map(makers.map((id, at) => [id, at]))
  const operationAt = new Map(operations.map(({ id }, at) => [id, at]))
  const pieces = [...observations]
    .sort((a, b) => (a.stepId < b.stepId ? -1 : 1))
    .flatMap((each) => {
      const maker = makerAt.get(each.makerId ?? makers[0] ?? '')
      const operation = operationAt.get(each.operation)
      if (maker === undefined || operation === undefined) return []
      return [{ ...each, maker, operation, age: 2 ** (-Math.max(0, now - each.atMin) / (HALF_LIFE_DAYS * 1440)) }]
    })
  const saidRows = said.flatMap(({ operation, y }): EffectRow[] => {
    const at = operationAt.get(operation)
    return at === undefined || makers.length === 0
      ? []
      : [{ maker: 0, operation: at, order: null, y, precision: 1 / SAID_SD ** 2 }]
  })
  const prior = priorTimes(makers, operations)
  if (pieces.length === 0 && saidRows.length === 0) return prior

  const scales = operations.map(priorNoise)
  const weights = pieces.map(({ age }) => age)
  // Places of each operation's pieces among all: in ten rounds they are asked for twenty times.
  const piecesOf: number[][] = operations.map(() => [])
  for (const [at, { operation }] of pieces.entries()) piecesOf[operation]!.push(at)
  let operationSd: number = PRIOR.operationSd
  const fitted = (): JointEffects => {
    const rows = pieces.map(({ maker, operation, commissionId, y }, at) => ({
      ...{ maker, operation, order: commissionId, y },
      precision: weights[at]! / scales[operation]! ** 2,
    }))
    const spreads = { makerSd: PRIOR.makerSd, operationSd, orderSd: PRIOR.orderSd }
    return jointEffects([...rows, ...saidRows], makers.length, operations.length, spreads)
  }
  for (let round = 0; round < ROUNDS; round++) {
    yield
    const { means, orders } = fitted()
    const left = pieces.map(({ maker, commissionId, y }) => y - means[maker]! - (orders.get(commissionId) ?? 0))
    const residuals = pieces.map(({ operation }, at) => left[at]! - means[makers.length + operation]!)
    for (const [at, { age, operation }] of pieces.entries())
      weights[at] = (age * (T_FREEDOM + 1)) / (T_FREEDOM + (residuals[at]! / scales[operation]!) ** 2)
    for (const [at, spread] of operations.entries()) {
      const own = piecesOf[at]!
      scales[at] = updatedScale(
        priorNoise(spread),
        own.reduce((sum, index) => sum + pieces[index]!.age, 0),
        own.reduce((sum, index) => sum + weights[index]! * residuals[index]! ** 2, 0),
      )
    }
    operationSd = spreadOfOperations(
      operations.flatMap((_, at) => {
        const own = piecesOf[at]!
        const weight = own.reduce((sum, index) => sum + weights[index]!, 0)
        if (own.length < 3) return []
        const mean = own.reduce((sum, index) => sum + weights[index]! * left[index]!, 0) / weight
        return [{ mean, variance: scales[at]! ** 2 / weight }]
      }),
    )
  }
  yield
  return modelOf(fitted(), prior, scales, operationSd)
}

function modelOf(effects: JointEffects, prior: TimesModel, scales: readonly number[], operationSd: number): TimesModel {
  const lower = cholesky(effects.covariance)
  const known = (at: number) => ({
    mean: effects.means[at]!,
    sd: Math.sqrt(effects.covariance[at]![at]!),
    loadings: lower[at]!,
  })
  const first = prior.makers.length
  return {
    ...prior,
    makers: prior.makers.map(({ id }, at) => ({ id, ...known(at) })),
    operations: prior.operations.map(({ id }, at) => ({ id, ...known(first + at), noiseScale: scales[at]! })),
    unknownOperation: { ...prior.unknownOperation, sd: operationSd },
  }
}

/** Scale of the noise: the prior's counts like six pieces (an inverse-gamma prior of the variance). */
export const updatedScale = (prior: number, pieces: number, sumOfSquares: number): number =>
  Math.sqrt((NOISE_WORTH * prior ** 2 + sumOfSquares) / (NOISE_WORTH + pieces))

/**
 * How far operations lie apart, by the method of moments, once five have three pieces each; 0.1 to 0.5.
 * @source B. Efron, C. Morris, "Data analysis using Stein's estimator and its generalizations", JASA 70 (1975)
 */
export function spreadOfOperations(known: readonly { readonly mean: number; readonly variance: number }[]): number {
  if (known.length < 5) return PRIOR.operationSd
  return Math.min(0.5, Math.max(0.1, Math.sqrt(Math.max(0, momentVariance(known)))))
}

export function momentVariance(known: readonly { readonly mean: number; readonly variance: number }[]): number {
  const middle = known.reduce((sum, { mean }) => sum + mean, 0) / known.length
  const squares = known.reduce((sum, { mean }) => sum + (mean - middle) ** 2, 0)
  return squares / (known.length - 3) - known.reduce((sum, { variance }) => sum + variance, 0) / known.length
}
