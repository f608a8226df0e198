import { sayChance, tenthsOf } from '../core/book/chance.ts'
import { dayNumber } from '../core/time/local-day.ts'
import { writeLocalDay } from '../core/time/write-instant.ts'
import type { Moment } from './moment.ts'
import { outlookOf, type Outlook } from './screens/outlook.ts'

/** What is shown of each order: the chance of its promise, or the day to say. */
type Shown = ReadonlyMap<string, Outlook & { readonly promisedFor: string | null }>

const shownOf = (moment: Moment): Shown =>
  new Map(
    moment.book.commissions.map((commission) => [
      commission.id,
      { ...outlookOf(commission, moment), promisedFor: commission.promisedFor },
    ]),
  )

/** A change that is smaller is no news: a tenth of a chance, a day. */
const LEAST_CHANCE = 0.1

/**
 * What has moved, as sentences: the chances of promises, and the days of what is not promised yet.
 * @param except orders of which it is told otherwise
 */
function movedBetween(before: Shown, now: Shown, moment: Moment, except: ReadonlySet<string>): string[] {
  return moment.book.commissions.flatMap(({ id, number, customer, promisedFor }) => {
    const [was, is] = [before.get(id), now.get(id)]
    if (is === undefined || except.has(id)) return []
    const who = `No. ${number}, ${customer.name}`
    if (promisedFor !== null) {
      // Chances of two different days are no move.
      if (was !== undefined && was.promisedFor !== promisedFor) return []
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

/** Keeps what the screens showed of each order before a press, so that what it moves is told once, when its odds are worked out. */
export class WhatMoved {
  private shown: Shown | null = null
  /** Something was pressed and what it moved has not been told yet. */
  private hasNews = false
  private readonly toldOtherwise = new Set<string>()

  /**
   * To be called before a change: what moved until now, as time passed, was on the screens and is not its doing. What an earlier press
   * moved and was not told yet is told with it.
   */
  before(moment: Moment): void {
    if (!this.hasNews) this.shown = shownOf(moment)
  }

  /** @param tells order whose new chance the answer to the press says by itself */
  pressed(tells: string | null): void {
    this.hasNews = true
    if (tells !== null) this.toldOtherwise.add(tells)
  }

  /** What moved by the presses that were not told yet, as sentences; with the odds of the present plan. */
  toTell(moment: Moment): string[] {
    if (!this.hasNews || this.shown === null) return []
    this.hasNews = false
    const moved = movedBetween(this.shown, shownOf(moment), moment, this.toldOtherwise)
    this.toldOtherwise.clear()
    return moved
  }
}
