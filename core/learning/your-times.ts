import type { StandardTime } from '../constructions/shop-facts.ts'
import { normalQuantile, student4Quantile } from '../chance/quantiles.ts'
import type { Observation } from './estimate-times.ts'
import type { Effect, TimesModel } from './times-model.ts'

/** How long an operation takes in this shop, beside what the book says. Minutes a unit. */
export interface YourTime {
  readonly operation: string
  readonly bookMin: number
  /** As likely longer as shorter. */
  readonly yoursMin: number
  /** Of ten pieces one is quicker and one slower than this. */
  readonly fromMin: number
  readonly toMin: number
  readonly pieces: number
}

/** @param makerId whose */
export function yourTime(model: TimesModel, time: StandardTime, makerId: string, pieces: number): YourTime {
  const maker = model.makers.find(({ id }) => id === makerId) ?? null
  const operation = model.operations.find(({ id }) => id === time.operation) ?? null
  const mean = (maker ?? model.unknownMaker).mean + (operation ?? model.unknownOperation).mean
  const noise = ((operation ?? model.unknownOperation).noiseScale * student4Quantile(0.9)) / normalQuantile(0.9)
  const spread = Math.sqrt(varianceOfBoth(model, maker, operation) + model.orderSd ** 2 + noise ** 2)
  const at = (chance: number): number => time.perUnitMin * Math.exp(mean + spread * normalQuantile(chance))
  return {
    operation: time.operation,
    bookMin: time.perUnitMin,
    yoursMin: at(0.5),
    fromMin: at(0.1),
    toMin: at(0.9),
    pieces,
  }
}

/** Whose times are shown: who did most of what is counted. */
export function busiestMaker(observations: readonly Observation[], makers: readonly { readonly id: string }[]): string {
  const byMaker = Map.groupBy(observations, ({ makerId }) => makerId)
  const [busiest] = [...byMaker].sort((a, b) => b[1].length - a[1].length)[0] ?? []
  return busiest ?? makers[0]?.id ?? ''
}

/** Of maker and operation together: what is not known of one often makes up for the other. */
function varianceOfBoth(model: TimesModel, maker: Effect | null, operation: Effect | null): number {
  if (maker === null || operation === null)
    return (maker ?? model.unknownMaker).sd ** 2 + (operation ?? model.unknownOperation).sd ** 2
  const length = Math.max(maker.loadings.length, operation.loadings.length)
  let sum = 0
  for (let at = 0; at < length; at++) sum += ((maker.loadings[at] ?? 0) + (operation.loadings[at] ?? 0)) ** 2
  return sum
}
