import { daysLater, instantOfLocal, localDay } from '../time/local-day.ts'
import type { Interval } from '../planning/index.ts'
import type { StepProgress } from './step-progress.ts'

/** Whoever still works at four in the morning has forgotten to press. Minutes of the local day. @source common practice, no source */
const NIGHT_MIN = 4 * 60

/** The last time, up to an instant, that the shop was surely empty. */
export function lastNight(instant: number, timeZone: string): number {
  const day = localDay(instant, timeZone)
  const ofDay = instantOfLocal(day, NIGHT_MIN, timeZone)
  return ofDay <= instant ? ofDay : instantOfLocal(daysLater(day, -1), NIGHT_MIN, timeZone)
}

/** Whether a stretch of work runs through a night. */
export const isThroughTheNight = (from: number, to: number, timeZone: string): boolean => {
  const night = lastNight(to, timeZone)
  return from < night && night < to
}

/** Whether a step that is in hand was left so before the last night: then nobody knows until when it was worked on. */
export const isLeftRunning = (progress: StepProgress, now: number, timeZone: string): boolean =>
  progress.kind === 'running' && isThroughTheNight(progress.since, now, timeZone)

/**
 * When the work that began at `since` most likely ended: after what was left of its estimate, but not after the session of that day,
 * nor past the night.
 * @param sessions hours in which anybody works
 */
export function likelyStop(since: number, leftMin: number, sessions: readonly Interval[], timeZone: string): number {
  const closes = sessions.filter(({ from, to }) => from <= since && since < to).map(({ to }) => to)
  const night = lastNight(since, timeZone) + 24 * 60
  return Math.max(since + 1, Math.min(since + Math.max(1, leftMin), night, ...closes))
}
