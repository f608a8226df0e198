import { createHash } from 'node:crypto'
import type { AlmanacFact } from '../../core/almanac/fact.ts'
import { almanacFacts } from '../../core/almanac/facts.ts'
import { priceKey } from '../../core/almanac/facts-of-yard.ts'
import type { Almanac } from '../../core/almanac/almanac.ts'
import { ALLOWANCE_SOURCES, YARD_SOURCES } from '../../core/almanac/defaults.ts'
import type { LengthUnits } from '../../core/lengths/length.ts'
import { writeFraction } from '../../core/almanac/read-figures.ts'
import { writeLength, writeSizes } from '../../core/lengths/write-length.ts'
import type { Currency } from '../../core/money/currency.ts'
import { typeMoney, writeMoney } from '../../core/money/money.ts'
import { consumablesNeeded } from '../../core/timber/consumables-needed.ts'
import { cutInWords } from '../../core/timber/cut-words.ts'
import type { BoardPlan } from '../../core/timber/cutting-model.ts'
import { boardWarnings, machineWarnings } from '../../core/timber/machine-limits.ts'
import { writeFlaws } from '../../core/timber/read-flaws.ts'
import { sawCautions } from '../../core/timber/saw-cautions.ts'
import { shoppingList } from '../../core/timber/shopping-list.ts'
import { timberTally } from '../../core/timber/timber-tally.ts'
import { costOfParts, type PartsCost } from '../../core/timber/wood-cost.ts'
import { boardFeet, boardFeetOf, cubicMetresOf, withWaste } from '../../core/wood/board-measure.ts'
import { planedOff, roughThicknessFor, writeRoughThickness } from '../../core/wood/rough-thickness.ts'
import type { Board } from '../../db/boards.ts'
import { lumberLines } from '../lumber/lumber-lines.ts'
import { restsUntil } from '../lumber/lumber-ahead.ts'
import type { PartWork, TimberWork } from '../lumber/timber-work.ts'
import { supplyLines } from './supplies.ts'
import type {
  BoardLine,
  ConsumableLine,
  CutBoard,
  MillGroup,
  MillLine,
  OrderWood,
  TimberView,
  ToBuy,
  WoodToBuy,
} from '../views.ts'

/** @param everBoards all boards the shop ever had, for what was paid */
export function timberView(work: TimberWork, everBoards: readonly Board[], locale: string): TimberView {
  const { plan, leftOut } = work
  const boards = plan.boards.map((board) => cutBoard(board, work)).toSorted(cutFirst)
  return {
    leftOut,
    toMill: millGroups(work),
    boards: work.boards.map((board) => boardLine(board, boards, work)),
    plan: boards,
    whyPlan: whyPlan(work),
    waiting: lumberLines(work.moment),
    missing: plan.missing.map(({ quantity, reason }) => `${quantity} × ${reason}`),
    toBuy: toBuy(boards, work, everBoards, locale),
  }
}

const unitsOf = ({ moment }: TimberWork): LengthUnits => moment.almanac.shop.units

/** On hand before to buy, then by when it is milled. */
const cutFirst = (a: CutBoard, b: CutBoard): number =>
  Number(a.number === null) - Number(b.number === null) ||
  (a.plannedAt ?? Infinity) - (b.plannedAt ?? Infinity) ||
  (a.number ?? 0) - (b.number ?? 0) ||
  a.wood.localeCompare(b.wood, 'en')

