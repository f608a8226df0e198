import { z } from 'zod'
import { type Result, failed, ok, problem } from '../../core/problems.ts'
import type { OfferTaken } from '../../core/book/promise.ts'
import { commissionNumbered } from '../../db/commissions.ts'
import { draftById, dropDraft, saveDraft } from '../../db/drafts.ts'
import { ALMANAC_HOME } from '../../core/almanac/home.ts'
import { agree, changeByHand, handOver, resume } from './change-commission.ts'
import { changeBegun, compareChange } from './change-order.ts'
import { keepChange } from './keep-change.ts'
import { callOff, handOverPiece, putOnHold, remind, reopen, told } from './standing-of-order.ts'
import { findCustomers } from './known-customers.ts'
import { noInput } from '../procedure.ts'
import { inquiryQuote } from './inquiry-quote.ts'
import { draftName, orderDrafts } from './order-drafts.ts'
import { madeBefore, makeAgain } from './repeat-order.ts'
import { quoteDraft } from './quote-draft.ts'
import { takeOrder } from './take-order.ts'
import { day, fewFields, id, lumberSource, short, specInput, text, tooManyFields } from '../forms.ts'
import { inShop } from '../in-shop.ts'
import type { Draft } from './draft.ts'

const minorUnits = z.int().min(0).max(1_000_000_000)

const signedMinorUnits = z.int().min(-1_000_000_000).max(1_000_000_000)

const typedAir = z.strictObject({ temperature: z.string().max(40), humidity: z.string().max(40) })

const typedHome = z.strictObject({ kind: z.string().max(40), driest: typedAir, dampest: typedAir })

const air = z.strictObject({ celsius: z.number().min(-30).max(50), rh: z.number().min(0.01).max(1) })

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
        of: id.optional(),
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

/** Which of the orders being typed; absent: the first, as drafts had it that had no key of their own yet. */
const draftKey = z
  .string()
  .regex(/^([\w-]{8,64})?$/)
  .default('')

/** What was kept as a draft, where it still is one. */
function readDraftKept(content: unknown): Draft | null {
  const read = draft.safeParse(content)
  return read.success ? read.data : null
}

const earlierOrder = z.union([z.strictObject({ id }), z.strictObject({ number: z.int().min(1) })])

/** Which offer a chosen day came from. */
const offerTaken = z.strictObject({
  kind: z.enum(['keeps-every-promise', 'soonest', 'with-more', 'own-day']),
  takes: z.string().max(200),
}) satisfies z.core.$ZodType<OfferTaken>

/** Steps with work of which the maker says against the rule whether they count, by id. */
const workSaid = z.record(id, z.boolean()).refine(fewFields, tooManyFields).default({})

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

/** Orders: being typed, taken, changed, ended. */
export const ordersProcedures = {
  customers: inShop(
    z.strictObject({
      sought: z.string().max(200),
      within: z.enum(['who', 'all']),
      count: z.int().min(1).max(10_000),
    }),
    async (shop, input) => ok(await findCustomers(shop, input)),
  ),
  orderNumbered: inShop(z.strictObject({ number: z.int().min(1).max(999_999_999) }), async (shop, { number }) => {
    const found = await commissionNumbered(shop.db, number)
    return found === null
      ? failed(problem('unknown-commission', `No order has number ${number}.`, 'number'))
      : ok({ id: found })
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
  commissionAgree: inShop(
    z.strictObject({
      id,
      promisedFor: z.union([z.literal('as-quoted'), day]).nullable(),
    }),
    (shop, input) => agree(shop, input.id, input.promisedFor),
  ),
  inquiryQuote: inShop(z.strictObject({ id }), async (shop, input) => ok(await inquiryQuote(shop, input.id))),
  changeBegin: inShop(z.strictObject({ id }), (shop, input) => changeBegun(shop, input.id, readDraftKept)),
  changeCompare: inShop(
    z.strictObject({ id, draft, said: workSaid, asked: z.enum(['dates', 'odds']) }),
    (shop, input) => compareChange(shop, input.id, input.draft, input),
  ),
  changeKeep: inShop(
    z.strictObject({
      id,
      draft,
      said: workSaid,
      askedBy: z.enum(['customer', 'maker']),
      why: text,
      promise: z.union([z.enum(['as-it-is', 'as-quoted', 'none']), day]),
    }),
    (shop, { id: commissionId, draft: typed, ...keeping }) => keepChange(shop, commissionId, typed, keeping),
  ),
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
  commissionCallOff: inShop(
    z.strictObject({ id, why: text.default(''), keep: z.string().max(40).default('') }),
    (shop, { id: commissionId, ...close }) => callOff(shop, commissionId, close),
  ),
  commissionReopen: inShop(z.strictObject({ id }), (shop, input) => reopen(shop, input.id)),
  commissionTold: inShop(z.strictObject({ id }), (shop, input) => told(shop, input.id)),
  commissionRemind: inShop(z.strictObject({ id, day: day.nullable() }), (shop, input) =>
    remind(shop, input.id, input.day),
  ),
  pieceHandOver: inShop(z.strictObject({ id, pieceId: id }), (shop, input) =>
    handOverPiece(shop, input.id, input.pieceId),
  ),
  commissionHandOver: inShop(z.strictObject({ id }), (shop, input) => handOver(shop, input.id)),
}
