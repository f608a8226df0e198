import { z } from 'zod'
import { FAILURE_REASONS } from '../core/book/failure-reasons.ts'
import { PAID_HOW } from '../core/money/ledger.ts'
import { failed, ok, problem, type Result } from '../core/problems.ts'
import type { BoardInput } from '../core/timber/read-board.ts'
import { isDayOfThisAge } from '../core/time/local-day.ts'
import { allBoards } from '../db/boards.ts'
import type { OfferTaken } from '../core/book/promise.ts'
import { bookOfCommission, closedCount, commissionNumbered } from '../db/commissions.ts'
import { draftById, dropDraft, saveDraft } from '../db/drafts.ts'
import { entriesOf } from '../db/log.ts'
import { photoById } from '../db/photos.ts'
import { moneyOf } from '../db/money.ts'
import { lastUndoable, takeBack } from '../db/undo.ts'
import { startingLike } from '../core/almanac/defaults.ts'
import { almanacFacts } from '../core/almanac/facts.ts'
import { ALMANAC_HOME } from '../core/almanac/home.ts'
import { changeOneFact, removeListed, saveListed, type ListedInput } from './almanac/change-almanac.ts'
import { changeOnHand, cutAsPlanned, putOnHand, useUp } from './lumber/change-boards.ts'
import { hereAgain, outOf, saveStock, takeOffList } from './lumber/change-supplies.ts'
import { milledBoards, takeAsCut } from './lumber/milled-boards.ts'
import { lumberFrom, lumberHere, lumberNotYet, lumberRested } from './lumber/say-lumber.ts'
import { agree, changeByHand, handOver, resume } from './orders/change-commission.ts'
import { callOff, handOverPiece, putOnHold, remind, reopen, told } from './orders/standing-of-order.ts'
import { knownCustomers } from './orders/known-customers.ts'
import { familyOf } from './orders/related-orders.ts'
import type { SettableClock } from './clock.ts'
import { closedRows } from './orders/closed-rows.ts'
import { aboutView } from './about.ts'
import type { Notice } from './desk.ts'
import { entryText, historyLines } from './orders/history-lines.ts'
import { finishStep, foundReady, longestAgoMin, pauseStep, pinStep, pushBack, startStep } from './steps/log-step.ts'
import { failStep, type SaidFailure } from './steps/fail-step.ts'
import { moveWork, putRight, type SaidWork } from './steps/put-right.ts'
import { movePiece } from './steps/move-piece.ts'
import { enterPayment, takeBackMoney, type MoneyInput } from './money/enter-money.ts'
import { moneyByOrder } from './money/order-rows-money.ts'
import { momentOf } from './moment.ts'
import type { OpenShop } from './open-shop.ts'
import { issue, issuedPaper, paperRows, previewPaper, type PaperForm } from './papers/papers.ts'
import { noInput, proceduresOf } from './procedure.ts'
import { inquiryQuote } from './orders/inquiry-quote.ts'
import { draftName, orderDrafts } from './orders/order-drafts.ts'
import { madeBefore, makeAgain } from './orders/repeat-order.ts'
import { quoteDraft } from './orders/quote-draft.ts'
import { LARGEST_PHOTO, type PhotoInput } from './orders/read-photo.ts'
import { benchView } from './screens/bench.ts'
import { commissionView } from './screens/commission.ts'
import { orderBookView } from './screens/order-book.ts'
import { rackView } from './screens/rack.ts'
import { timberView } from './screens/timber.ts'
import { weeksView } from './screens/weeks.ts'
import {
  constructionDrafts,
  dropConstructionDraft,
  keepConstructionDraft,
  tryConstruction,
} from './almanac/own-constructions.ts'
import { answerAsked, chooseEntry, followTimes, useTime } from './learning/choose-times.ts'
import { useWait, yourWaits } from './learning/your-waits.ts'
import { yourTimesView } from './learning/your-times-view.ts'
import { tallyView } from './tally/tally-view.ts'
import { csvFile, TAKE_ALONG, takeAlong } from './open-formats/take-along.ts'
import { YEAR_FIGURES } from '../core/year/goods-sold.ts'
import { yearTable } from './year/year-table.ts'
import { changeYearFigure, owedView, yearView } from './year/year-view.ts'
import { LARGEST_PART, type Safekeeping } from './safekeeping.ts'
import { takeOrder } from './orders/take-order.ts'
import { timberWork } from './lumber/timber-work.ts'
import type { AlmanacView, BackupRow, ConstructionDraft, Draft, Moved, PhotoView, ShopState } from './views.ts'
import { whatWouldHelp, whyDate } from './planner/why-date.ts'

