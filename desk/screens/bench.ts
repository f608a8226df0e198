import type { BookStep } from '../../core/book/book.ts'
import { endOfWait } from '../../core/book/open-waits.ts'
import { workedMinutes } from '../../core/book/step-progress.ts'
import type { Tonight } from '../../core/planning/answers.ts'
import type { Interval } from '../../core/planning/model.ts'
import { writeDayAndTime, writeTime } from '../../core/time/write-instant.ts'
import { cautionLines } from '../caution-lines.ts'
import type { Moment } from '../moment.ts'
import type { BenchStep, BenchView, TonightLine, UndoLine } from '../views.ts'

const comingUpAtMost = 12
/** How far ahead "coming up" looks: this session and the next. */
const sessionsAhead = 2

/** What do I do now, next, and at the latest by when tonight? */
export function benchView(moment: Moment, tonight: Tonight | null, lastAction: UndoLine | null): BenchView {
  const sessions = openHours(moment, sessionsAhead)
  const session = sessions[0] ?? null
  const open = moment.book.steps.filter((step) => isOpen(step, moment))
  const steps = open.map((step) => benchStep(step, moment)).sort(byPlan)
  const lookTo = sessions.at(-1)?.to ?? moment.now
  return {
    session: session && { fromAt: session.from, toAt: session.to, runsNow: session.from <= moment.now },
    onTheBench: steps.filter((step) => step.state === 'running' || step.state === 'paused'),
    canStart: steps.filter((step) => step.state === 'can-start'),
    comingUp: steps
      .filter((step) => step.state === 'not-yet' && step.plannedAt !== null)
      // The very next one is told even when it is days away: then it is what everybody waits for.
      .filter((step, index) => index === 0 || (step.plannedAt ?? Infinity) < lookTo)
      .slice(0, comingUpAtMost),
    tonight: tonight === null ? [] : tonightLines(tonight, moment),
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

function isOpen(step: BookStep, moment: Moment): boolean {
  const commission = moment.lotOf(step.id)?.commission
  if (commission?.standing !== 'agreed') return false
  const { kind } = moment.progress(step.id)
  return kind === 'running' || kind === 'paused' || (kind === 'to-do' && commission.onHoldUntil === null)
}

function benchStep(step: BookStep, moment: Moment): BenchStep {
  const lot = moment.lotOf(step.id)
  if (!lot) throw new Error(`Step ${step.id} belongs to no piece of the book.`)
  const progress = moment.progress(step.id)
  const planned = moment.planned(step.id)
  const hindrance = progress.kind === 'to-do' ? hindranceOf(step, moment) : null
  const family = step.setUp?.family
  return {
    stepId: step.id,
    piece: lot.label,
    name: step.name,
    note: step.note,
    state:
      progress.kind === 'running'
        ? 'running'
        : progress.kind === 'paused'
          ? 'paused'
          : hindrance?.blocks
            ? 'not-yet'
            : 'can-start',
    handsOnMinutes: step.minutes,
    setUpMinutes: planned?.setUpMin ?? step.setUp?.minutes ?? 0,
    sharesSetUpWith: family === undefined ? [] : sharedWith(step, family, moment),
    startedAt: progress.kind === 'running' || progress.kind === 'paused' ? progress.startedAt : null,
    workedMinutes: workedMinutes(progress, moment.now),
    plannedAt: planned?.start ?? null,
    plannedEndAt: planned?.end ?? null,
    hindrance: hindrance?.text ?? null,
    makers: planned?.makers ?? [],
    cautions: cautionLines(step.cautions),
  }
}

function sharedWith(step: BookStep, family: string, moment: Moment): string[] {
  return moment.book.steps
    .filter((other) => other.id !== step.id && other.setUp?.family === family && isOpen(other, moment))
    .filter((other) => moment.progress(other.id).kind === 'to-do' && hindranceOf(other, moment)?.blocks !== true)
    .map((other) => `${other.name} of ${moment.lotOf(other.id)?.label.title ?? ''}`)
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
      return { blocks: true, text: `After ${moment.step(lag.fromStep)?.name.toLowerCase() ?? 'the step before'}.` }
  }
  const undated = moment.asked.undated.get(step.id)
  if (undated !== undefined) return { blocks: true, text: undated }
  const pushedUntil = moment.progress(step.id).pushedUntil
  if (pushedUntil !== null && pushedUntil > moment.now)
    return { blocks: true, text: `Still tacky: look again ${when(pushedUntil, moment)}.` }
  for (const lag of moment.lagsTo(step.id)) {
    const before = moment.progress(lag.fromStep)
    if (before.kind !== 'done') continue
    const readyAt = endOfWait(
      before.endedAt,
      lag.minMin,
      lag.product === null ? null : moment.setting.clockOf(lag.product),
    )
    if (readyAt !== null && readyAt > moment.now)
      return { blocks: true, text: `${capital(lag.name)} until ${when(readyAt, moment)}.` }
  }
  return dustHindrance(step, moment) ?? stationHindrance(step, moment)
}

function dustHindrance(step: BookStep, moment: Moment): Hindrance | null {
  if (step.dusty) {
    for (const other of moment.book.steps) {
      const until = tackyUntil(other, moment)
      if (until !== null && until > moment.now && other.id !== step.id) {
        return {
          blocks: true,
          text: `Dust: ${moment.lotOf(other.id)?.label.title ?? 'a piece'} is tacky until ${when(until, moment)}.`,
        }
      }
    }
  }
  if (step.tackyMin > 0) {
    const dusty = moment.book.steps.find((other) => other.dusty && moment.progress(other.id).kind === 'running')
    if (dusty)
      return {
        blocks: true,
        text: `Dust: ${dusty.name.toLowerCase()} is running. Let it settle before you put on finish.`,
      }
  }
  return null
}

function tackyUntil(step: BookStep, moment: Moment): number | null {
  const progress = moment.progress(step.id)
  if (step.tackyMin === 0 || progress.kind !== 'done') return null
  return endOfWait(
    progress.endedAt,
    step.tackyMin,
    step.tackyProduct === null ? null : moment.setting.clockOf(step.tackyProduct),
  )
}

function stationHindrance(step: BookStep, moment: Moment): Hindrance | null {
  for (const hold of step.holds) {
    const station = moment.almanac.stations.find((each) => each.id === hold.station)
    if (!station) continue
    const free = station.capacity - moment.used(station.id)
    if (hold.units > free) {
      return {
        blocks: true,
        text: `${station.name}: needs ${hold.units}, ${free === 0 ? 'none is' : `${free} ${free === 1 ? 'is' : 'are'}`} free.`,
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
            ? 'Nobody waits for it: it may be left for the next session.'
            : `Otherwise ${owner ? `No. ${owner.number} (${owner.customer.name})` : 'the commission'} is done ${writeDayAndTime(lost.doneIfLeft, moment.wording)} instead of ${writeDayAndTime(lost.doneAt, moment.wording)}${lost.lateIfLeftMin > 0 ? ', later than promised' : ''}.`,
      },
    ]
  })
}

const byPlan = (a: BenchStep, b: BenchStep): number => (a.plannedAt ?? Infinity) - (b.plannedAt ?? Infinity)

const when = (instant: number, moment: Moment): string =>
  instant - moment.now < 20 * 60 ? writeTime(instant, moment.wording) : writeDayAndTime(instant, moment.wording)

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1)