function millGroups(work: TimberWork): MillGroup[] {
  const { rules, parts } = work
  const { yard, shop } = work.moment.almanac
  const works = [...parts.values()]
  const roughOf = ({ cut }: PartWork) => roughThicknessFor(cut.thicknessNm, rules.planing, yard.thicknessesNm)
  const tally = timberTally(
    works.map(({ cut }) => cut),
    rules.planing,
    yard,
  )
  return tally.map(({ wood, roughNm, pieces, netNm3 }) => ({
    wood,
    rough: roughNm === null ? null : writeRoughThickness(roughNm, shop.units),
    pieces,
    boardFeet: boardFeetOf(netNm3),
    cubicMetres: cubicMetresOf(netNm3),
    why: [
      'Length times width of every part as cut, times the rough thickness they come out of, because that is what is paid for; 144 cubic inches are a board foot, 0.00236 m³. Without any waste.',
      roughNm === null
        ? 'Thicker than any rough thickness of the yard: to be glued up.'
        : `Rough thickness: the thinnest of ${thicknessesInWords(work)} that leaves the part after planing takes ${writeLength(planedOff(roughNm, rules.planing), unitsOf(work))} off both faces together (${ALLOWANCE_SOURCES.planeFaceNm}). Both are in the Almanac.`,
    ],
    lines: works.filter((one) => one.cut.wood === wood && roughOf(one) === roughNm).map((one) => millLine(one, work)),
  }))
}

const thicknessesInWords = ({ moment }: TimberWork): string =>
  moment.almanac.yard.thicknessesNm.map((nm) => writeRoughThickness(nm, moment.almanac.shop.units)).join(', ')

function millLine({ cut, part, work: lot }: PartWork, work: TimberWork): MillLine {
  const { allowances } = work.moment.almanac
  const units = unitsOf(work)
  const { lengthNm, widthNm, thicknessNm } = cut
  const { finished } = part
  const say = (nm: number): string => writeLength(nm, units)
  return {
    ...{ id: cut.id, name: cut.name, note: part.note ?? '', quantity: cut.quantity, lengthNm, widthNm, thicknessNm },
    piece: lot.lot.label,
    begun: lot.begun,
    plannedAt: lot.plannedAt,
    warnings: machineWarnings(cut, allowances, units),
    why: [
      `Finished it is ${writeSizes([finished.lengthNm, finished.widthNm, finished.thicknessNm], units)}; what later steps take off is on it until then.`,
      `Joint an edge ${say(allowances.jointEdgeNm)}, flattening a panel ${say(allowances.flattenPanelNm)}, an end-grain board ${say(allowances.flattenBoardNm)}, squaring an end ${say(allowances.squareEndNm)}; no part is shorter than the planer takes (${say(allowances.shortestPlanedNm)}) where it can be longer.`,
      'Allowances are those of the Almanac. Source: common practice, no source; the planer’s from the manual of a small planer.',
    ],
  }
}

/**
 * Stock for water-borne glue holds 6-8 %, 10 % at most.
 * @source Franklin International, Product and Application Technical Guide I; 6-10 % of their EPI guide is the outer limit
 */
const tooWetToGlue = (pct: number): string | null =>
  pct > 10 ? 'too wet to glue up: let it rest to 6-8%' : pct < 6 ? 'very dry: let it rest to 6-8%' : null

function boardLine(board: Board, plan: readonly CutBoard[], { moment }: TimberWork): BoardLine {
  const { id, number, wood, thicknessNm, widthNm, lengthNm, flaws, quality, place, priceMinor, cutFrom, photoId } =
    board
  const { units, currency } = moment.almanac.shop
  const planned = plan.find((one) => one.id === id)
  return {
    ...{ id, number, wood, thicknessNm, widthNm, lengthNm, flaws, quality, place, priceMinor, photoId },
    boardFeet: boardFeet(thicknessNm, widthNm, lengthNm),
    moisture: board.moisture && { ...board.moisture, tooWet: tooWetToGlue(board.moisture.pct) },
    restsUntil: restsUntil(board, moment.today, moment.almanac.restDays),
    boughtFor: moment.book.commissions.find((commission) => commission.id === board.boughtFor)?.number ?? null,
    cutFrom: cutFrom?.number ?? null,
    cutFor: planned === undefined ? [] : numbersOf(planned),
    input: {
      ...{ wood, quality, place },
      thickness: writeLength(thicknessNm, units),
      width: writeLength(widthNm, units),
      length: writeLength(lengthNm, units),
      flaws: writeFlaws(flaws, units),
      price: priceMinor === null ? '' : typeMoney(priceMinor, currency),
      moisture: board.moisture === null ? '' : String(board.moisture.pct),
      hereSince: board.hereSince ?? '',
    },
  }
}

