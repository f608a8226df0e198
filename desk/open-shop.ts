import type { Almanac } from '../core/almanac/almanac.ts'
import type { Book } from '../core/book/book.ts'
import { onHoldForGood } from '../core/book/undated-steps.ts'
import type { Forecast, Odds, Plan, PlanningProblem } from '../core/planning/index.ts'
import { failed, isSuperseded, ok, problem, type Problem, type Result } from '../core/problems.ts'
import { isNewShop, saveAlmanac } from '../db/almanac.ts'
import { openBook } from '../db/commissions.ts'
import type { LateWork } from '../db/late-work.ts'
import type { ShopFile } from '../db/connection.ts'
import type { Db } from '../db/schema.ts'
import { lastEntryId } from '../db/log.ts'
import { lastUndoable } from '../db/undo.ts'
import { CatchingUp } from './catching-up.ts'
import type { WallClock } from './desk.ts'
import type { DeskEvent } from './desk-event.ts'
import { ToldNotices } from './steps/told-notices.ts'
import type { LumberStock } from './lumber/lumber-ahead.ts'
import { besidePlan, momentOf, type Moment } from './moment.ts'
import type { AnnouncedPlan } from './planner/announced-plan.ts'
import { startPlanner, type Planner, type SearchNews } from './planner/planner.ts'
import type { PlanAnswer } from './planner/planning-request.ts'
import { ShopOdds } from './planner/shop-odds.ts'
import type { SearchBudget } from './planner/search-plan.ts'
import { WhatMoved } from './what-moved.ts'
import type { Moved } from './moved.ts'
import type { BetterDates } from './shop-state.ts'
import { almanacInItsUnits, stockOf, readShop, type ReadShop } from './read-shop.ts'

/** Where better dates are looked for only on request, the machine's speed decides nothing. */
const searchOnRequest: SearchBudget = { placements: 100_000, schedules: 300, seconds: Infinity }

/** A plan older than this is made anew, as the hours that it counted on have passed. */
const planAgesMin = 10

/**
 * The shop while its file is open: the book and almanac as last read, the plan that follows from them, and the way to
 * change them. Every change is one transaction; then the book is read again, planned again, and all screens are told.
 */
export class OpenShop {
  readonly file: ShopFile
  readonly planner: Planner
  private readonly odds: ShopOdds
  readonly demo: boolean
  readonly locale: string
  /** The built-in almanac in the shop's own units. */
  starting: Almanac
  book: Book
  almanac: Almanac
  stock: LumberStock
  /** Null until the first plan is there, and while the planner refuses the book. */
  planned: PlanAnswer | null = null
  /** Whether better dates are looked for, or have been. */
  betterDates: BetterDates = { kind: 'nothing-to-look-for' }
  readonly notices = new ToldNotices()
  private planProblems: readonly Problem[] = []
  private notReadBack: readonly Problem[] = []
  private plannedAt = -Infinity
  /** Plans asked for and not there yet: what is heard meanwhile of a search is about an earlier book. */
  private planning = 0
  /** Heard of a search before its plan was: a small book is searched through by one thread before the other has answered. */
  private early: SearchNews | null = null
  private readonly announced: AnnouncedPlan
  private lastMoment: Moment | null = null
  private readonly moved = new WhatMoved()
  private readonly catchingUp = new CatchingUp()
  private readonly lateWork: LateWork
  /** What still reads or writes the file. */
  private readonly underWay = new Set<Promise<unknown>>()
  private readonly clock: WallClock
  private readonly search: SearchBudget | null
  private readonly tell: (event: DeskEvent) => void

  private constructor(file: ShopFile, read: ReadShop, options: OpenShopOptions) {
    this.file = file
    this.book = read.book
    this.almanac = read.almanac
    this.stock = read.stock
    this.announced = read.announced
    this.lateWork = read.lateWork
    this.search = options.search
    this.planner = startPlanner({
      search: options.search,
      onNews: (news) => this.hear(news),
      lastPlanned: () => this.announced.all,
      onBegunAnew: () => void this.during(this.planAgain()),
    })
    this.odds = new ShopOdds(this.planner, () => options.forecast(this))
    this.clock = options.clock
    this.tell = options.tell
    this.demo = options.demo
    this.locale = options.locale
    this.starting = read.starting
  }

