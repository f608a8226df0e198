import type { Almanac } from '../core/almanac/almanac.ts'
import type { Book } from '../core/book/book.ts'
import { onHoldForGood } from '../core/book/planning-problem.ts'
import type { AnnouncedStart, Forecast, Odds, Plan, PlanningProblem } from '../core/planning/index.ts'
import { failed, ok, problem, type Problem, type Result } from '../core/problems.ts'
import { woodTaken } from '../core/timber/wood-taken.ts'
import { daysLater } from '../core/time/local-day.ts'
import { startingInUnits } from '../core/almanac/defaults.ts'
import { isNewShop, loadAlmanac, saveAlmanac } from '../db/almanac.ts'
import { announce, announcedStarts } from '../db/announced.ts'
import { boardsOnHand, hasListedBoards, partsCut } from '../db/boards.ts'
import { boardsTaken } from '../db/boards-taken.ts'
import { supplies } from '../db/supplies.ts'
import { openBook } from '../db/commissions.ts'
import type { ShopFile } from '../db/connection.ts'
import { forgetShown, noticesShown, markShown } from '../db/notices.ts'
import type { Db } from '../db/schema.ts'
import { lastUndoable } from '../db/undo.ts'
import type { Clock } from './desk.ts'
import type { DeskEvent } from './desk-event.ts'
import { noticesToTell } from './steps/due-notices.ts'
import type { LumberStock } from './lumber/lumber-ahead.ts'
import { momentOf, type Moment } from './moment.ts'
import { startPlanner, type Planner, type SearchNews } from './planner/planner.ts'
import type { PlanAnswer } from './planner/planning-request.ts'
import { ShopOdds } from './planner/shop-odds.ts'
import type { SearchBudget } from './planner/search-plan.ts'
import { movedBetween, toldOf, type Told } from './what-moved.ts'
import type { Moved } from './moved.ts'
import type { BetterDates } from './shop-state.ts'

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
  /** Notices that the maker put to sleep, and when each wakes, in milliseconds. */
  private readonly asleep = new Map<string, number>()
  private planProblems: readonly Problem[] = []
  private notReadBack: readonly Problem[] = []
  private plannedAt = -Infinity
  /** Plans asked for and not there yet: what is heard meanwhile of a search is about an earlier book. */
  private planning = 0
  /** What the screens have shown for today and tomorrow. */
  private announced: readonly AnnouncedStart[]
  private lastMoment: Moment | null = null
  private lookUp: {
    readonly planned: PlanAnswer | null
    readonly state: object | null
    readonly of: Moment['odds']
  } | null = null
  /** Chances as of the last press: what has moved since is told with the next one, also where only time has passed. */
  private told: Told | null = null
  /** Something was pressed and what it moved has not been told yet. */
  private toTell = false
  private readonly clock: Clock
  private readonly search: SearchBudget | null
  private readonly tell: (event: DeskEvent) => void

  private constructor(file: ShopFile, read: ReadShop, options: OpenShopOptions) {
    this.file = file
    this.book = read.book
    this.almanac = read.almanac
    this.stock = read.stock
    this.announced = read.announced
    this.search = options.search
    this.planner = startPlanner({
      search: options.search,
      onNews: (news) => this.hear(news),
      onBegunAnew: () => void this.planAgain(),
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
    const { db } = file
    const [book, own] = [await openBook(db), await almanacInItsUnits(db, starting)]
    const shop = new OpenShop(
      file,
      { book, ...own, stock: await stockOf(db), announced: await announcedStarts(db) },
      options,
    )
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
    const of = this.oddsLookUp()
    const isSame = last?.book === book && last.almanac === almanac && last.stock === stock
    if (isSame && last.plan === plan && last.now === now && last.odds === of) return last
    return (this.lastMoment = momentOf(book, almanac, plan, now, locale, { odds: of, stock }))
  }

  /** The same function for as long as neither plan nor odds are others. */
  private oddsLookUp(): Moment['odds'] {
    const { planned } = this
    const { state } = this.odds
    if (this.lookUp?.planned !== planned || this.lookUp.state !== state)
      this.lookUp = { planned, state, of: (id) => this.odds.of(id, planned) }
    return this.lookUp.of
  }

  /** Odds of an order in the present plan, once they are worked out; null when it has none. */
  async oddsOf(commissionId: string): Promise<Odds | null> {
    const { planned } = this
    if (planned === null || !(await this.odds.workOut(planned))) return null
    const shown = this.odds.of(commissionId, planned)
    return shown?.fresh === true ? shown.odds : null
  }

  /** Works the odds of the present plan out behind everything else, then tells the screens. */
  private workOutOdds(): void {
    const { planned } = this
    if (planned === null) return
    this.odds
      .workOut(planned)
      .then((done) => {
        if (done && this.planned === planned) this.tell({ kind: 'odds', moved: this.movedSinceTold() })
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
   */
  async change(work: (db: Db) => Promise<Result<string>>): Promise<Result<Moved>> {
    // The odds of before may not be there yet: what moves by this is told all the same.
    this.told ??= toldOf(this.moment())
    const said = await work(this.db)
    if (!said.ok) return said
    this.toTell = true
    // From here on it is kept: whatever goes wrong now must not be told as if it were lost.
    try {
      await this.readAgain()
      await this.replan()
      this.tell({ kind: 'changed' })
      const entry = await lastUndoable(this.db)
      this.notReadBack = []
      return ok({ said: said.value, entryId: entry?.id ?? null })
    } catch (fault) {
      console.error('Fault after a change was kept:', fault)
      this.notReadBack = [keptButNotShown]
      this.tell({ kind: 'changed' })
      return ok({ said: said.value, entryId: null })
    }
  }

  /** Something was written that no date follows from: the screens ask again. */
  changed(): void {
    this.tell({ kind: 'changed' })
  }

  async readAgain(): Promise<void> {
    this.book = await openBook(this.db)
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
      await this.announce(answer.value.plan)
    } else if (answer.problems[0]?.code !== 'superseded') {
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
    if (this.planning > 0 || this.planned?.version !== news.version) return
    if (news.kind === 'searching') return this.say({ kind: 'looking', share: news.share })
    const { outcome, better } = news
    const kind =
      outcome === 'best' ? 'best' : better !== null ? 'found' : outcome === 'stopped' ? 'stopped' : 'none-found'
    this.say({ kind })
    if (better === null) return
    this.planned = better
    this.workOutOdds()
    void this.announce(better.plan)
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

  /** With what was shown for today and tomorrow, which plans move as little as they can. */
  withAnnounced(asked: PlanningProblem): PlanningProblem {
    const toDo = new Set(asked.steps.filter(({ state }) => state.kind === 'to-do').map(({ id }) => id))
    return { ...asked, announced: this.announced.filter(({ step }) => toDo.has(step)) }
  }

  /** Keeps in mind what is shown for today and tomorrow, so that plans to come move as little of it as they can. */
  private async announce(plan: Plan): Promise<void> {
    const { now, today, setting } = this.moment()
    const until = setting.endOfDay(daysLater(today, 1))
    const starts = plan.steps
      .filter(({ start }) => start >= now && start < until)
      .map(({ id, start }) => ({ step: id, start }))
    if (JSON.stringify(starts) === JSON.stringify(this.announced)) return
    try {
      await announce(this.db, starts)
      this.announced = starts
    } catch (fault) {
      // The next plan tries again; what the maker did just now is kept, whether this is or not.
      console.error('Fault while announcing a plan:', fault)
    }
  }

  /** To be called every few seconds: tells what is due, keeps the plan from growing old, and makes the backup of the day. */
  async tick(): Promise<void> {
    await this.tellWhatIsDue()
    const before = JSON.stringify(this.file.warnings())
    await this.file.backUpWhenDue()
    if (JSON.stringify(this.file.warnings()) !== before) this.tell({ kind: 'changed' })
  }

  /** Has a notice told again at that instant, or when the shop is next opened, if it is still due then. */
  async sleep(notice: string, wakesAtMs: number): Promise<void> {
    await forgetShown(this.db, notice)
    this.asleep.set(notice, wakesAtMs)
  }

  private async tellWhatIsDue(): Promise<void> {
    // Also after the clock was put back.
    if (Math.abs(this.now - this.plannedAt) >= planAgesMin) {
      await this.replan()
      this.tell({ kind: 'changed' })
    }
    const due = noticesToTell(this.moment()).filter(({ id }) => (this.asleep.get(id) ?? 0) <= this.nowMs)
    const shown = await noticesShown(
      this.db,
      due.map((notice) => notice.id),
      this.nowMs,
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

  private movedSinceTold(): string[] {
    const moment = this.moment()
    const now = toldOf(moment)
    const before = this.told
    if (before !== null && !this.toTell) return []
    this.told = now
    this.toTell = false
    return before === null ? [] : movedBetween(before, now, moment)
  }
}

/** The almanac, with what it leaves as built in by the inch or the millimetre as this shop measures. */
async function almanacInItsUnits(
  db: Db,
  starting: Almanac,
): Promise<{ readonly almanac: Almanac; readonly starting: Almanac }> {
  const almanac = await loadAlmanac(db, starting)
  const own = startingInUnits(starting, almanac.shop.units)
  return {
    almanac: own === starting ? almanac : await loadAlmanac(db, own),
    starting: { ...own, shop: { ...own.shop, units: almanac.shop.units } },
  }
}

const stockOf = async (db: Db): Promise<LumberStock> => ({
  boards: await boardsOnHand(db),
  cut: await partsCut(db),
  everListed: await hasListedBoards(db),
  supplies: await supplies(db),
  taken: woodTaken(await boardsTaken(db)),
})

interface ReadShop {
  readonly book: Book
  readonly almanac: Almanac
  readonly stock: LumberStock
  readonly starting: Almanac
  readonly announced: readonly AnnouncedStart[]
}

export interface OpenShopOptions {
  /** What the shop's log teaches of times and evenings. */
  readonly forecast: (shop: OpenShop) => Promise<Forecast>
  readonly clock: Clock
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