const numbersOf = ({ list }: CutBoard): number[] =>
  [...new Set(list.map(({ piece }) => piece.number))].toSorted((a, b) => a - b)

function cutBoard(plan: BoardPlan, work: TimberWork): CutBoard {
  const { board, bought } = plan
  const units = unitsOf(work)
  const onHand = bought ? undefined : work.boards.find((one) => one.id === board.id)
  const { wood, thicknessNm, widthNm, lengthNm } = board
  const ids = [...new Set(plan.parts.map(({ part }) => part))]
  const letters = new Map(ids.map((id, index) => [id, letterOf(index)]))
  const works = ids.flatMap((id) => work.parts.get(id) ?? [])
  const area = widthNm * lengthNm
  const shareOf = (stretches: readonly { readonly lengthNm: number; readonly widthNm: number }[]): number =>
    stretches.reduce((sum, one) => sum + one.lengthNm * one.widthNm, 0) / area
  const starts = works.flatMap((one) => one.work.plannedAt ?? [])
  return {
    id: board.id,
    number: onHand?.number ?? null,
    ...{ wood, thicknessNm, widthNm, lengthNm },
    place: onHand?.place ?? '',
    flaws: board.defects,
    parts: plan.parts.map(({ part, ...stretch }) => ({ ...stretch, letter: letters.get(part) ?? '' })),
    offcuts: plan.offcuts,
    cuts: plan.cuts.map((cut, index) => ({ ...cut, number: index + 1, text: cutInWords(cut, units) })),
    list: works.map(({ cut, work: lot }) => ({
      letter: letters.get(cut.id) ?? '',
      name: cut.name,
      quantity: plan.parts.filter(({ part }) => part === cut.id).length,
      lengthNm: cut.lengthNm,
      widthNm: cut.widthNm,
      thicknessNm: cut.thicknessNm,
      piece: lot.lot.label,
    })),
    usedShare: shareOf(plan.parts),
    keptShare: shareOf(plan.offcuts),
    plannedAt: starts.length === 0 ? null : Math.min(...starts),
    warnings: boardWarnings(widthNm, work.moment.almanac.allowances, units),
    cautions: sawCautions(plan.cuts, [...plan.parts, ...plan.offcuts]),
    shown: stampOf(plan),
  }
}

/** A, B, ... Z, AA, AB, ... */
const letterOf = (index: number): string =>
  (index < 26 ? '' : letterOf(Math.floor(index / 26) - 1)) + String.fromCharCode(65 + (index % 26))

/** Tells one plan of a board from another. */
export const stampOf = (plan: BoardPlan): string =>
  createHash('sha256').update(JSON.stringify(plan)).digest('base64url').slice(0, 22)

function whyPlan(work: TimberWork): string[] {
  const { rules } = work
  const say = (nm: number): string => writeLength(nm, unitsOf(work))
  return [
    `The saw takes ${say(rules.kerfNm)} at each cut (${ALLOWANCE_SOURCES.sawKerfNm}), ${say(rules.squareEndNm)} is cut off each end (${ALLOWANCE_SOURCES.squareEndNm}), planing takes ${say(rules.planing.planeFaceNm)} off both faces, ${say(rules.planing.planeThickNm)} from 8/4 up (${ALLOWANCE_SOURCES.planeFaceNm}). All three are in the Almanac.`,
    'Every cut goes from edge to edge, the grain runs along each part, and no part lies over a length to avoid.',
    `An offcut of ${say(rules.usableLengthNm)} by ${say(rules.usableWidthNm)} or more counts as kept.`,
    'What is used and what is kept are shares of the board seen from above. The rest is kerf, ends, lengths to avoid and pieces too small to keep.',
    'Of some five hundred layouts for each wood that one is taken which leaves fewest parts without a board, then buys least, then uses up least wood. No board is bought whose parts find room on unused boards on hand and offcuts. There may be a better one.',
  ]
}

