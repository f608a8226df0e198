import { sayChance, tenthsOf } from '../core/book/chance.ts'
import { dayNumber } from '../core/time/local-day.ts'
import { writeLocalDay } from '../core/time/write-instant.ts'
import type { Moment } from './moment.ts'
import { outlookOf, type Outlook } from './screens/outlook.ts'

/** What was told of each order: the chance of its promise, or the day to say. */
type Told = ReadonlyMap<string, Outlook>

const toldOf = (moment: Moment): Told =>
  new Map(moment.book.commissions.map((commission) => [commission.id, outlookOf(commission, moment)]))

/** A change that is smaller is no news: a tenth of a chance, a day. */
const LEAST_CHANCE = 0.1

/** What has moved, as sentences: the chances of promises, and the days of what is not promised yet. */
function movedBetween(before: Told, now: Told, moment: Moment): string[] {
  return moment.book.commissions.flatMap(({ id, number, customer, promisedFor }) => {
    const [was, is] = [before.get(id), now.get(id)]
    if (is === undefined) return []
    const who = `No. ${number}, ${customer.name}`
    if (promisedFor !== null) {
      // Of a promise whose chance was never on a screen, the chance that was stated with it was told.
      const from = was?.chance ?? is.stated
      if (from === null || is.chance === null) return []
      const isNews = Math.abs(is.chance - from) >= LEAST_CHANCE && tenthsOf(is.chance) !== tenthsOf(from)
      return isNews ? [`${who}: now ${sayChance(is.chance)}, was ${sayChance(from)}.`] : []
    }
    const [from, to] = [was?.days?.fourInFive, is.days?.fourInFive]
    if (from === undefined || to === undefined || Math.abs(dayNumber(to) - dayNumber(from)) < 1) return []
    return [
      `${who}: 4 chances in 5 by ${writeLocalDay(to, moment.wording.locale)}, was ${writeLocalDay(from, moment.wording.locale)}.`,
    ]
  })
}

/** Keeps what was told of each order, so that what a press moves is told once, when its odds are worked out. */
export class WhatMoved {
  /** Chances as of the last press: what has moved since is told with the next one, also where only time has passed. */
  private told: Told | null = null
  /** Something was pressed and what it moved has not been told yet. */
  private hasNews = false

  /** To be called before a change: the odds of before may not be there yet, and what moves is told all the same. */
  before(moment: Moment): void {
    this.told ??= toldOf(moment)
  }

  pressed(): void {
    this.hasNews = true
  }

  /** What moved by the presses that were not told yet, as sentences; with the odds of the present plan. */
  toTell(moment: Moment): string[] {
    const before = this.told
    if (before !== null && !this.hasNews) return []
    this.told = toldOf(moment)
    this.hasNews = false
    return before === null ? [] : movedBetween(before, this.told, moment)
  }
}
