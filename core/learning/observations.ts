import { minutesBy, type TimeChoices } from '../almanac/times-in-use.ts'
import type { StepEntry } from '../book/book.ts'
import type { NetworkStep, StepUnits } from '../constructions/step-network.ts'
import type { StandardTime } from '../constructions/shop-facts.ts'
import { localDay, startOfLocalDay } from '../time/local-day.ts'
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
export type LeftOutWhy = 'no-start' | 'too-short' | 'too-long' | 'through-the-night' | 'two-at-once' | 'by-you'

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

const LONGEST_STRETCH_MIN = 6 * 60
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
  const worked = stretchesOf(entries)
  const overlaps = overlapsOf([...worked.values()])
  const chosen = new Map(choices.entries.map(({ stepId, choice }) => [stepId, choice]))
  const observations: Observation[] = []
  const leftOut: LeftOut[] = []
  for (const step of steps) {
    const work = worked.get(step.id)
    if (work?.endedAt == null) continue
    const overlap = overlaps.get(step.id) ?? { minutes: 0, isLong: false }
    const setUp = work.stretches.length === 0 ? 0 : (work.setUpMin ?? step.setUp?.minutes ?? 0)
    const full = work.stretches.reduce((sum, { from, to }) => sum + to - from, 0)
    const minutes = full - overlap.minutes / 2 - setUp
    const standard = minutesBy(step, standardTime(step.operation))
    const why =
      chosen.get(step.id) === 'leave-out'
        ? 'by-you'
        : whyNot(work.stretches, minutes, standard, overlap.isLong, timeZone)
    const canCount = minutes > 0 && standard > 0
    if (why !== null && (chosen.get(step.id) !== 'count' || !canCount)) {
      leftOut.push({ ...at(step), workedMin: full, endedAt: work.endedAt, why, canCount })
      continue
    }
    observations.push({
      ...at(step),
      commissionId: step.commissionId,
      makerId: work.makerId,
      y: Math.log(minutes / standard),
      atMin: work.endedAt,
    })
  }
  return { observations, leftOut }
}

const at = ({ id, operation }: LoggedStep) => ({ stepId: id, operation })

function whyNot(
  stretches: readonly Stretch[],
  minutes: number,
  standard: number,
  overlapsLong: boolean,
  timeZone: string,
): LeftOutWhy | null {
  if (stretches.length === 0) return 'no-start'
  if (stretches.some((stretch) => throughTheNight(stretch, timeZone))) return 'through-the-night'
  if (stretches.some(({ from, to }) => to - from > LONGEST_STRETCH_MIN)) return 'too-long'
  if (overlapsLong) return 'two-at-once'
  return minutes < 1 || minutes < standard / 10 ? 'too-short' : null
}

/** Whoever works at four in the morning has forgotten to press. */
function throughTheNight({ from, to }: Stretch, timeZone: string): boolean {
  const four = startOfLocalDay(localDay(to, timeZone), timeZone) + 4 * 60
  return from < four && four < to
}

interface Stretch {
  readonly from: number
  readonly to: number
}

interface Work {
  readonly stepId: string
  readonly stretches: Stretch[]
  runningSince: number | null
  endedAt: number | null
  makerId: string | null
  setUpMin: number | null
}

function stretchesOf(entries: readonly StepEntry[]): Map<string, Work> {
  const works = new Map<string, Work>()
  for (const { stepId, atMin, makerId, action } of entries) {
    if (action.kind !== 'started' && action.kind !== 'paused' && action.kind !== 'done') continue
    const work = works.get(stepId) ?? {
      ...{ stepId, stretches: [], runningSince: null, endedAt: null, makerId, setUpMin: null },
    }
    works.set(stepId, work)
    if (work.endedAt !== null) continue
    if (action.kind === 'started') {
      work.runningSince ??= atMin
      work.makerId ??= makerId
      if (work.stretches.length === 0) work.setUpMin ??= action.setUpMin ?? null
      continue
    }
    if (work.runningSince !== null)
      work.stretches.push({ from: work.runningSince, to: Math.max(work.runningSince, atMin) })
    work.runningSince = null
    if (action.kind === 'done') work.endedAt = atMin
  }
  return works
}

/** For how long another step of the same maker ran at the same time. */
function overlapsOf(works: readonly Work[]): Map<string, { minutes: number; isLong: boolean }> {
  const overlaps = new Map<string, { minutes: number; isLong: boolean }>()
  const add = (stepId: string, minutes: number): void => {
    const known = overlaps.get(stepId) ?? { minutes: 0, isLong: false }
    overlaps.set(stepId, {
      minutes: known.minutes + minutes,
      isLong: known.isLong || minutes >= SHORT_OVERLAP_MIN,
    })
  }
  const byMaker = Map.groupBy(
    works.flatMap((work) => work.stretches.map((stretch) => ({ ...stretch, work }))),
    ({ work }) => work.makerId,
  )
  for (const stretches of byMaker.values()) {
    const sorted = stretches.sort((a, b) => a.from - b.from)
    for (const [index, one] of sorted.entries())
      for (const other of sorted.slice(index + 1)) {
        if (other.from >= one.to) break
        if (other.work === one.work) continue
        const both = Math.min(one.to, other.to) - other.from
        if (both <= 0) continue
        add(one.work.stepId, both)
        add(other.work.stepId, both)
      }
  }
  return overlaps
}