function toBuy(boards: readonly CutBoard[], work: TimberWork, everBoards: readonly Board[], locale: string): ToBuy {
  const { almanac } = work.moment
  const { yard, shop, woodPrices } = almanac
  const prices = new Map(work.boards.map(({ id, priceMinor }) => [id, priceMinor]))
  const cost = costOfParts(work.plan, {
    ofBoard: (id) => prices.get(id) ?? null,
    ofWood: (wood) => woodPrices[wood] ?? null,
    waste: yard.waste,
  })
  const lines = shoppingList(work.plan)
  const woods = [...new Set(lines.map(({ wood }) => wood))]
  const facts = new Map(almanacFacts(almanac, almanac).map((fact) => [fact.key, fact]))
  return {
    costMinor: cost.toBuy.size === 0 ? null : [...cost.toBuy.values()].reduce((sum, minor) => sum + minor, 0),
    woods: woods.flatMap((wood): WoodToBuy[] => {
      const own = lines.filter((line) => line.wood === wood)
      const price = facts.get(priceKey(wood))
      if (price === undefined) return []
      const volume = own.reduce((sum, line) => sum + line.volumeNm3, 0n)
      const costMinor = cost.toBuy.get(wood) ?? null
      return [
        {
          wood,
          price,
          costMinor,
          paid: paidInWords(
            everBoards.filter((board) => board.wood === wood),
            shop.currency,
            locale,
          ),
          lines: own.map((line) => ({
            rough: writeRoughThickness(line.thicknessNm, shop.units),
            thicknessNm: line.thicknessNm,
            widthNm: line.widthNm,
            lengthNm: line.lengthNm,
            count: line.count,
            boardFeet: boardFeetOf(line.volumeNm3),
            cutFor: cutForLine(line, boards),
            onlyFor: onlyOrder(cutForLine(line, boards), work),
          })),
          boardFeet: boardFeetOf(volume),
          withWasteBoardFeet: withWaste(boardFeetOf(volume), yard.waste),
          withWasteCubicMetres: withWaste(cubicMetresOf(volume), yard.waste),
          why: whyToBuy(volume, costMinor, price, almanac, locale),
        },
      ]
    }),
    orders: orderWoods(cost, work),
    whyOrders: [
      'A board on hand counts with its own price, one without as rough wood at the price of the Almanac; boards to buy count at that price, with the waste.',
      'What usable offcuts are worth stays with them, by their area. The rest of the board, kerfs and ends included, is shared out to its parts by their area.',
    ],
    consumables: consumableLines(work),
    supplies: supplyLines(
      consumablesNeeded(
        work.lots.flatMap((lot) => lot.consumed),
        almanac,
      ),
      work.moment,
    ),
    whyBoards: [
      `Sizes as the yard has them, from the Almanac: ${thicknessesInWords(work)} thick (${YARD_SOURCES.thicknessesNm}); ${inWords(yard.widthsNm, work)} wide (${YARD_SOURCES.widthsNm}); ${inWords(yard.lengthsNm, work)} long (${YARD_SOURCES.lengthsNm}).`,
      'What the boards on hand do not give is laid out on these, so the list is the part of the cutting plan that is not there yet.',
    ],
  }
}

const inWords = (sizesNm: readonly number[], work: TimberWork): string =>
  sizesNm.map((nm) => writeLength(nm, unitsOf(work))).join(', ')

const whyToBuy = (
  volume: bigint,
  costMinor: number | null,
  price: AlmanacFact,
  { yard, shop }: Almanac,
  locale: string,
): readonly string[] => {
  const feet = boardFeetOf(volume)
  const wasted = withWaste(feet, yard.waste)
  return [
    `${feet.toFixed(1)} board feet of boards as listed; ends, kerfs and offcuts are in them. ${writeFraction(yard.waste)} of what is bought is taken as lost to knots, checks and sapwood: ${feet.toFixed(1)} ÷ ${(1 - yard.waste).toFixed(2)} = ${wasted.toFixed(1)}. The share is in the Almanac; it starts from: ${YARD_SOURCES.waste}.`,
    'One board foot is 144 cubic inches, 0.00236 m³.',
    costMinor === null
      ? 'No price yet: ask the yard, and type it here or in the Almanac.'
      : `Cost: that much at ${price.value} ${shop.currency.code} ${price.unit}, the price in the Almanac, rounded once: ${writeMoney(costMinor, shop.currency, locale)}.`,
  ]
}

