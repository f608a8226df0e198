import type { BookStep } from '../../core/book/book.ts'
import { MOST_AT_ONCE } from '../../core/cautions/cautions-for-step.ts'
import { isLeftRunning, likelyStop } from '../../core/book/left-running.ts'
import { workingHours } from '../../core/time/shop-calendar.ts'
import { waitOverAt } from '../../core/book/wait-over.ts'
import { unitsFreeFor } from '../../core/book/places.ts'
import { workedMinutes } from '../../core/book/step-progress.ts'
import type { Interval, Tonight } from '../../core/planning/index.ts'
import { writeDayAndTime, writeTime } from '../../core/time/write-instant.ts'
import { cautionLines } from '../orders/caution-lines.ts'
import { lumberLines } from '../lumber/lumber-lines.ts'
import type { Moment } from '../moment.ts'
import { airHindrance } from '../steps/air-for-step.ts'
import { noteOf } from '../steps/step-note.ts'
import { whyMinutesHere } from '../steps/why-minutes.ts'
import type { BenchStep, BenchView, TonightLine, UndoLine } from '../views.ts'

const comingUpAtMost = 12
/** Other steps named for one set-up, the next ones of the plan. */
const sharedAtMost = 4
/** How far ahead "coming up" looks: this session and the next. */
const sessionsAhead = 2

/** What do I do now, next, and at the latest by when tonight? */
export function benchView(moment: Moment, tonight: Tonight | null, lastAction: UndoLine | null): BenchView {
  const sessions = openHours(moment, sessionsAhead)
  const session = sessions[0] ?? null
  const lookTo = sessions.at(-1)?.to ?? moment.now
  const open = moment.book.steps
    .filter((step) => isOpen(step, moment))
    .map((step): Open => ({ step, hindrance: isToDo(step, moment) ? hindranceOf(step, moment) : null }))
    .sort((a, b) => plannedStart(a.step, moment) - plannedStart(b.step, moment))
  const canStart = open.filter(({ step, hindrance }) => isToDo(step, moment) && hindrance?.blocks !== true)
  const byFamily = Map.groupBy(
    canStart.map(({ step }) => step),
    (step) => step.setUp?.family,
  )
  const shown = (each: Open): BenchStep => benchStep(each, byFamily, moment)
  return {
    session: session && { fromAt: session.from, toAt: session.to, runsNow: session.from <= moment.now },
    onTheBench: open.filter(({ step }) => !isToDo(step, moment)).map(shown),
    canStart: canStart.map(shown),
    comingUp: open
      .filter(({ step, hindrance }) => hindrance?.blocks === true && plannedStart(step, moment) < Infinity)
      // The very next one is told even when it is days away: then it is what everybody waits for.
      .filter(({ step }, index) => index === 0 || plannedStart(step, moment) < lookTo)
      .slice(0, comingUpAtMost)
      .map(shown),
    tonight: tonight === null ? [] : tonightLines(tonight, moment),
    lumber: lumberLines(moment).filter(({ due }) => due),
    lastAction,
  }
}

/** Hours in which anybody works, from now on, as many sessions as asked. */
export function openHours(moment: Moment, sessions: number): Interval[] {
  const ahead = moment.setting.makers
    .flatMap((maker) => maker.hours)
    .filter((session) => session.to > moment.now)
    .sort((a, b) => a.from - b.from || b.to - a.to)
  const merged: Interval[] = []
  for (const session of ahead) {
    const last = merged.at(-1)
    if (last && session.from <= last.to)
      merged[merged.length - 1] = { from: last.from, to: Math.max(last.to, session.to) }
    else if (merged.length === sessions) break
    else merged.push(session)
  }
  return merged
}

const isToDo = (step: BookStep, moment: Moment): boolean => moment.progress(step.id).kind === 'to-do'

const plannedStart = (step: BookStep, moment: Moment): number => moment.planned(step.id)?.start ?? Infinity

function isOpen(step: BookStep, moment: Moment): boolean {
  const commission = moment.lotOf(step.id)?.commission
  if (commission?.standing !== 'agreed') return false
  const { kind } = moment.progress(step.id)
  return kind === 'running' || kind === 'paused' || (kind === 'to-do' && commission.onHoldUntil === null)
}

/** A step that is on the bench or may come there, and what is in its way. */
interface Open {
  readonly step: BookStep
  readonly hindrance: Hindrance | null
}

