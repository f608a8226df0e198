import type { Problem } from '../../problems.ts'
import type { Compiled } from './compiled.ts'
import type { Obstacle } from '../schedule/ledger.ts'
import { stepProblem } from './step-problem.ts'
import { durationWords } from '../../time/duration.ts'
import { stepWords } from '../reasons/step-words.ts'

/** Why no schedule could be built, in words. */
export function refusalOf({
  compiled,
  obstacle,
}: {
  readonly compiled: Compiled
  readonly obstacle: Obstacle | null
}): Problem {
  if (obstacle === null) throw new Error('nothing was in the way')
  const { steps, lags, stations } = compiled.problem
  const step = steps[obstacle.step]!
  const words = stepWords(step)
  switch (obstacle.kind) {
    case 'no-hours':
      return stepProblem(
        step,
        'no-hours-left',
        `${words} finds no place before the known working hours end: enter hours further ahead, or longer sessions.`,
      )
    case 'station': {
      const { name } = stations[obstacle.station]!
      return stepProblem(
        step,
        'station-never-free',
        `${words} waits for ${name}, and what holds ${name} waits for ${words}: get more, or let it be freed earlier.`,
      )
    }
    case 'window': {
      const lag = lags[obstacle.lag]!
      const from = steps[compiled.lagFrom[obstacle.lag]!]!
      const to = steps[compiled.lagTo[obstacle.lag]!]!
      return stepProblem(
        to,
        'window-cannot-be-met',
        `${stepWords(to)} must start within ${durationWords(lag.maxMin ?? 0)} after ${stepWords(from)} (“${lag.name}”), and whenever that is tried the shop is closed or taken: add hours, widen the window, or say what is done when it is missed.`,
      )
    }
    case 'wait': {
      const lag = lags[obstacle.lag]!
      return stepProblem(
        step,
        'wait-never-over',
        `“${lag.name}” before ${words} is never over: its clock stands still. Warm the shop, or check the conditions in the almanac.`,
      )
    }
  }
}
