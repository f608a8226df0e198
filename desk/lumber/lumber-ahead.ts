import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import type { Almanac } from '../../core/almanac/almanac.ts'
import type { Book, BookStep, Commission, Piece } from '../../core/book/book.ts'
import { lumberAhead, type LumberAhead, type OnHand } from '../../core/book/lumber.ts'
import type { SupplyHold } from '../../core/book/planning-setting.ts'
import type { Supply } from '../../core/book/supplies.ts'
import type { StepProgress } from '../../core/book/step-progress.ts'
import type { Part } from '../../core/constructions/construction.ts'
import { constructionOfPiece } from '../../core/constructions/constructions.ts'
import type { PartToCut } from '../../core/timber/cutting-model.ts'
import { cuttingRules } from '../../core/timber/cutting-rules.ts'
import { partsToCut } from '../../core/timber/parts-to-cut.ts'
import { NOTHING_TAKEN, type WoodTaken } from '../../core/timber/wood-taken.ts'
import { whyShort } from '../../core/timber/why-short.ts'
import { woodOnHand, type WoodServed } from '../../core/timber/wood-on-hand.ts'
import { daysLater, localDay, startOfLocalDay, type LocalDay } from '../../core/time/local-day.ts'
import { writeLocalDay } from '../../core/time/write-instant.ts'
import type { Board, PartCut } from '../../db/boards.ts'
import { boardToCut } from './board-to-cut.ts'

/** What the shop has of wood. */
export interface LumberStock {
  readonly boards: readonly Board[]
  readonly cut: readonly PartCut[]
  /** Some board was listed, now or once. */
  readonly everListed: boolean
  /** Glue, finish and hardware that is kept count of. */
  readonly supplies: readonly Supply[]
  /** What the wood that is gone cost. */
  readonly taken: WoodTaken
}

export const NO_STOCK: LumberStock = { boards: [], cut: [], everListed: false, supplies: [], taken: NOTHING_TAKEN }

/** The wood of one order that has steps left which take it. */
export interface OrderLumber {
  readonly ahead: LumberAhead
  /** Woods that the boards on hand do not give: "maple (your 8/4 is too thin, this needs 10/4)". */
  readonly missing: readonly string[]
  /** "Lumber: Sat, Dec 5, then 7 days to rest"; null: it may be cut. */
  readonly text: string | null
}

export interface LumberOutlook {
  readonly ofOrder: (commissionId: string) => OrderLumber | null
  readonly holdOf: (stepId: string) => SupplyHold | null
}

/** Steps of one lot that take wood together, with what they take. */
interface Milling {
  readonly step: BookStep
  readonly commission: Commission
  readonly parts: readonly PartToCut[]
}

/**
 * Whose wood is there, and when the rest comes: by what people said of the order, else by the boards on hand. Whoever ordered first has the
 * first claim on them.
 */
export function lumberOutlook(
  book: Pick<Book, 'commissions' | 'pieces' | 'steps' | 'lags'>,
  progress: ReadonlyMap<string, StepProgress>,
  stock: LumberStock,
  { almanac, now, locale }: { readonly almanac: Almanac; readonly now: number; readonly locale: string },
): LumberOutlook {
  const { timeZone } = almanac.shop
  const today = localDay(now, timeZone)
  const millings = millingsOf(book, progress, stock, almanac)
  const counts = almanac.countLumber === 'always' || (almanac.countLumber === 'when-listed' && stock.everListed)
  const onHand = counts ? countedOnHand(millings, stock, almanac, today) : () => ENOUGH
  const holds = new Map<string, SupplyHold>()
  const orders = new Map<string, OrderLumber>()
  for (const { step, commission, parts } of millings) {
    const served = onHand(step.id)
    const ahead = lumberAhead(commission.lumber, served.onHand, {
      takenOn: localDay(commission.takenAtMin, timeZone),
      ...{ today, habits: almanac },
    })
    const text = lumberText(ahead, today, almanac.restDays, locale)
    const before = orders.get(commission.id)
    const missing =
      commission.lumber.from === 'counted' ? served.missing.map((wood) => shortOf(wood, parts, stock, almanac)) : []
    orders.set(commission.id, {
      ...(before === undefined || isLater(ahead, before.ahead) ? { ahead, text } : before),
      missing: [...new Set([...(before?.missing ?? []), ...missing])],
    })
    if (text !== null && (progress.get(step.id)?.kind ?? 'to-do') === 'to-do')
      holds.set(step.id, { until: cutFrom(ahead, timeZone), why: text })
  }
  return { ofOrder: (id) => orders.get(id) ?? null, holdOf: (id) => holds.get(id) ?? null }
}