/** What a procedure works with. */
export interface DeskContext {
  /** The shop, or the problem why its file is not open. */
  shop(): Result<OpenShop>
  shopState(): Promise<ShopState>
  readonly safekeeping: Safekeeping
  readonly dataFolder: string
}

/** What the procedures that only tests may call work with besides. */
export interface TestContext extends DeskContext {
  readonly clock: SettableClock
  tellNotice(notice: Notice): void
  /** Looks for what is due, as the desk does every few seconds. */
  tick(): Promise<void>
}

const procedure = proceduresOf<DeskContext>()

/** A procedure that needs the open shop. */
const inShop = <Schema extends z.core.$ZodType, Output>(
  input: Schema,
  run: (shop: OpenShop, input: z.output<Schema>) => Result<Output> | Promise<Result<Output>>,
) =>
  procedure(input, async (context: DeskContext, checked: z.output<Schema>): Promise<Result<Output>> => {
    const shop = context.shop()
    return shop.ok ? run(shop.value, checked) : shop
  })

const id = z.string().min(1).max(64)
const text = z.string().max(2000)
const day = z.string().refine(isDayOfThisAge, 'This is not a day: pick one, or type it like Dec 12.')
const short = z.string().max(200)
const minorUnits = z.int().min(0).max(1_000_000_000)
const signedMinorUnits = z.int().min(-1_000_000_000).max(1_000_000_000)
const mostFields = 100
const fewFields = (record: object): boolean => Object.keys(record).length <= mostFields
const tooManyFields = `This has more than ${mostFields} fields: take some out.`
const specRow = z
  .record(z.string().max(64), z.union([z.string().max(400), z.boolean()]))
  .refine(fewFields, tooManyFields)
/** What stands in the fields of a construction's form. */
const specInput = z
  .record(z.string().max(64), z.union([z.string().max(400), z.boolean(), z.array(specRow).max(200).readonly()]))
  .refine(fewFields, tooManyFields)

const constructionDraft = z.strictObject({
  key: id,
  id: z.string().max(64),
  input: specInput,
}) satisfies z.core.$ZodType<ConstructionDraft>

const typedAir = z.strictObject({ temperature: z.string().max(40), humidity: z.string().max(40) })
const typedHome = z.strictObject({ kind: z.string().max(40), driest: typedAir, dampest: typedAir })
const air = z.strictObject({ celsius: z.number().min(-30).max(50), rh: z.number().min(0.01).max(1) })

const listedId = z.string().max(64)
/** A product of the almanac, or a supply by its id; an empty id is a new one. */
const supplyRef = z.union([z.strictObject({ productId: listedId }), z.strictObject({ id: listedId })])

const lumberSource = z.enum(['counted', 'shop', 'yard', 'customer'])

