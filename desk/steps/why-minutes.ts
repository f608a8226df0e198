import type { Almanac } from '../../core/almanac/almanac.ts'
import { STARTING_TIMES } from '../../core/almanac/standard-times.ts'
import type { NetworkStep } from '../../core/constructions/step-network.ts'
import { whyMinutes } from '../../core/constructions/why-minutes.ts'

/** Why a step is estimated as it is, by the standard times of this shop. */
export const whyMinutesHere = (step: NetworkStep, { standardTimes }: Almanac): readonly string[] => {
  const of = ({ operation }: { readonly operation: string }): boolean => operation === step.operation
  return whyMinutes(step, standardTimes.find(of) ?? STARTING_TIMES.find(of))
}
