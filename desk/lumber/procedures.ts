import { z } from 'zod'
import { type Result, failed, ok, problem } from '../../core/problems.ts'
import type { BoardInput } from '../../core/timber/read-board.ts'
import { allBoards } from '../../db/boards.ts'
import { photoById } from '../../db/photos.ts'
import { changeOnHand, cutAsPlanned, freeOf, putOnHand, useUp } from './change-boards.ts'
import { hereAgain, outOf, saveStock, takeOffList } from './change-supplies.ts'
import { milledBoards, takeAsCut, woodOffList } from './milled-boards.ts'
import { lumberFrom, lumberHere, lumberNotYet, lumberRested } from './say-lumber.ts'
import { LARGEST_PHOTO, type PhotoInput } from '../orders/read-photo.ts'
import { cuttingPlanView, timberView, woodToCutView } from '../screens/timber.ts'
import { suppliesLeft } from './supplies-left.ts'
import { cuttingWork, timberWork } from './timber-work.ts'
import { day, id, listedId, lumberSource, short, text } from '../forms.ts'
import { inShop } from '../in-shop.ts'

/** A photo as a page shows it. */
export interface PhotoView {
  readonly mediaType: string
  readonly base64: string
}

/** A product of the almanac, or a supply by its id; an empty id is a new one. */
const supplyRef = z.union([z.strictObject({ productId: listedId }), z.strictObject({ id: listedId })])

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

/** Whether orders count that were only asked about. */
const whichOrders = z.strictObject({ askedAbout: z.boolean() })

/** Lumber, boards and supplies. */
export const lumberProcedures = {
  milledBoards: inShop(z.strictObject({ stepId: id }), (shop, { stepId }) => milledBoards(shop, stepId)),
  boardsMilled: inShop(
    z.strictObject({ stepId: id, boards: z.array(id).min(1).max(99).readonly() }),
    (shop, { stepId, boards }) => takeAsCut(shop, stepId, boards),
  ),
  woodOffList: inShop(z.strictObject({ stepId: id }), (shop, { stepId }) => woodOffList(shop, stepId)),
  boardsFree: inShop(z.strictObject({ id }), (shop, input) => freeOf(shop, input.id)),
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
  timber: inShop(
    z.strictObject({ ...whichOrders.shape, lines: z.int().min(1).max(100_000) }),
    async (shop, { askedAbout, lines }) => {
      const left = await suppliesLeft(shop)
      return ok(timberView(timberWork(shop.moment(), askedAbout), left, lines))
    },
  ),
  // These two wait for the cutting plan.
  woodToCut: inShop(whichOrders, async (shop, { askedAbout }) => {
    const work = await cuttingWork(shop, askedAbout)
    return work.ok ? ok(woodToCutView(work.value, await allBoards(shop.db), shop.locale)) : work
  }),
  cuttingPlan: inShop(whichOrders, async (shop, { askedAbout }) => {
    const work = await cuttingWork(shop, askedAbout)
    return work.ok ? ok(cuttingPlanView(work.value)) : work
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
}