const draft = z.strictObject({
  customer: z.strictObject({
    name: text,
    reach: text,
    secondReach: text,
    address: text,
    allergies: text,
    childUnder3: z.enum(['yes', 'no', 'not-asked']),
    notes: text.optional(),
    id: id.optional(),
  }),
  takenWhere: z.enum(['fair', 'in-person', 'phone', 'mail']),
  pieces: z
    .array(
      z.strictObject({
        construction: z.string().max(64),
        input: specInput,
        count: z.string().max(20),
      }),
    )
    .max(40)
    .readonly(),
  neededBy: z.string().max(20),
  neededWhy: text,
  notes: text,
  // A draft of before there was such a field is read all the same.
  home: typedHome.default(ALMANAC_HOME),
  price: z.string().max(40),
  deposit: z.string().max(40),
  depositHow: text,
  again: id.optional(),
  lumber: z.strictObject({ from: lumberSource, expectedOn: z.string().max(20) }).optional(),
  againAs: z.enum(['again', 'repair', 'complaint']).optional(),
  giftFor: text.optional(),
  giftAddress: text.optional(),
  remindOn: z.string().max(20).optional(),
}) satisfies z.core.$ZodType<Draft>

/** Which of the orders being typed; absent: the first. */
const draftKey = z.string().max(40).default('')

/** What was kept as a draft, where it still is one. */
function readDraftKept(content: unknown): Draft | null {
  const read = draft.safeParse(content)
  return read.success ? read.data : null
}

const earlierOrder = z.union([z.strictObject({ id }), z.strictObject({ number: z.int().min(1) })])

const money = z.strictObject({
  kind: z.enum(['payment', 'refund', 'write-off', 'tip']),
  amount: z.string().max(40),
  how: z.enum(PAID_HOW),
  day: z.string().max(20),
  reference: short,
}) satisfies z.core.$ZodType<MoneyInput>

const paperForm = z.strictObject({
  kind: z.enum([
    'quote',
    'estimate',
    'confirmation',
    'receipt',
    'invoice',
    'credit-note',
    'balance-note',
    'delay-note',
    'progress-note',
    'care-card',
  ]),
  text,
  newDay: z.string().max(20),
  amends: z.string().max(64),
  credit: z.string().max(40),
}) satisfies z.core.$ZodType<PaperForm>

/** Which offer a chosen day came from. */
const offerTaken = z.strictObject({
  kind: z.enum(['keeps-every-promise', 'soonest', 'with-more', 'own-day']),
  takes: z.string().max(200),
}) satisfies z.core.$ZodType<OfferTaken>

const press = z.strictObject({
  stepId: id,
  makerId: id.nullable().default(null),
  minutesAgo: z.int().min(0).max(longestAgoMin).default(0),
  anyway: z.boolean().default(false),
})

const mostStretches = 60
const workSaid = z.strictObject({
  stepId: id,
  stretches: z
    .array(z.strictObject({ day: short, from: short, until: short, makerId: id.nullable() }))
    .max(mostStretches)
    .readonly(),
  isDone: z.boolean(),
}) satisfies z.core.$ZodType<SaidWork>

const failure = z.strictObject({
  stepId: id,
  count: z.int().min(1).max(999),
  fromStepId: id,
  reason: z.enum(FAILURE_REASONS),
  note: text,
}) satisfies z.core.$ZodType<SaidFailure>

const changes = z.strictObject({
  customer: draft.shape.customer.omit({ id: true }).optional(),
  remindOn: day.nullable().optional(),
  giftFor: text.optional(),
  giftAddress: text.optional(),
  neededBy: day.nullable().optional(),
  neededWhy: text.optional(),
  promisedFor: day.nullable().optional(),
  promiseWantedBy: z.enum(['customer', 'maker']).optional(),
  promiseWhy: text.optional(),
  notes: text.optional(),
  home: z.strictObject({ driest: air, dampest: air }).nullable().optional(),
  priceMinor: minorUnits.nullable().optional(),
  depositMinor: minorUnits.optional(),
  untaxedWhy: short.optional(),
  extraLines: z
    .array(z.strictObject({ name: z.string().trim().min(1).max(200), minor: signedMinorUnits, taxed: z.boolean() }))
    .max(20)
    .readonly()
    .optional(),
  weight: z.number().min(0.1).max(100).optional(),
})

const calendarYear = z.int().min(2000).max(2199)

/** A whole shop arrives in parts, because its photos make it larger than one call may be. */
const mostParts = 2_000

