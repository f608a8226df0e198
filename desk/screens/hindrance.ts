import { capital } from '../../core/capital.ts'
import { machineFor } from '../../core/almanac/work-kinds.ts'
import type { BookStep } from '../../core/book/book.ts'
import { waitOverAt } from '../../core/book/wait-over.ts'
import { unitsFreeFor } from '../../core/book/places.ts'
import type { Interval } from '../../core/planning/index.ts'
import { writeDayAndTime, writeTime } from '../../core/time/write-instant.ts'
import type { Moment } from '../moment.ts'
import { wetBoards } from '../lumber/wet-boards.ts'
import { airHindrance, assemblyHindrance } from '../steps/air-for-step.ts'
import { durationWords } from '../../core/time/duration.ts'

/** What is in the way of a step at this moment. */
export interface Hindrance {
  /** false: it can be started, but mind this. */
  readonly blocks: boolean
  readonly text: string
  /** Steps that have to be done first; once they are, nothing that is known now is in the way any more. */
  readonly heldBackBy?: readonly HeldBackBy[]
}

export interface HeldBackBy {
  readonly stepId: string
  readonly name: string
  /** Glue or finish has to set after it. */
  readonly thenWaits: boolean
}

/** Why a step cannot be started at this moment, the plainest reason first. */
export function hindranceOf(step: BookStep, moment: Moment): Hindrance | null {
  const heldBackBy = moment
    .lagsTo(step.id)
    .filter(({ fromStep }) => moment.progress(fromStep).kind !== 'done')
    .map(({ fromStep, wait }) => ({
      stepId: fromStep,
      name: moment.step(fromStep)?.name ?? 'The step before',
      thenWaits: wait !== 'none',
    }))
  if (heldBackBy[0] !== undefined) return { blocks: true, text: waitingOn(heldBackBy[0].name), heldBackBy }
  const undated = moment.asked.undated.get(step.id)
  if (undated !== undefined) return { blocks: true, text: undated }
  const pushedUntil = moment.progress(step.id).pushedUntil
  if (pushedUntil !== null && pushedUntil > moment.now)
    return { blocks: true, text: `Still tacky: check again ${when(pushedUntil, moment)}.` }
  for (const lag of moment.lagsTo(step.id)) {
    const before = moment.progress(lag.fromStep)
    if (before.kind !== 'done') continue
    const clock = lag.product === null ? null : moment.setting.clockOf(lag.product, lag.wait, before.stays)
    const readyAt = waitOverAt(before, lag, clock)
    if (readyAt !== null && readyAt > moment.now)
      return { blocks: true, text: `${capital(lag.name)} until ${when(readyAt, moment)}.` }
  }
  const supplies = moment.setting.suppliesFor(step)
  if (supplies !== null) return { blocks: true, text: `${supplies.why}.` }
  const air = airHindrance(step, moment)
  if (air !== null) return { blocks: true, text: air }
  const inTheWay = dustHindrance(step, moment) ?? stationHindrance(step, moment) ?? machineHindrance(step, moment)
  if (inTheWay !== null) return inTheWay
  const mind = wetBoards(step, moment) ?? assemblyHindrance(step, moment)
  return mind === null ? null : { blocks: false, text: mind }
}

export const waitingOn = (name: string): string => `Waiting on: ${name.toLowerCase()}.`

function dustHindrance(step: BookStep, moment: Moment): Hindrance | null {
  const wet = step.dusty ? moment.tacky.find((other) => other.step.id !== step.id) : undefined
  if (wet) {
    const whose = moment.lotOf(wet.step.id)?.label.title ?? 'a piece'
    return { blocks: true, text: `Dust: ${whose} is tacky until ${when(wet.until, moment)}.` }
  }
  const dusty = step.tackyMin > 0 ? moment.raisingDust : undefined
  if (dusty) {
    const text = `Dust: ${dusty.name.toLowerCase()} is running. Let it settle before you put on finish.`
    return { blocks: true, text }
  }
  return null
}

function stationHindrance(step: BookStep, moment: Moment): Hindrance | null {
  for (const [id, holds] of Map.groupBy(step.holds, (hold) => hold.station)) {
    const station = moment.almanac.stations.find((each) => each.id === id)
    if (!station) continue
    const needed = holds.reduce((sum, { units }) => sum + units, 0)
    const free = Math.max(0, unitsFreeFor(step, station, moment.places, moment.step))
    if (needed > free) {
      return {
        blocks: true,
        text: `Needs ${needed} ${station.name.toLowerCase()}, ${free} free.`,
      }
    }
  }
  return null
}

/** Of a machine that the shop counts there is one: whoever works on it now finishes first. */
function machineHindrance(step: BookStep, moment: Moment): Hindrance | null {
  const machine = machineFor(step, moment.almanac)
  if (machine === null) return null
  const other = moment.book.steps.find(
    (each) =>
      each.id !== step.id &&
      moment.progress(each.id).kind === 'running' &&
      machineFor(each, moment.almanac)?.id === machine.id,
  )
  if (other === undefined) return null
  const whose = moment.lotOf(other.id)?.label.title ?? 'another piece'
  return {
    blocks: true,
    text: `${machine.name} in use: ${other.name.toLowerCase()}, ${whose}.`,
    heldBackBy: [{ stepId: other.id, name: other.name, thenWaits: false }],
  }
}

/**
 * What would not be done before closing time and may not be paused is not begun.
 * @param longestMin of the sessions ahead: the planner has it in one of those that are long enough
 */
export function tooLongFor(
  session: Interval | null,
  longestMin: number,
  step: BookStep,
  moment: Moment,
): Hindrance | null {
  if (session === null || step.minutes === 0) return null
  const left = session.to - Math.max(moment.now, session.from)
  // Alone its setup may be shared: what is just too long for it is not kept back for that.
  const needed = step.interruptible ? Math.min(step.minutes, step.smallestStretchMin) : step.minutes
  // What no session is long enough for cannot wait for one: the planner says so.
  if (needed <= left || needed > longestMin) return null
  const text = step.interruptible
    ? `Not worth starting: ${durationWords(left)} left.`
    : `Takes ${durationWords(needed)} in one go, only ${durationWords(left)} left.`
  return { blocks: true, text }
}

/** A time of today, or a day and a time. */
export const when = (instant: number, moment: Moment): string =>
  instant - moment.now < 20 * 60 ? writeTime(instant, moment.wording) : writeDayAndTime(instant, moment.wording)