function shortOf(wood: string, parts: readonly PartToCut[], { boards }: LumberStock, almanac: Almanac): string {
  const name = almanac.woods.find(({ id }) => id === wood)?.name ?? wood
  const why = whyShort(
    parts.filter((part) => part.wood === wood),
    boards.filter((board) => board.wood === wood),
    cuttingRules(almanac.allowances),
    almanac.yard,
    almanac.shop.units,
  )
  return why === null ? name : `${name} (${why})`
}

const ENOUGH: Served = { onHand: 'enough', missing: [] }

interface Served {
  readonly onHand: OnHand
  readonly missing: readonly string[]
}

const cutFrom = (ahead: LumberAhead, timeZone: string): number | null =>
  'cutFrom' in ahead ? startOfLocalDay(ahead.cutFrom, timeZone) : null

/** How far away the first cut is, for comparing. */
const isLater = (one: LumberAhead, other: LumberAhead): boolean => rank(one) > rank(other)
const rank = (ahead: LumberAhead): string => (ahead.kind === 'unknown' ? '~' : 'cutFrom' in ahead ? ahead.cutFrom : '')

/** What is said of it, as the start of a line. */
export function lumberText(ahead: LumberAhead, today: LocalDay, restDays: number, locale: string): string | null {
  const say = (day: LocalDay): string => (day === today ? 'today' : writeLocalDay(day, locale))
  switch (ahead.kind) {
    case 'ready':
      return null
    case 'unknown':
      return 'Customer’s lumber: no day set yet'
    case 'resting':
      return `Lumber rests until ${say(ahead.cutFrom)}`
    case 'coming': {
      const whose = ahead.from === 'customer' ? 'Customer’s lumber' : 'Lumber'
      const rest = restDays === 0 ? '' : `, then ${restDays} ${restDays === 1 ? 'day' : 'days'} to rest`
      return `${whose}: ${say(ahead.overdue ? today : ahead.on)}${rest}`
    }
  }
}

/** In the order in which they were ordered; those that are done or on hold take nothing. */
function millingsOf(
  { commissions, pieces, steps, lags }: Pick<Book, 'commissions' | 'pieces' | 'steps' | 'lags'>,
  progress: ReadonlyMap<string, StepProgress>,
  { cut }: LumberStock,
  almanac: Almanac,
): Milling[] {
  const cutOf = Map.groupBy(cut, (part) => `${part.pieceId}/${part.lot}`)
  const stepsOf = Map.groupBy(steps, (step) => `${step.pieceId}/${step.lot}`)
  const piecesOf = Map.groupBy(pieces, (piece) => piece.commissionId)
  const follows = new Set(lags.map((lag) => lag.toStep))
  return commissions
    .filter(({ standing, onHoldUntil }) => standing === 'agreed' && onHoldUntil === null)
    .flatMap((commission) =>
      (piecesOf.get(commission.id) ?? []).flatMap((piece) =>
        lotsOf(piece, stepsOf).flatMap(([id, own]) => {
          const parts = partsOfLot(piece, own[0]?.lotCount ?? piece.count, commission, almanac)
          const done = (step: BookStep): boolean => progress.get(step.id)?.kind === 'done'
          // What is built by a list of steps has no parts: its wood is taken by the steps that come first.
          if (parts === null || parts.length === 0)
            return own
              .filter((step) => !follows.has(step.id) && !done(step))
              .map((step) => ({ step, commission, parts: [] }))
          const byStep = Map.groupBy(parts, ({ milledIn = own[0]?.key }) => milledIn)
          return [...byStep].flatMap(([key, milled]) => {
            const step = own.find((one) => one.key === key)
            if (step === undefined || done(step)) return []
            const lot = { id: step.id, forPiece: '', parts: milled, cut: cutOf.get(id) ?? [] }
            return [{ step, commission, parts: partsToCut([lot], almanac.shop.units) }]
          })
        }),
      ),
    )
}