const lists = [
  'makers',
  'specialDays',
  'stations',
  'glues',
  'finishes',
  'woods',
  'constructions',
  'places',
  'finishSchedules',
] as const
const hours = z.strictObject({ from: short, to: short })
const product = z.strictObject({
  id: listedId,
  class: short,
  name: short,
  label: z.record(z.string().max(40), short).refine(fewFields, tooManyFields),
})

const listed = z.discriminatedUnion('list', [
  z.strictObject({
    list: z.literal('makers'),
    item: z.strictObject({
      id: listedId,
      name: short,
      attendance: short,
      hours: z
        .array(hours.extend({ weekday: z.int() }))
        .max(50)
        .readonly(),
    }),
  }),
  z.strictObject({
    list: z.literal('specialDays'),
    item: z.strictObject({
      id: listedId,
      day: short,
      kind: short,
      maker: short,
      note: short,
      hours: z.array(hours).max(20).readonly(),
    }),
  }),
  z.strictObject({
    list: z.literal('stations'),
    item: z.strictObject({ id: listedId, name: short, kind: short, capacity: short }),
  }),
  z.strictObject({ list: z.literal('glues'), item: product }),
  z.strictObject({ list: z.literal('finishes'), item: product }),
  z.strictObject({ list: z.literal('woods'), item: z.strictObject({ id: listedId, name: short, species: short }) }),
  z.strictObject({
    list: z.literal('places'),
    item: z.strictObject({
      id: listedId,
      ...{ name: short, kind: short, temperature: short, humidity: short, capacity: short, carry: short },
      inPlans: z.boolean(),
    }),
  }),
  z.strictObject({
    list: z.literal('finishSchedules'),
    item: z.strictObject({
      ...{ id: listedId, name: short, rubOut: short, wax: listedId },
      layers: z.array(z.strictObject({ finish: listedId, coats: short, method: short, sandGrit: short })).max(12),
    }),
  }),
  z.strictObject({ list: z.literal('constructions'), item: z.strictObject({ id: listedId, input: specInput }) }),
]) satisfies z.core.$ZodType<ListedInput>

const board = z.strictObject({
  wood: listedId,
  thickness: short,
  width: short,
  length: short,
  flaws: z.string().max(1000),
  quality: text,
  place: short,
  price: short,
  moisture: short,
  hereSince: short.optional(),
  boughtFor: z.string().max(64).optional(),
}) satisfies z.core.$ZodType<BoardInput>

const photo = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('as-it-is') }),
  z.strictObject({ kind: z.literal('none') }),
  z.strictObject({ kind: z.literal('new'), base64: z.base64().max(Math.ceil((LARGEST_PHOTO * 4) / 3) + 4) }),
]) satisfies z.core.$ZodType<PhotoInput>

