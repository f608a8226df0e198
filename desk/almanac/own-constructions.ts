import { ALMANAC_HOME } from '../../core/almanac/home.ts'
import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import { withListed } from '../../core/almanac/lists.ts'
import { makeConstruction } from '../../core/constructions/own/make-construction.ts'
import { readOwnConstruction } from '../../core/constructions/own/read-own-construction.ts'
import { isSuperseded, ok, type Result, type Problem } from '../../core/problems.ts'
import { drafts, dropDraft, saveDraft } from '../../db/drafts.ts'
import { orderOf, readDraft } from '../orders/draft-work.ts'
import type { OpenShop } from '../open-shop.ts'
import { pieceAnswer, workOf } from '../orders/quote-draft.ts'
import type { Draft } from '../orders/draft.ts'
import type { SpecInput } from '../../core/constructions/construction.ts'
import type { DraftPieceAnswer } from '../orders/draft-answer.ts'

/** A construction as it is being written down; `id` is empty for a new one, `key` tells the drafts apart. */
export interface ConstructionDraft {
  readonly key: string
  readonly id: string
  readonly input: SpecInput
}

/** What one piece of a construction comes to, with nothing else on the bench. */
export interface ConstructionTrial {
  readonly problems: readonly Problem[]
  readonly piece: DraftPieceAnswer
  /** First step and end; null while it does not make sense, or cannot be planned. */
  readonly startAt: number | null
  readonly doneAt: number | null
}

const draftName = (key: string): string => `construction/${key}`

/** Constructions that are being written down and were not saved yet, the last typed in first. */
export async function constructionDrafts(shop: OpenShop): Promise<ConstructionDraft[]> {
  const stored = await drafts(shop.db)
  return stored.flatMap(({ id, content }) =>
    id.startsWith(draftName(''))
      ? [{ ...(content as Omit<ConstructionDraft, 'key'>), key: id.slice(draftName('').length) }]
      : [],
  )
}

export const keepConstructionDraft = (shop: OpenShop, { key, ...content }: ConstructionDraft): Promise<void> =>
  saveDraft(shop.db, { id: draftName(key), content }, shop.nowMs)

export const dropConstructionDraft = (shop: OpenShop, key: string): Promise<void> => dropDraft(shop.db, draftName(key))

/** One piece of it with what its questions begin with, planned as if nothing else was on the bench. */
export async function tryConstruction(
  shop: OpenShop,
  { id, input }: Omit<ConstructionDraft, 'key'>,
): Promise<Result<ConstructionTrial>> {
  const { almanac } = shop
  const moment = shop.moment()
  const unplanned = { piece: pieceAnswer(null, [], moment), startAt: null, doneAt: null }
  const own = readOwnConstruction(input, id, almanac.constructions, shopFactsOf(almanac, shop.now))
  if (!own.ok) return ok({ ...unplanned, problems: own.problems })
  const starting = makeConstruction(own.value).starting(almanac.shop.units)
  const draft = exampleOrder({ construction: own.value.id, input: starting, count: '1' })
  const read = readDraft(draft, withListed(almanac, 'constructions', own.value), shop.now)
  const piece = read.pieces[0] ?? null
  // Nobody is named in it, but that is no fault of the construction.
  if (piece === null)
    return ok({ ...unplanned, problems: read.problems.filter(({ field }) => field?.startsWith('pieces.') === true) })

  let ids = 0
  const order = orderOf(
    draft,
    read,
    { standing: 'agreed', promisedFor: null, takenAtMin: moment.now },
    () => `example-${++ids}`,
  )
  const { newWork, clocks, standsStill } = workOf(order, moment)
  const unplannedPiece = { ...unplanned, piece: pieceAnswer(piece, [], moment) }
  if (standsStill !== null) return ok({ ...unplannedPiece, problems: [standsStill] })
  const { commission, steps, lags } = newWork
  const problem = { ...moment.asked.problem, clocks, commissions: [commission], steps, lags, announced: [] }
  const plan = await shop.planner.ask('example', { kind: 'example', problem })
  if (!plan.ok) return isSuperseded(plan) ? plan : ok({ ...unplannedPiece, problems: plan.problems })
  const times = new Map(plan.value.steps.map((step) => [step.id, step]))
  const planned = order.steps.map((step) => times.get(step.id) ?? null)
  const there = planned.filter((step) => step !== null)
  return ok({
    problems: [],
    piece: pieceAnswer(piece, planned, moment),
    startAt: there.length === 0 ? null : Math.min(...there.map(({ start }) => start)),
    doneAt: there.length === 0 ? null : Math.max(...there.map(({ end }) => end)),
  })
}

const exampleOrder = (piece: Draft['pieces'][number]): Draft => ({
  customer: { name: '', reach: '', secondReach: '', address: '', allergies: '', childUnder3: 'not-asked' },
  takenWhere: 'in-person',
  pieces: [piece],
  ...{ neededBy: '', neededWhy: '', notes: '', price: '', deposit: '', depositHow: '' },
  home: ALMANAC_HOME,
})
