import type { Almanac } from '../../core/almanac/almanac.ts'
import { standardTimesOf } from '../../core/almanac/standard-times.ts'
import { minutesPlanned, timeInUse } from '../../core/almanac/times-in-use.ts'
import type { NetworkStep } from '../../core/constructions/step-network.ts'
import { whyMinutes } from '../../core/constructions/why-minutes.ts'

/** Why a step is estimated as it is, by the times of this shop. */
export const whyMinutesHere = (step: NetworkStep, almanac: Almanac): readonly string[] => {
  const time = standardTimesOf(almanac).get(step.operation)
  return whyMinutes(step, time && timeInUse(time, almanac.times), minutesPlanned(step, time, almanac.times))
}