function orderWoods({ parts, unpriced }: PartsCost, work: TimberWork): OrderWood[] {
  const orders = new Map<string, { onHandMinor: number; toBuyMinor: number; unpriced: Set<string> } & OrderLabel>()
  for (const [id, { cut, work: lot }] of work.parts) {
    const { commissionId, number, customer } = lot.lot.label
    const order = orders.get(commissionId) ?? {
      ...{ commissionId, number, customer, onHandMinor: 0, toBuyMinor: 0 },
      unpriced: new Set<string>(),
    }
    order.onHandMinor += parts.get(id)?.onHand ?? 0
    order.toBuyMinor += parts.get(id)?.toBuy ?? 0
    if (unpriced.has(id)) order.unpriced.add(cut.wood)
    orders.set(commissionId, order)
  }
  return [...orders.values()]
    .map((order) => ({ ...order, unpriced: [...order.unpriced] }))
    .toSorted((a, b) => a.number - b.number)
}

type OrderLabel = Pick<OrderWood, 'commissionId' | 'number' | 'customer'>

const SQUARE_FEET_PER_SQUARE_METRE = 10.763910417

function consumableLines(work: TimberWork): ConsumableLine[] {
  const consumed = work.lots.flatMap((lot) => lot.consumed)
  const area = (squareMetres: number): string =>
    unitsOf(work) === 'inch'
      ? `${(squareMetres * SQUARE_FEET_PER_SQUARE_METRE).toFixed(1)} sq ft`
      : `${squareMetres.toFixed(2)} m²`
  return consumablesNeeded(consumed, work.moment.almanac).map(({ kind, product, name, squareMetres, quantity }) => ({
    ...{ kind, product, name },
    amount: quantity && { min: quantity.min, typical: quantity.typical, max: quantity.max },
    why: [
      kind === 'glue'
        ? `${area(squareMetres)} of joints in the glue-ups that are not done, each joint counted once.`
        : `${area(squareMetres)} of surface, all coats that are not on yet together.`,
      quantity === null
        ? 'How far it goes is not published for its kind: see the label.'
        : `How far it goes: ${quantity.source}. The label wins; end grain takes the upper figure and more.`,
      'What is on the shelf is not taken off, and nothing is added for what stays in the brush or the cup.',
    ],
  }))
}

const cutForLine = (
  line: { readonly wood: string; readonly thicknessNm: number; readonly widthNm: number; readonly lengthNm: number },
  boards: readonly CutBoard[],
): number[] => [
  ...new Set(
    boards
      .filter(
        (board) =>
          board.number === null &&
          board.wood === line.wood &&
          board.thicknessNm === line.thicknessNm &&
          board.widthNm === line.widthNm &&
          board.lengthNm === line.lengthNm,
      )
      .flatMap(numbersOf),
  ),
]

/** The one order that boards are bought for; null: several, they are for stock. */
const onlyOrder = (numbers: readonly number[], { moment }: TimberWork): string | null =>
  numbers.length === 1 ? (moment.book.commissions.find(({ number }) => number === numbers[0])?.id ?? null) : null

/** What was paid a board foot, over all boards bought with a price; null: none has one. */
function paidInWords(boards: readonly Board[], currency: Currency, locale: string): string | null {
  const priced = boards.filter((board) => board.priceMinor !== null && board.cutFrom === null)
  const feet = priced.reduce((sum, board) => sum + boardFeet(board.thicknessNm, board.widthNm, board.lengthNm), 0)
  if (feet === 0) return null
  const minor = Math.round(priced.reduce((sum, board) => sum + (board.priceMinor ?? 0), 0) / feet)
  return `${writeMoney(minor, currency, locale)} a board foot for ${priced.length === 1 ? 'one board' : `${priced.length} boards`}`
}
