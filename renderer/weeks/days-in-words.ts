import { localDay, type LocalDay } from '../../core/time/local-day.ts'
import { writeTime, type Wording } from '../../core/time/write-instant.ts'
import type { WeeksLane, WeeksView } from '../../desk/screens/weeks.ts'

/** One thing that falls on a day. */
export interface DayLine {
  /** Instant by which the lines of a day are in order; a promise holds for its whole day and stands last. */
  readonly at: number
  readonly kind: 'hands-on' | 'ready' | 'done' | 'promise'
  /** `19:00 to 19:45`, `from 7:10`, `by the end of the day`. */
  readonly when: string
  readonly what: string
  readonly lane: WeeksLane
}

export interface WrittenDay {
  readonly day: LocalDay
  /** Why the day is unlike others: closed, a fair, extra hours. */
  readonly unusual: string | null
  readonly lines: readonly DayLine[]
}

/**
 * The weeks ahead written out day by day, from `nowMin` on: what is worked on, which waits are over, what is done and
 * what is promised. Days with nothing on them are left out. Says the same as the drawing, for those who read or hear it.
 */
export function daysInWords(view: WeeksView, nowMin: number, wording: Wording): readonly WrittenDay[] {
  const [today, end] = [localDay(nowMin, wording.timeZone), localDay(view.toAt, wording.timeZone)]
  const ahead = (day: LocalDay): boolean => day >= today && day < end
  const days = new Map<LocalDay, { unusual: string | null; lines: DayLine[] }>()
  const dayOf = (day: LocalDay) => {
    const known = days.get(day) ?? { unusual: null, lines: [] }
    days.set(day, known)
    return known
  }

  for (const special of view.specialDays) {
    if (!ahead(special.day)) continue
    dayOf(special.day).unusual = [specialWords[special.kind], special.note].filter((word) => word !== '').join(': ')
  }
  for (const lane of view.lanes) {
    for (const line of linesOf(lane, wording)) {
      if (line.at >= nowMin && line.at < view.toAt) dayOf(localDay(line.at, wording.timeZone)).lines.push(line)
    }
    if (lane.promisedFor !== null && ahead(lane.promisedFor)) dayOf(lane.promisedFor).lines.push(promiseOf(lane))
  }
  return [...days]
    .map(([day, { unusual, lines }]) => ({ day, unusual, lines: lines.toSorted((a, b) => a.at - b.at) }))
    .sort((a, b) => (a.day < b.day ? -1 : 1))
}

function* linesOf(lane: WeeksLane, wording: Wording): Generator<DayLine> {
  for (const bar of lane.bars) {
    const end = writeTime(bar.toAt, wording)
    if (bar.kind === 'hands-on') {
      yield {
        at: bar.fromAt,
        kind: 'hands-on',
        when: `${writeTime(bar.fromAt, wording)} to ${end}`,
        what: bar.name,
        lane,
      }
    } else {
      yield { at: bar.toAt, kind: 'ready', when: `from ${end}`, what: `ready: ${bar.name} is over`, lane }
    }
  }
  if (lane.doneAt !== null)
    yield { at: lane.doneAt, kind: 'done', when: writeTime(lane.doneAt, wording), what: 'all done', lane }
}

const promiseOf = (lane: WeeksLane): DayLine => ({
  at: Infinity,
  kind: 'promise',
  when: 'by the end of the day',
  what: 'promised',
  lane,
})

const specialWords = { closed: 'closed', extra: 'extra hours', fair: 'at a fair' } as const