function benchStep(
  { step, hindrance }: Open,
  byFamily: ReadonlyMap<string | undefined, readonly BookStep[]>,
  moment: Moment,
): BenchStep {
  const lot = moment.lotOf(step.id)
  if (!lot) throw new Error(`Step ${step.id} belongs to no piece of the book.`)
  const progress = moment.progress(step.id)
  const planned = moment.planned(step.id)
  return {
    stepId: step.id,
    piece: lot.label,
    name: step.name,
    note: noteOf(step, moment),
    state:
      progress.kind === 'running'
        ? 'running'
        : progress.kind === 'paused'
          ? 'paused'
          : hindrance?.blocks
            ? 'not-yet'
            : 'can-start',
    handsOnMinutes: step.minutes,
    whyMinutes: whyMinutesHere(step, moment.almanac),
    setUpMinutes: planned?.setUpMin ?? step.setUp?.minutes ?? 0,
    sharesSetUpWith: (step.setUp === null ? [] : (byFamily.get(step.setUp.family) ?? []))
      .filter((other) => other.id !== step.id)
      .slice(0, sharedAtMost)
      .map((other) => `${other.name} of ${moment.lotOf(other.id)?.label.title ?? ''}`),
    startedAt: progress.kind === 'running' || progress.kind === 'paused' ? progress.startedAt : null,
    workedMinutes: workedMinutes(progress, moment.now),
    plannedAt: planned?.start ?? null,
    plannedEndAt: planned?.end ?? null,
    hindrance: hindrance?.text ?? null,
    makers: planned?.makers ?? [],
    leftRunning: leftRunning(step, moment),
    cautions: cautionLines(step, moment).slice(0, MOST_AT_ONCE),
  }
}

function leftRunning(step: BookStep, moment: Moment): BenchStep['leftRunning'] {
  const progress = moment.progress(step.id)
  const { timeZone } = moment.almanac.shop
  if (progress.kind !== 'running' || !isLeftRunning(progress, moment.now, timeZone)) return null
  const sessions = moment.almanac.makers.flatMap((maker) =>
    workingHours(timeZone, maker, moment.almanac.specialDays, progress.since, progress.since + 24 * 60),
  )
  const left = step.minutes + (moment.work(step.id).setUpMin ?? 0) - progress.workedMin
  return { sinceAt: progress.since, likelyStopAt: likelyStop(progress.since, left, sessions, timeZone) }
}

interface Hindrance {
  /** false: it can be started, but mind this. */
  readonly blocks: boolean
  readonly text: string
}

/** Why a step cannot be started at this moment, the plainest reason first. */
export function hindranceOf(step: BookStep, moment: Moment): Hindrance | null {
  for (const lag of moment.lagsTo(step.id)) {
    const before = moment.progress(lag.fromStep)
    if (before.kind !== 'done')
      return {
        blocks: true,
        text: `Waiting on: ${moment.step(lag.fromStep)?.name.toLowerCase() ?? 'the step before'}.`,
      }
  }
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
  return dustHindrance(step, moment) ?? stationHindrance(step, moment)
}

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

function tonightLines(tonight: Tonight, moment: Moment): TonightLine[] {
  return tonight.items.flatMap((item) => {
    const step = moment.step(item.step)
    const lot = moment.lotOf(item.step)
    if (!step || !lot || moment.progress(item.step).kind !== 'to-do') return []
    const lost = item.ifLeft[0]
    const owner = lost && moment.book.commissions.find((commission) => commission.id === lost.commissionId)
    return [
      {
        stepId: step.id,
        piece: lot.label,
        name: step.name,
        latestStartAt: item.latestStart,
        otherwise:
          lost === undefined
            ? 'No hurry.'
            : `Otherwise ${owner ? `No. ${owner.number} (${owner.customer.name})` : 'the commission'} is done ${writeDayAndTime(lost.doneIfLeft, moment.wording)} instead of ${writeDayAndTime(lost.doneAt, moment.wording)}${lost.lateIfLeftMin > 0 ? ', later than promised' : ''}.`,
      },
    ]
  })
}

const when = (instant: number, moment: Moment): string =>
  instant - moment.now < 20 * 60 ? writeTime(instant, moment.wording) : writeDayAndTime(instant, moment.wording)

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1)