const lotsOf = (piece: Piece, stepsOf: ReadonlyMap<string, readonly BookStep[]>) =>
  [...stepsOf].filter(([id]) => id.startsWith(`${piece.id}/`))

/** The parts of each lot, worked out once: they follow from the spec alone, the season moves them by a hair that no board feels. */
const knownParts = new WeakMap<Almanac, Map<string, readonly Part[] | null>>()

export function partsOfLot(
  piece: Piece,
  count: number,
  commission: Commission,
  almanac: Almanac,
): readonly Part[] | null {
  const known = knownParts.get(almanac) ?? new Map<string, readonly Part[] | null>()
  knownParts.set(almanac, known)
  const key = JSON.stringify([piece.construction, piece.spec, count, commission.takenAtMin, commission.home])
  const before = known.get(key)
  if (before !== undefined) return before
  const facts = shopFactsOf(almanac, commission.takenAtMin, commission.home)
  const build = constructionOfPiece(piece)?.build(piece.spec, count, facts)
  const parts = build?.ok ? build.value.parts : null
  known.set(key, parts)
  return parts
}

/** The day on which a board may be cut; null: it may. One with a reading that the glue takes has rested, whenever it came. */
export function restsUntil({ hereSince, moisture }: Board, today: LocalDay, restDays: number): LocalDay | null {
  if (hereSince === null || (moisture !== null && moisture.pct <= RESTED_PCT)) return null
  const until = daysLater(hereSince, restDays)
  return until > today ? until : null
}

/** @source Franklin International, Product and Application Technical Guide I: 6-8 % for gluing */
const RESTED_PCT = 8

function countedOnHand(
  millings: readonly Milling[],
  { boards }: LumberStock,
  almanac: Almanac,
  today: LocalDay,
): (stepId: string) => Served {
  const asked = millings
    // What comes from the yard or the customer for an order, and is not here, takes nothing of the boards on hand.
    .filter(
      ({ commission: { lumber } }) => lumber.from === 'counted' || lumber.from === 'shop' || lumber.hereOn !== null,
    )
    .map(({ step, parts }) => ({ id: step.id, parts }))
  const resting = boards.filter((board) => restsUntil(board, today, almanac.restDays) !== null)
  const serve = (some: readonly Board[]): Map<string, WoodServed> => served(asked, some, almanac)
  const rested = serve(boards.filter((board) => !resting.includes(board)))
  const all = resting.length === 0 ? rested : serve(boards)
  return (stepId) => {
    if (rested.get(stepId)?.missing.length === 0) return ENOUGH
    const one = all.get(stepId)
    if (one === undefined || one.missing.length > 0) return { onHand: 'short', missing: one?.missing ?? [] }
    const own = resting.filter(({ id }) => one.boards.includes(id))
    const since = (own.length === 0 ? resting : own).flatMap(({ hereSince }) => hereSince ?? [])
    return { onHand: { restingSince: since.toSorted().at(-1) ?? today }, missing: [] }
  }
}

/** The last answers: every screen and every press asks again, mostly about the same. */
const lastServed = new WeakMap<Almanac, Map<string, Map<string, WoodServed>>>()
const KEPT = 6

function served(
  asked: readonly { readonly id: string; readonly parts: readonly PartToCut[] }[],
  boards: readonly Board[],
  almanac: Almanac,
): Map<string, WoodServed> {
  const onHand = boards.map(boardToCut)
  const key = JSON.stringify([asked, onHand])
  const known = lastServed.get(almanac) ?? new Map<string, Map<string, WoodServed>>()
  const answer =
    known.get(key) ??
    new Map(woodOnHand(asked, onHand, cuttingRules(almanac.allowances)).map((one) => [one.id, one] as const))
  lastServed.set(almanac, new Map([...[...known].filter(([other]) => other !== key).slice(1 - KEPT), [key, answer]]))
  return answer
}