/** All that the pages can ask for. */
export const procedures = {
  shopState: procedure(noInput, async (context) => ok(await context.shopState())),

  bench: inShop(noInput, async (shop) => {
    const moment = shop.moment()
    const last = await lastUndoable(shop.db)
    const line = last && { entryId: last.id, text: entryText(last, moment), atMs: last.atMs }
    return ok(benchView(moment, shop.planned?.tonight ?? null, line))
  }),
  rack: inShop(noInput, (shop) => ok(rackView(shop.moment()))),
  orderBook: inShop(noInput, async (shop) => {
    const money = await moneyByOrder(shop.db, shop.book.commissions)
    const closed = { closed: await closedRows(shop), closedCount: await closedCount(shop.db) }
    return ok(orderBookView(shop.moment(), money, closed))
  }),
  customers: inShop(noInput, async (shop) => ok(await knownCustomers(shop))),
  closedOrders: inShop(z.strictObject({ count: z.int().min(1).max(100_000) }), async (shop, { count }) =>
    ok(await closedRows(shop, count)),
  ),
  weeksAhead: inShop(z.strictObject({ weeks: z.int().min(1).max(26) }), (shop, { weeks }) => {
    return ok(weeksView(shop.moment(), weeks))
  }),
  orderNumbered: inShop(z.strictObject({ number: z.int().min(1).max(999_999_999) }), async (shop, { number }) => {
    const found = await commissionNumbered(shop.db, number)
    return found === null
      ? failed(problem('unknown-commission', `No order has number ${number}.`, 'number'))
      : ok({ id: found })
  }),
  whyDate: inShop(z.strictObject({ id }), async (shop, input) => ok(await whyDate(shop, input.id))),
  whatWouldHelp: inShop(z.strictObject({ id }), async (shop, input) => ok(await whatWouldHelp(shop, input.id))),
  lookForBetterDates: inShop(noInput, (shop) => {
    shop.lookForBetterDates()
    return ok(null)
  }),
  stopLooking: inShop(noInput, (shop) => {
    shop.stopLooking()
    return ok(null)
  }),
  commission: inShop(z.strictObject({ id }), async (shop, { id: commissionId }) => {
    const open = shop.book.commissions.some((commission) => commission.id === commissionId)
    const book = open ? shop.book : await bookOfCommission(shop.db, commissionId)
    const commission = book?.commissions.find((each) => each.id === commissionId)
    if (!book || !commission) {
      return failed(problem('unknown-commission', 'This order is not in the book. Find it in the Order book.', 'id'))
    }
    const moment = open ? shop.moment() : momentOf(book, shop.almanac, null, shop.now, shop.locale)
    const entries = await entriesOf(shop.db, commissionId)
    return ok(
      commissionView(
        commission,
        moment,
        historyLines(entries, moment),
        await moneyOf(shop.db, [commissionId]),
        await familyOf(shop.db, commission),
      ),
    )
  }),

  drafts: inShop(noInput, async (shop) => ok(await orderDrafts(shop.db, readDraftKept))),
  draftLoad: inShop(z.strictObject({ key: draftKey }), async (shop, { key }): Promise<Result<Draft | null>> =>
    ok(readDraftKept((await draftById(shop.db, draftName(key)))?.content)),
  ),
  draftSave: inShop(z.strictObject({ key: draftKey, draft }), async (shop, input) => {
    await saveDraft(shop.db, { id: draftName(input.key), content: input.draft }, shop.nowMs)
    return ok(null)
  }),
  draftDiscard: inShop(z.strictObject({ key: draftKey }), async (shop, { key }) => {
    await dropDraft(shop.db, draftName(key))
    return ok(null)
  }),
  madeBefore: inShop(earlierOrder, madeBefore),
  makeAgain: inShop(earlierOrder, (shop, asked) => makeAgain(shop, asked, 'again')),
  answerFor: inShop(z.strictObject({ id, as: z.enum(['repair', 'complaint']) }), (shop, { as, ...asked }) =>
    makeAgain(shop, asked, as),
  ),
  draftQuote: inShop(z.strictObject({ draft, asked: z.enum(['dates', 'odds', 'all-offers']) }), (shop, input) =>
    quoteDraft(shop, input.draft, input.asked),
  ),
  takeOrder: inShop(
    z.strictObject({
      draft,
      draftKey,
      standing: z.enum(['asked-about', 'agreed']),
      promisedFor: z.string().max(20).nullable(),
      offer: offerTaken.nullable().optional(),
    }),
    (shop, { draft: typed, ...taking }) => takeOrder(shop, typed, taking),
  ),

  stepStart: inShop(press, startStep),
  stepPause: inShop(press, pauseStep),
  stepDone: inShop(
    press.extend({
      workedMin: z
        .int()
        .min(1)
        .max(24 * 60)
        .nullable()
        .optional(),
    }),
    (shop, input) => finishStep(shop, { ...input, workedMin: input.workedMin ?? null }),
  ),
  stepPutRight: inShop(workSaid, putRight),
  stepMove: inShop(z.strictObject({ stepId: id, toStepId: id }), (shop, { stepId, toStepId }) =>
    moveWork(shop, stepId, toStepId),
  ),
  stepStillTacky: inShop(
    z.strictObject({
      stepId: id,
      minutes: z
        .int()
        .min(5)
        .max(30 * 24 * 60),
    }),
    (shop, { stepId, minutes }) => pushBack(shop, stepId, minutes),
  ),
  pieceMove: inShop(z.strictObject({ stepId: id, place: listedId.nullable() }), (shop, { stepId, place }) =>
    movePiece(shop, stepId, place),
  ),
  stepFoundReady: inShop(z.strictObject({ stepId: id }), (shop, { stepId }) => foundReady(shop, stepId)),
  stepPin: inShop(z.strictObject({ stepId: id, day: day.nullable() }), (shop, input) =>
    pinStep(shop, input.stepId, input.day),
  ),
  stepFailed: inShop(failure, failStep),
  undo: inShop(z.strictObject({ entryId: z.int() }), (shop, { entryId }): Promise<Result<Moved>> =>
    shop.change(async (db) => {
      const taken = await takeBack(db, entryId, { atMs: shop.nowMs, makerId: null })
      return taken.ok ? ok('Undone.') : taken
    }),
  ),

  commissionAgree: inShop(
    z.strictObject({
      id,
      promisedFor: z.union([z.literal('as-quoted'), day]).nullable(),
      offer: offerTaken.nullable().optional(),
    }),
    (shop, input) => agree(shop, input.id, input.promisedFor, input.offer ?? null),
  ),
  inquiryQuote: inShop(z.strictObject({ id }), async (shop, input) => ok(await inquiryQuote(shop, input.id))),
  commissionChange: inShop(z.strictObject({ id, changes }), (shop, input) =>
    changeByHand(shop, input.id, input.changes),
  ),
  commissionHold: inShop(
    z.strictObject({
      id,
      until: z.union([z.literal('open-end'), day]),
      why: text,
      remindOn: day.nullable().default(null),
    }),
    (shop, { id: commissionId, ...hold }) => putOnHold(shop, commissionId, hold),
  ),
  commissionResume: inShop(z.strictObject({ id }), (shop, input) => resume(shop, input.id)),
  milledBoards: inShop(z.strictObject({ stepId: id }), (shop, { stepId }) => milledBoards(shop, stepId)),
  boardsMilled: inShop(
    z.strictObject({ stepId: id, boards: z.array(id).min(1).max(99).readonly() }),
    (shop, { stepId, boards }) => takeAsCut(shop, stepId, boards),
  ),
  supplySave: inShop(
    z.strictObject({ ref: supplyRef, input: z.strictObject({ name: short, amount: short, reorderAt: short }) }),
    (shop, { ref, input }) => saveStock(shop, ref, input),
  ),
  supplyOut: inShop(z.strictObject({ ref: supplyRef, on: day.nullable() }), (shop, { ref, on }) =>
    outOf(shop, ref, on),
  ),
  supplyHere: inShop(z.strictObject({ ref: supplyRef }), (shop, { ref }) => hereAgain(shop, ref)),
  supplyRemove: inShop(z.strictObject({ id }), (shop, input) => takeOffList(shop, input.id)),
  lumberHere: inShop(z.strictObject({ id }), (shop, input) => lumberHere(shop, input.id)),
  lumberNotYet: inShop(z.strictObject({ id, on: day }), (shop, input) => lumberNotYet(shop, input.id, input.on)),
  lumberRested: inShop(z.strictObject({ id }), (shop, input) => lumberRested(shop, input.id)),
  lumberFrom: inShop(
    z.strictObject({ id, from: lumberSource, expectedOn: day.nullable() }),
    (shop, { id: order, ...said }) => lumberFrom(shop, order, said),
  ),
  commissionCallOff: inShop(z.strictObject({ id, why: text.default('') }), (shop, input) =>
    callOff(shop, input.id, input.why),
  ),
  commissionReopen: inShop(z.strictObject({ id }), (shop, input) => reopen(shop, input.id)),
  commissionTold: inShop(z.strictObject({ id }), (shop, input) => told(shop, input.id)),
  commissionRemind: inShop(z.strictObject({ id, day: day.nullable() }), (shop, input) =>
    remind(shop, input.id, input.day),
  ),
  pieceHandOver: inShop(z.strictObject({ id, pieceId: id }), (shop, input) =>
    handOverPiece(shop, input.id, input.pieceId),
  ),
  papers: inShop(z.strictObject({ id }), async (shop, input) => ok(await paperRows(shop, input.id))),
  paper: inShop(z.strictObject({ id }), (shop, input) => issuedPaper(shop, input.id)),
  paperPreview: inShop(z.strictObject({ id, form: paperForm }), (shop, input) =>
    previewPaper(shop, input.id, input.form),
  ),
  paperIssue: inShop(z.strictObject({ id, form: paperForm }), (shop, input) => issue(shop, input.id, input.form)),
  moneyEnter: inShop(z.strictObject({ id, money }), (shop, input) => enterPayment(shop, input.id, input.money)),
  moneyTakeBack: inShop(z.strictObject({ id, entryId: z.string().min(1).max(80) }), (shop, input) =>
    takeBackMoney(shop, input.entryId, input.id),
  ),
  commissionHandOver: inShop(z.strictObject({ id }), (shop, input) => handOver(shop, input.id)),

  almanac: inShop(noInput, ({ almanac }) =>
    ok({ almanac, facts: almanacFacts(almanac, startingLike(almanac)) } satisfies AlmanacView),
  ),
  almanacChangeFact: inShop(
    z.strictObject({ key: z.string().max(200), input: z.string().max(400) }),
    (shop, { key, input }) => changeOneFact(shop, key, input),
  ),
  almanacSave: inShop(listed, saveListed),
  almanacRemove: inShop(z.strictObject({ list: z.enum(lists), id: listedId }), (shop, { list, id: thing }) =>
    removeListed(shop, list, thing),
  ),

  tally: inShop(noInput, async (shop) => ok(await tallyView(shop))),

  yourTimes: inShop(noInput, async (shop) => ok(await yourTimesView(shop))),
  timeUse: inShop(
    z.strictObject({ operation: id, use: z.enum(['mine', 'book', 'undecided']) }),
    (shop, { operation, use }) => useTime(shop, operation, use),
  ),
  yourWaits: inShop(noInput, async (shop) => ok(await yourWaits(shop))),
  waitUse: inShop(
    z.strictObject({ product: id, wait: z.enum(['curing', 'drying', 'resting']), use: z.enum(['own', 'label']) }),
    (shop, { product, wait, use }) => useWait(shop, product, wait, use),
  ),
  timesFollow: inShop(z.strictObject({ follow: z.enum(['by-themselves', 'when-accepted']) }), (shop, { follow }) =>
    followTimes(shop, follow),
  ),
  entryChoose: inShop(
    z.strictObject({ stepId: id, choice: z.enum(['count', 'leave-out', 'as-found']) }),
    (shop, { stepId, choice }) => chooseEntry(shop, stepId, choice),
  ),
  timesAsked: inShop(z.strictObject({ answers: z.record(id, short) }), (shop, { answers }) =>
    answerAsked(shop, answers),
  ),

  timber: inShop(z.strictObject({ askedAbout: z.boolean() }), async (shop, { askedAbout }) => {
    const work = await timberWork(shop, askedAbout)
    return work.ok ? ok(timberView(work.value, await allBoards(shop.db), shop.locale)) : work
  }),
  boardsAdd: inShop(z.strictObject({ board, count: short, photo }), (shop, input) =>
    putOnHand(shop, input.board, input.count, input.photo),
  ),
  boardChange: inShop(z.strictObject({ id, board, photo }), (shop, input) =>
    changeOnHand(shop, input.id, input.board, input.photo),
  ),
  boardUsedUp: inShop(z.strictObject({ id }), (shop, input) => useUp(shop, input.id)),
  boardCut: inShop(z.strictObject({ id, askedAbout: z.boolean(), shown: short }), (shop, input) =>
    cutAsPlanned(shop, input.id, input.askedAbout, input.shown),
  ),
  photo: inShop(z.strictObject({ id }), async (shop, input): Promise<Result<PhotoView>> => {
    const found = await photoById(shop.db, input.id)
    if (found === null) return failed(problem('photo-missing', 'This photo is not in the shop’s file.'))
    return ok({ mediaType: found.mediaType, base64: Buffer.from(found.bytes).toString('base64') })
  }),

  constructionDrafts: inShop(noInput, async (shop) => ok(await constructionDrafts(shop))),
  constructionDraftSave: inShop(constructionDraft, async (shop, input) => {
    await keepConstructionDraft(shop, input)
    return ok(null)
  }),
  constructionDraftDrop: inShop(z.strictObject({ key: id }), async (shop, { key }) => {
    await dropConstructionDraft(shop, key)
    return ok(null)
  }),
  constructionTry: inShop(constructionDraft.omit({ key: true }), tryConstruction),

  year: inShop(z.strictObject({ year: calendarYear.nullable() }), async (shop, { year }) =>
    ok(await yearView(shop, year)),
  ),
  yearFigure: inShop(
    z.strictObject({ year: calendarYear, name: z.enum(YEAR_FIGURES), typed: z.string().max(40) }),
    (shop, { year, name, typed }) => changeYearFigure(shop, year, name, typed),
  ),
  yearTable: inShop(z.strictObject({ year: calendarYear }), async (shop, { year }) =>
    ok(csvFile(shop, `year-${year}`, await yearTable(shop, year))),
  ),
  owed: inShop(noInput, async (shop) => ok(await owedView(shop))),

  takeAlong: inShop(z.strictObject({ what: z.enum(TAKE_ALONG) }), async (shop, { what }) =>
    ok(await takeAlong(shop, what)),
  ),
  bringPart: procedure(
    z.strictObject({ id, index: z.int().min(0).max(mostParts), text: z.string().max(LARGEST_PART) }),
    (context, part) => context.safekeeping.takePart(part),
  ),
  bringIn: procedure(z.strictObject({ id, parts: z.int().min(1).max(mostParts) }), (context, { id: arrived, parts }) =>
    context.safekeeping.bringIn(arrived, parts),
  ),

  about: procedure(noInput, (context) => ok(aboutView(context.dataFolder))),

  backups: procedure(noInput, (context): Result<readonly BackupRow[]> => ok(context.safekeeping.list())),
  backupNow: procedure(noInput, (context): Promise<Result<BackupRow>> => context.safekeeping.make()),
  openBackup: procedure(z.strictObject({ file: z.string().max(200) }), (context, { file }) =>
    context.safekeeping.open(file),
  ),
  backupLacks: procedure(z.strictObject({ file: z.string().max(200) }), (context, { file }) =>
    context.safekeeping.lackingIn(file),
  ),
  openAgain: procedure(noInput, (context) => context.safekeeping.tryAgain()),
  beginAnew: procedure(noInput, (context) => context.safekeeping.beginAnew()),
  showDataFolder: procedure(noInput, (context) => context.safekeeping.showFolder()),
}

export type Procedures = typeof procedures

const testProcedure = proceduresOf<TestContext>()

/** What only a desk opened for tests can be asked besides. */
export const testProcedures = {
  testSetClock: testProcedure(z.strictObject({ now: z.iso.datetime({ offset: true }) }), async (context, { now }) => {
    context.clock.setMs(Date.parse(now))
    await context.tick()
    return ok(null)
  }),
  testNotice: testProcedure(
    z.strictObject({ id: z.string(), title: z.string(), body: z.string(), opens: z.string() }),
    (context, notice) => {
      context.tellNotice(notice)
      return ok(null)
    },
  ),
}

export type TestProcedures = typeof procedures & typeof testProcedures
