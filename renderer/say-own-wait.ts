import type { RecordedWait } from '../core/almanac/own-wait.ts'

/** A kind of wait as a maker says it. */
export const sayWait = (wait: RecordedWait): string => WORDS[wait]

const WORDS: Readonly<Record<RecordedWait, string>> = { drying: 'drying', curing: 'curing', resting: 'resting' }

/** A factor as a maker says it: `1.4 times the label`. */
export const sayTimes = (factor: number): string =>
  Math.abs(factor - 1) < 0.05 ? 'as the label says' : `${Number(factor.toFixed(1))} times the label`
