import type { BenchStep } from '../../desk/screens/bench.ts'

/** Minutes of hands-on work up to now: as the desk counted them at `countedAt`, going on while the step is in hand. */
export const workedUntil = (
  step: Pick<BenchStep, 'state' | 'workedMinutes'>,
  countedAt: number,
  nowMin: number,
): number => step.workedMinutes + (step.state === 'running' ? Math.max(0, nowMin - countedAt) : 0)

/** Hands-on minutes that are allowed for it, preparing the machine included. */
export const allowedFor = (step: Pick<BenchStep, 'handsOnMinutes' | 'setUpMinutes'>): number =>
  step.handsOnMinutes + step.setUpMinutes
