import type { Interval } from '../../core/planning/index.ts'
import { endOfWait } from '../../core/book/wait-over.ts'
import type { BookStep } from '../../core/book/book.ts'
import type { Lot, Moment } from '../moment.ts'
import { onceAMoment } from '../once-a-moment.ts'
import { namesAt } from './people-today.ts'
import { outlookOf, type Outlook } from './outlook.ts'
import type { PieceState } from '../../core/book/piece-state.ts'
import type { PieceLabel } from '../piece-label.ts'

export interface WeeksView {
  readonly fromAt: number
  readonly toAt: number
  /** When anybody works; everything else is night or closed. */
  readonly open: readonly Interval[]
  readonly specialDays: readonly {
    readonly day: string
    readonly kind: 'closed' | 'extra' | 'fair'
    readonly note: string
  }[]
  readonly lanes: readonly WeeksLane[]
}

export interface WeeksLane {
  readonly piece: PieceLabel
  readonly bars: readonly WeeksBar[]
  /** When its work begins, where that is after the last of these weeks. */
  readonly startsAt: number | null
  /** By the plan, if all goes as planned. */
  readonly doneAt: number | null
  readonly promisedFor: string | null
  readonly neededBy: string | null
  readonly outlook: Outlook
}

export interface WeeksBar {
  readonly kind: 'hands-on' | 'wait'
  readonly state: PieceState
  /** Of the step, with who does it where the shop has several people; of the wait. */
  readonly name: string
  readonly fromAt: number
  readonly toAt: number
  readonly done: boolean
  readonly stepId: string
}

const week = 7 * 24 * 60

/** The plan drawn on a ruler of real hours: from the start of today, so many weeks. */
export function weeksView(moment: Moment, weeks: number): WeeksView {
  const fromAt = moment.setting.startOfDay(moment.today)
  const toAt = fromAt + weeks * week
  return {
    fromAt,
    toAt,
    open: union(
      moment.setting.makers.flatMap((maker) => maker.hours).filter((hours) => hours.to > fromAt && hours.from < toAt),
    ),
    specialDays: moment.almanac.specialDays.map(({ day, kind, note }) => ({ day, kind, note })),
    lanes: wholeLanes(moment).map((lane) => {
      const { startsAt } = lane
      return {
        ...lane,
        bars: lane.bars.filter((bar) => bar.toAt > fromAt && bar.fromAt < toAt),
        startsAt: startsAt !== null && startsAt >= toAt ? startsAt : null,
      }
    }),
  }
}

/** All of each piece's work, whatever weeks are looked at: what is done first stands first. */
const wholeLanes = onceAMoment((moment: Moment) =>
  moment.lots
    .filter((lot) => lot.commission.standing === 'agreed' && lot.state !== 'finished')
    .map((lot) => laneOf(lot, moment))
    .sort((a, b) => laneKey(a) - laneKey(b)),
)

const laneKey = (lane: WeeksLane): number => lane.doneAt ?? Infinity

function laneOf(lot: Lot, moment: Moment): WeeksLane {
  const ends = lot.steps.map((step) => timesOf(step, moment)?.end ?? null)
  const bars = lot.steps.flatMap((step) => barsOf(step, moment))
  return {
    ...{ piece: lot.label, bars },
    startsAt: bars.length === 0 ? null : Math.min(...bars.map((bar) => bar.fromAt)),
    doneAt: ends.some((end) => end === null) ? null : Math.max(...ends.filter((end) => end !== null)),
    promisedFor: lot.commission.promisedFor,
    neededBy: lot.commission.neededBy,
    outlook: outlookOf(lot.commission, moment),
  }
}

function barsOf(step: BookStep, moment: Moment): WeeksBar[] {
  const times = timesOf(step, moment)
  if (!times) return []
  const stretches = times.stretches.length > 0 ? times.stretches : [{ from: times.start, to: times.end }]
  const who = namesAt(step.id, moment)
  const work = stretches.map((stretch): WeeksBar => ({
    kind: 'hands-on',
    state: 'on-the-bench',
    name: [step.name, ...who].join(', '),
    fromAt: stretch.from,
    toAt: stretch.to,
    done: times.done,
    stepId: step.id,
  }))
  const waits = moment.lagsFrom(step.id).flatMap((lag): WeeksBar[] => {
    if (lag.wait === 'none') return []
    const toAt = endOfWait(
      times.end,
      lag.minMin,
      lag.product === null ? null : moment.setting.clockOf(lag.product, lag.wait, moment.stays(step.id)),
    )
    if (toAt === null || toAt <= times.end) return []
    return [
      {
        kind: 'wait',
        state: lag.wait,
        name: lag.name,
        fromAt: times.end,
        toAt,
        done: times.done && toAt <= moment.now,
        stepId: step.id,
      },
    ]
  })
  return [...work, ...waits]
}

/** Logged times of what is done, planned ones of the rest. */
export function timesOf(
  step: BookStep,
  moment: Moment,
): { start: number; end: number; stretches: readonly Interval[]; done: boolean } | null {
  const progress = moment.progress(step.id)
  if (progress.kind === 'done') return { start: progress.startedAt, end: progress.endedAt, stretches: [], done: true }
  const planned = moment.planned(step.id)
  if (!planned) return null
  const start = progress.kind === 'to-do' ? planned.start : progress.startedAt
  return { start, end: planned.end, stretches: planned.stretches, done: false }
}

function union(intervals: readonly Interval[]): Interval[] {
  const merged: Interval[] = []
  for (const next of [...intervals].sort((a, b) => a.from - b.from)) {
    const last = merged.at(-1)
    if (last && next.from <= last.to) merged[merged.length - 1] = { from: last.from, to: Math.max(last.to, next.to) }
    else merged.push(next)
  }
  return merged
}
