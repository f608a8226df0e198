import type { Almanac } from '../core/almanac/almanac.ts'
import type { Book } from '../core/book/book.ts'
import { onHoldForGood } from '../core/book/planning-problem.ts'
import { failed, ok, problem, type Problem, type Result } from '../core/problems.ts'
import { writeDayAndPart } from '../core/time/write-instant.ts'
import { isNewShop, loadAlmanac, saveAlmanac } from '../db/almanac.ts'
import { openBook } from '../db/commissions.ts'
import type { ShopFile } from '../db/connection.ts'
import { noticesShown, markShown } from '../db/notices.ts'
import type { Db } from '../db/schema.ts'
import { lastUndoable } from '../db/undo.ts'
import type { Clock, DeskEvent } from './desk.ts'
import { dueNotices } from './due-notices.ts'
import { momentOf, type Moment } from './moment.ts'
import type { Planner } from './planner.ts'
import type { PlanAnswer } from './planning-request.ts'
import { dateOf } from './screens/order-book.ts'
import type { Moved } from './views.ts'

/** A plan older than this is made anew, as the hours that it counted on have passed. */
const planAgesMin = 10

/**
 * The shop while its file is open: the book and almanac as last read, the plan that follows from them, and the way to
 * change them. Every change is one transaction; then the book is read again, planned again, and all screens are told.
 */
export class OpenShop {
  readonly file: ShopFile
  readonly planner: Planner
  readonly demo: boolean
  readonly locale: string
  readonly starting: Almanac
  book: Book
  almanac: Almanac
  /** Null until the first plan is there, and while the planner refuses the book. */
  planned: PlanAnswer | null = null
  private planProblems: readonly Problem[] = []
  private plannedAt = -Infinity
  /** Dates as of the last press: what has moved since is told with the next one, also where only time has passed. */
  private told: ReadonlyMap<string, number | null> = new Map()
  private readonly clock: Clock
  private readonly tell: (event: DeskEvent) => void

  private constructor(file: ShopFile, book: Book, almanac: Almanac, options: OpenShopOptions) {
    this.file = file
    this.book = book
    this.almanac = almanac
    this.planner = options.planner
    this.clock = options.clock
    this.tell = options.tell
    this.demo = options.demo
    this.locale = options.locale
    this.starting = options.starting
  }

  static async open(file: ShopFile, options: OpenShopOptions): Promise<OpenShop> {
    const { starting } = options
    if (await isNewShop(file.db)) {
      await saveAlmanac(file.db, starting, starting, { atMs: options.clock.nowMs(), makerId: null }, 'shop-begun')
    }
    const shop = new OpenShop(file, await openBook(file.db), await loadAlmanac(file.db, starting), options)
    await shop.replan()
    shop.told = shop.dates()
    return shop
  }

  get db(): Db {
    return this.file.db
  }

  get nowMs(): number {
    return this.clock.nowMs()
  }

  /** Whole minutes since the Unix epoch. */
  get now(): number {
    return Math.floor(this.clock.nowMs() / 60_000)
  }

  moment(): Moment {
    return momentOf(this.book, this.almanac, this.planned?.plan ?? null, this.now, this.locale)
  }

  /** What stays in the way until somebody mends it, each thing once. */
  inTheWay(): Problem[] {
    const { undated } = this.moment().asked
    const standing = [...new Set(undated.values())].filter((why) => why !== onHoldForGood)
    return [
      ...this.file.warnings,
      ...this.planProblems,
      ...(this.planned?.refused ?? []).map((each) => each.problem),
      ...standing.map((why) => problem('stands-still', why)),
    ]
  }

  /**
   * Does something to the store, plans again, tells the screens, and says which dates moved.
   * @param work gives back what to say about it
   */
  async change(work: (db: Db) => Promise<Result<string>>): Promise<Result<Moved>> {
    const said = await work(this.db)
    if (!said.ok) return said
    await this.readAgain()
    await this.replan()
    this.tell({ kind: 'changed' })
    const entry = await lastUndoable(this.db)
    return ok({ said: said.value, moved: this.movedSinceTold(), entryId: entry?.id ?? null })
  }

  async readAgain(): Promise<void> {
    this.book = await openBook(this.db)
    const almanac = await loadAlmanac(this.db, this.starting)
    // Sessions of years are kept by the almanac that they were made from: the same facts stay the same object.
    if (JSON.stringify(almanac) !== JSON.stringify(this.almanac)) this.almanac = almanac
  }

  async replan(): Promise<void> {
    const now = this.now
    const { problem: asked } = this.moment().asked
    const answer = await this.planner.ask('plan', { kind: 'plan', problem: asked })
    if (answer.ok) {
      this.planned = answer.value
      this.planProblems = []
    } else if (answer.problems[0]?.code !== 'superseded') {
      this.planned = null
      this.planProblems = answer.problems
    }
    this.plannedAt = now
  }

  /** To be called every few seconds: tells what is due, and keeps the plan from growing old. */
  async tick(): Promise<void> {
    if (this.now - this.plannedAt >= planAgesMin) {
      await this.replan()
      this.tell({ kind: 'changed' })
    }
    const due = dueNotices(this.moment())
    const shown = await noticesShown(
      this.db,
      due.map((notice) => notice.id),
    )
    const fresh = due.filter((notice) => !shown.has(notice.id))
    if (fresh.length === 0) return
    await markShown(
      this.db,
      fresh.map((notice) => notice.id),
      this.nowMs,
    )
    for (const notice of fresh) this.tell({ kind: 'notice', notice })
    this.tell({ kind: 'changed' })
  }

  async close(): Promise<void> {
    await this.planner.close()
    await this.file.close()
  }

  private dates(): ReadonlyMap<string, number | null> {
    const moment = this.moment()
    return new Map(moment.book.commissions.map((commission) => [commission.id, dateOf(commission, moment).doneAt]))
  }

  private movedSinceTold(): string[] {
    const before = this.told
    this.told = this.dates()
    const moment = this.moment()
    return moment.book.commissions.flatMap((commission) => {
      const was = before.get(commission.id)
      const { doneAt } = dateOf(commission, moment)
      if (was === undefined || was === null || doneAt === null) return []
      const [from, to] = [writeDayAndPart(was, moment.wording), writeDayAndPart(doneAt, moment.wording)]
      return from === to ? [] : [`No. ${commission.number}, ${commission.customer.name}: now done ${to}, was ${from}.`]
    })
  }
}

export interface OpenShopOptions {
  readonly clock: Clock
  readonly planner: Planner
  readonly tell: (event: DeskEvent) => void
  readonly demo: boolean
  readonly locale: string
  /** What a new shop on this computer starts with. */
  readonly starting: Almanac
}

export const notOpen = failed(problem('not-open', 'The data file is not open: open a backup first.'))
