import { minutesBy, type TimeChoices } from '../almanac/times-in-use.ts'
import type { StepEntry } from '../book/book.ts'
import {
  LONGEST_STRETCH_MIN,
  minutesOver,
  setUpWorked,
  workAt,
  type Stretch,
  type StepWork,
} from '../book/work-done.ts'
import { isThroughTheNight } from '../book/left-running.ts'
import type { NetworkStep, StepUnits } from '../constructions/step-network.ts'
import type { StandardTime } from '../constructions/shop-facts.ts'
import type { Observation } from './estimate-times.ts'

/** A step of any order, open or closed, as far as learning asks. */
export interface LoggedStep {
  readonly id: string
  readonly commissionId: string
  readonly operation: string
  readonly name: string
  readonly minutes: number
  readonly units: StepUnits | null
  readonly setUp: NetworkStep['setUp']
}

/** Why a step teaches nothing. */
export type LeftOutWhy =
  'no-start' | 'too-short' | 'too-long' | 'through-the-night' | 'two-at-once' | 'failed' | 'remedy' | 'by-you'

export interface LeftOut {
  readonly stepId: string
  readonly operation: string
  readonly workedMin: number
  readonly endedAt: number
  readonly why: LeftOutWhy
  /** Nothing can be learned from no minutes at all. */
  readonly canCount: boolean
}

export interface Observed {
  readonly observations: readonly Observation[]
  readonly leftOut: readonly LeftOut[]
}

const SHORT_OVERLAP_MIN = 10

/**
 * What the log says of how long steps took, and what it leaves out, with the reason.
 * @param entries of these steps that count, oldest first
 * @param standardTime the almanac's book
 */
export function observe(
  steps: readonly LoggedStep[],
  entries: readonly StepEntry[],
  standardTime: (operation: string) => StandardTime | undefined,
  choices: Pick<TimeChoices, 'entries'>,
  timeZone: string,
): Observed {
  const worked = workAt(entries)
  const overlaps = overlapsOf(worked)
  const haveFailed = new Set(entries.filter(({ action }) => action.kind === 'failed').map(({ stepId }) => stepId))
  const hadRemedy = new Set(entries.filter(isWithRemedy).map(({ stepId }) => stepId))
  const chosen = new Map(choices.entries.map(({ stepId, choice }) => [stepId, choice]))
  const observations: Observation[] = []
  const leftOut: LeftOut[] = []
  for (const step of steps) {
    const work = worked.get(step.id)
    if (work === undefined || work.done === null) continue
    const endedAt = work.done.at
    const overlap = overlaps.get(step.id) ?? { minutes: 0, isLong: false }
    const setUp = work.stretches.length === 0 ? 0 : setUpWorked(step, work)
    const full = minutesOver(work)
    const minutes = full - overlap.minutes / 2 - setUp
    const standard = minutesBy(step, standardTime(step.operation))
    const why =
      chosen.get(step.id) === 'leave-out'
        ? 'by-you'
        : haveFailed.has(step.id)
          ? 'failed'
          : hadRemedy.has(step.id)
            ? 'remedy'
            : whyNot(work.stretches, minutes, standard, overlap.isLong, timeZone)
    const canCount = minutes > 0 && standard > 0
    if (why !== null && (chosen.get(step.id) !== 'count' || !canCount)) {
      leftOut.push({ ...at(step), workedMin: full, endedAt, why, canCount })
      continue
    }
    observations.push({
      ...at(step),
      commissionId: step.commissionId,
      makerId: makerOf(work),
      y: Math.log(minutes / standard),
      atMin: endedAt,
    })
  }
  return { observations, leftOut }
}

const isWithRemedy = ({ action }: StepEntry): boolean => 'remedy' in action && action.remedy === true

const at = ({ id, operation }: LoggedStep) => ({ stepId: id, operation })

function whyNot(
  stretches: readonly Stretch[],
  minutes: number,
  standard: number,
  overlapsLong: boolean,
  timeZone: string,
): LeftOutWhy | null {
  if (stretches.length === 0) return 'no-start'
  if (stretches.some(({ from, to }) => isThroughTheNight(from, to, timeZone))) return 'through-the-night'
  if (stretches.some(({ from, to }) => to - from > LONGEST_STRETCH_MIN)) return 'too-long'
  if (overlapsLong) return 'two-at-once'
  return minutes < 1 || minutes < standard / 10 ? 'too-short' : null
}

/** Who worked longest at it; who came first, where two worked as long. */
function makerOf({ stretches }: StepWork): string | null {
  const minutes = new Map<string | null, number>()
  for (const { from, to, makerId } of stretches) minutes.set(makerId, (minutes.get(makerId) ?? 0) + to - from)
  return [...minutes].reduce((most, each) => (each[1] > most[1] ? each : most))[0]
}

/** For how long another step of the same maker ran at the same time. */
function overlapsOf(works: ReadonlyMap<string, StepWork>): Map<string, { minutes: number; isLong: boolean }> {
  const overlaps = new Map<string, { minutes: number; isLong: boolean }>()
  const add = (stepId: string, minutes: number): void => {
    const known = overlaps.get(stepId) ?? { minutes: 0, isLong: false }
    overlaps.set(stepId, {
      minutes: known.minutes + minutes,
      isLong: known.isLong || minutes >= SHORT_OVERLAP_MIN,
    })
  }
  const byMaker = Map.groupBy(
    [...works].flatMap(([stepId, { stretches }]) => stretches.map((stretch) => ({ ...stretch, stepId }))),
    ({ makerId }) => makerId,
  )
  for (const stretches of byMaker.values()) {
    const sorted = stretches.sort((a, b) => a.from - b.from)
    for (const [index, one] of sorted.entries())
      for (let next = index + 1; next < sorted.length; next++) {
        const other = sorted[next]!
        if (other.from >= one.to) break
        if (other.stepId === one.stepId) continue
        const both = Math.min(one.to, other.to) - other.from
        if (both <= 0) continue
        add(one.stepId, both)
        add(other.stepId, both)
      }
  }
  return overlaps
}