  static async open(file: ShopFile, options: OpenShopOptions): Promise<OpenShop> {
    const { starting } = options
    if (await isNewShop(file.db)) {
      await saveAlmanac(file.db, starting, starting, { atMs: options.clock.nowMs(), makerId: null }, 'shop-begun')
    }
    const shop = new OpenShop(file, await readShop(file.db, starting), options)
    await shop.replan()
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

  /** The shop at this minute; the same object for as long as nothing of it has changed, as it is asked for by every screen. */
  moment(): Moment {
    const { book, almanac, now, locale, stock } = this
    const plan = this.planned?.plan ?? null
    const last = this.lastMoment
    const of = this.odds.beside(this.planned)
    const isSame = last?.book === book && last.almanac === almanac && last.stock === stock && last.now === now
    if (isSame && last.plan === plan && last.odds === of) return last
    if (isSame) return (this.lastMoment = besidePlan(last, plan, of))
    return (this.lastMoment = momentOf(book, almanac, plan, now, locale, { odds: of, stock }))
  }

  /** Odds of an order in the present plan, once they are worked out, or in the one that takes its place meanwhile; null when it has none. */
  async oddsOf(commissionId: string): Promise<Odds | null> {
    for (;;) {
      const { planned } = this
      const odds = await this.odds.once(commissionId, planned)
      if (odds !== null || planned === this.planned) return odds
    }
  }

  /** Works the odds of the present plan out behind everything else, then tells the screens. */
  private workOutOdds(): void {
    const { planned } = this
    if (planned === null) return
    this.during(this.odds.workOut(planned))
      .then((done) => {
        if (done && this.planned === planned) this.tell({ kind: 'odds', moved: this.moved.toTell(this.moment()) })
      })
      .catch((fault: unknown) => console.error('Fault while working out odds:', fault))
  }

  /** What stays in the way until somebody mends it, each thing once. */
  inTheWay(): Problem[] {
    const { undated } = this.moment().asked
    const standing = [...new Set(undated.values())].filter((why) => why !== onHoldForGood)
    return [
      ...this.notReadBack,
      ...this.file.warnings(),
      ...this.planProblems,
      ...(this.planned?.refused ?? []).map((each) => each.problem),
      ...standing.map((why) => problem('stands-still', why)),
    ]
  }

  /**
   * Does something to the store, plans again, and tells the screens; which chances moved is told once they are worked out.
   * @param work gives back what to say about it
   * @param answer `kept`: answers as soon as it is kept; what is asked next waits for the plan, see `caughtUp`
   * @param tells order whose new chance the caller says by itself, so that it is not told twice
   */
  async change(
    work: (db: Db) => Promise<Result<string>>,
    answer: 'planned' | 'kept' = 'planned',
    tells: string | null = null,
  ): Promise<Result<Moved>> {
    this.moved.before(this.moment())
    const logged = await lastEntryId(this.db)
    const said = await work(this.db)
    if (!said.ok) return said
    this.moved.pressed(tells)
    if (answer === 'planned')
      return ok({ said: said.value, entryId: (await this.readAndReplan()) ? await this.toUndoSince(logged) : null })
    const entryId = await this.toUndoSince(logged)
    void this.during(this.catchingUp.begin(() => this.readAndReplan()))
    return ok({ said: said.value, entryId, datesFollow: true })
  }

  /** Settled once what was kept until now is read and planned. */
  caughtUp(): Promise<void> {
    return this.catchingUp.ended()
  }

  /** The entry that a press wrote; null: it changed nothing, and must not offer to take back the press before it. */
  private async toUndoSince(logged: number): Promise<number | null> {
    try {
      return (await lastEntryId(this.db)) === logged ? null : ((await lastUndoable(this.db))?.id ?? null)
    } catch (fault) {
      this.couldNotReadBack(fault)
      return null
    }
  }

  /** What was kept is kept: whatever goes wrong now must not be told as if it were lost. False: something did. */
  private async readAndReplan(): Promise<boolean> {
    let isRead = false
    try {
      await this.readAgain()
      await this.replan()
      this.notReadBack = []
      isRead = true
    } catch (fault) {
      this.couldNotReadBack(fault)
    }
    this.tell({ kind: 'changed' })
    return isRead
  }

  private couldNotReadBack(fault: unknown): void {
    console.error('Fault after a change was kept:', fault)
    this.notReadBack = [keptButNotShown]
  }

  /** Something was written that no date follows from: the screens ask again. */
  changed(): void {
    this.tell({ kind: 'changed' })
  }

  async readAgain(): Promise<void> {
    this.book = await openBook(this.db, this.lateWork)
    this.stock = await stockOf(this.db)
    const { almanac, starting } = await almanacInItsUnits(this.db, this.starting)
    this.starting = starting
    // Sessions of years are kept by the almanac that they were made from: the same facts stay the same object.
    if (JSON.stringify(almanac) !== JSON.stringify(this.almanac)) this.almanac = almanac
  }

  async replan(): Promise<void> {
    const now = this.now
    const { problem: asked } = this.moment().asked
    this.planning += 1
    const answer = await this.planner.ask('plan', { kind: 'plan', problem: this.withAnnounced(asked) })
    this.planning -= 1
    if (answer.ok) {
      this.planned = answer.value
      this.planProblems = []
      this.betterDates = this.toLookFor(answer.value.plan)
      this.workOutOdds()
      if (this.early?.version === answer.value.version) this.hear(this.early)
      await this.show(answer.value.plan)
    } else if (!isSuperseded(answer)) {
      this.planned = null
      this.planProblems = answer.problems
      this.betterDates = { kind: 'nothing-to-look-for' }
    }
    this.plannedAt = now
  }

  /** After the planner lost what it knew. */
  private async planAgain(): Promise<void> {
    try {
      await this.replan()
    } catch (fault) {
      console.error('Fault while planning again:', fault)
    }
    this.tell({ kind: 'changed' })
  }

  /** Looks for better dates again, from the ones that are shown. */
  lookForBetterDates(): void {
    if (this.planned === null || this.betterDates.kind === 'looking') return
    this.planner.search(this.search ?? searchOnRequest)
    this.say({ kind: 'looking', share: 0 })
  }

  stopLooking(): void {
    this.planner.stopSearch()
  }

  /** A better plan takes the place of the one that is shown, once, at the end of the search. */
  private hear(news: SearchNews): void {
    if (this.planning > 0 || this.planned?.version !== news.version) {
      this.early = news
      return
    }
    if (news.kind === 'searching') return this.say({ kind: 'looking', share: news.share })
    const { outcome, better } = news
    const kind =
      outcome === 'best' ? 'best' : better !== null ? 'found' : outcome === 'stopped' ? 'stopped' : 'none-found'
    this.say({ kind })
    if (better === null) return
    this.planned = better
    this.workOutOdds()
    void this.during(this.show(better.plan))
    this.tell({ kind: 'changed' })
  }

  private say(betterDates: BetterDates): void {
    this.betterDates = betterDates
    this.tell({ kind: 'better-dates', betterDates })
  }

  private toLookFor({ quality, steps }: Plan): BetterDates {
    if (steps.length === 0) return { kind: 'nothing-to-look-for' }
    if (quality === 'optimal') return { kind: 'best' }
    return this.search === null ? { kind: 'not-looked' } : { kind: 'looking', share: 0 }
  }

  /** What is asked, with what the screens have shown for today and tomorrow. */
  withAnnounced(asked: PlanningProblem): PlanningProblem {
    return this.announced.in(asked, this.moment())
  }

  private show(plan: Plan): Promise<void> {
    return this.announced.show(plan, this.moment())
  }

  /** To be called every few seconds: tells what is due, keeps the plan from growing old, and makes the backup of the day. */
  async tick(): Promise<void> {
    await this.caughtUp()
    if (this.notReadBack.length > 0) await this.readAndReplan()
    await this.tellWhatIsDue()
    const before = JSON.stringify(this.file.warnings())
    await this.file.backUpWhenDue()
    if (JSON.stringify(this.file.warnings()) !== before) this.tell({ kind: 'changed' })
  }

  /** Has a notice told again at that instant, or when the shop is next opened, if it is still due then. */
  async sleep(notice: string, wakesAtMs: number): Promise<void> {
    await this.notices.sleep(this.db, notice, wakesAtMs)
  }

  private async tellWhatIsDue(): Promise<void> {
    // Also after the clock was put back.
    if (Math.abs(this.now - this.plannedAt) >= planAgesMin) {
      await this.replan()
      this.tell({ kind: 'changed' })
    }
    const fresh = await this.notices.fresh(this.db, this.moment(), this.nowMs)
    if (fresh.length === 0) return
    for (const notice of fresh) this.tell({ kind: 'notice', notice })
    this.tell({ kind: 'changed' })
  }

  /** Has closing wait for work that reads or writes the file. */
  during<T>(work: Promise<T>): Promise<T> {
    const ended: Promise<unknown> = work.catch(() => undefined).then(() => this.underWay.delete(ended))
    this.underWay.add(ended)
    return work
  }

  /** What waits for the planner is told that the app closes, and ends; then the file is closed. */
  async close(): Promise<void> {
    this.file.stopLooking()
    await this.planner.close()
    while (this.underWay.size > 0) await Promise.all(this.underWay)
    await this.file.close()
  }
}

export interface OpenShopOptions {
  /** What the shop's log teaches of times and evenings. */
  readonly forecast: (shop: OpenShop) => Promise<Forecast>
  readonly clock: WallClock
  /** How long better dates are looked for after each change; null: only when asked to. */
  readonly search: SearchBudget | null
  readonly tell: (event: DeskEvent) => void
  readonly demo: boolean
  readonly locale: string
  /** What a new shop on this computer starts with. */
  readonly starting: Almanac
}

const keptButNotShown = problem(
  'kept-but-not-shown',
  'Your last entry is kept, but the app could not read it back. Close the app and start it again.',
)

export const notOpen = failed(problem('not-open', 'The data file is not open: open a backup first.'))
