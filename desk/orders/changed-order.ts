import { isDeepStrictEqual } from 'node:util'
import type { Almanac } from '../../core/almanac/almanac.ts'
import { writeHome } from '../../core/almanac/home.ts'
import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import type { Book, BookStep, Piece } from '../../core/book/book.ts'
import { changedNetwork, lotCounts, lotsFor, type ChangeMeans } from '../../core/book/changed-network.ts'
import { withHandChanges } from '../../core/book/hand-changes-carried.ts'
import { withExtras } from '../../core/book/extras-carried.ts'
import { setAside } from '../../core/book/remake.ts'
import { untouched } from '../../core/book/step-progress.ts'
import { constructionOf, typedSpec } from '../../core/constructions/constructions.ts'
import type { LotBuild } from '../../core/constructions/lots.ts'
import type { ShopFacts } from '../../core/constructions/shop-facts.ts'
import { typeMoney } from '../../core/money/money.ts'
import { failed, ok, problem, type Problem, type Result } from '../../core/problems.ts'
import type { Order } from '../../db/commissions.ts'
import type { HandChanges } from './hand-changes.ts'
import type { ReadDraft, ReadPiece } from './draft-work.ts'
import { partsChanged } from './parts-changed.ts'
import { woodLostOf, type WoodLost } from './wood-lost.ts'
import type { Draft, DraftPiece } from './draft.ts'

/** An order as a draft would make it, and what becomes of the work that was done. */
export interface ChangedOrder {
  readonly order: Order
  /** Steps with work: those that count, those that are lost, and which of the lost ones the maker may say to count. */
  readonly counting: readonly string[]
  readonly lost: readonly string[]
  readonly mayCount: readonly string[]
  /** Lots whose wood was cut for nothing: of the parts of these names, null: of all of them. */
  readonly woodLost: readonly WoodLost[]
  /** Whether anything of the work is another, not only what was agreed about it. */
  readonly changesWork: boolean
}

/** An agreed order as its form holds it. Problem: `unreadable`. */
export function draftOfOrder({ commission, pieces }: Order, almanac: Almanac): Result<Draft> {
  const { units, currency } = almanac.shop
  const typed = pieces.map((piece): DraftPiece | null => typedPiece(piece, units))
  if (typed.some((piece) => piece === null))
    return failed(problem('unreadable', 'The sizes of a piece cannot be read: this order cannot be changed here.'))
  return ok({
    customer: commission.customer,
    takenWhere: commission.takenWhere,
    pieces: typed.filter((piece) => piece !== null),
    neededBy: commission.neededBy ?? '',
    neededWhy: commission.neededWhy,
    notes: commission.notes,
    home: writeHome(commission.home, units),
    price: commission.priceMinor === null ? '' : typeMoney(commission.priceMinor, currency),
    giftFor: commission.giftFor,
    giftAddress: commission.giftAddress,
    remindOn: commission.remindOn ?? '',
    ...{ deposit: '', depositHow: '' },
  })
}

function typedPiece(piece: Piece, units: ShopFacts['units']): DraftPiece | null {
  const input = typedSpec(piece, units)
  return input === null ? null : { construction: piece.construction, input, count: String(piece.count), of: piece.id }
}

/** Pieces of the draft that are as they were: nothing of their work changes, whatever the almanac says by now. */
export function untouchedPieces(draft: Draft, order: Order, units: ShopFacts['units']): ReadonlySet<number> {
  const asTyped = (piece: Piece): DraftPiece | null => typedPiece(piece, units)
  return new Set(
    draft.pieces.flatMap((piece, position) => {
      const old = order.pieces.find(({ id }) => id === piece.of)
      return old !== undefined && isDeepStrictEqual({ ...asTyped(old) }, { ...piece }) ? [position] : []
    }),
  )
}

/**
 * The order that a draft makes of it. Problems: those of the draft, but for pieces that are as they were; `handed-over` where a piece
 * that has left is to be another.
 */
export function changedOrder(
  before: Order,
  draft: Draft,
  read: ReadDraft,
  almanac: Almanac,
  now: number,
  means: ChangeMeans & { readonly byHand: HandChanges },
): Result<ChangedOrder> {
  const same = untouchedPieces(draft, before, almanac.shop.units)
  const problems = [...read.problems.filter(({ field }) => !isAbout(field, same)), ...handedOver(before, draft, same)]
  if (problems.length > 0) return failed(...problems)
  const facts = shopFactsOf(almanac, now, read.home)
  const made = draft.pieces.map((typed, position) => {
    const old = before.pieces.find(({ id }) => id === typed.of)
    const wanted = read.pieces[position] ?? null
    if (old !== undefined && same.has(position)) return asItWas(before, old, position)
    if (wanted === null) throw new Error('A piece of a draft without problems makes sense.')
    return anotherPiece(before, old, wanted, position, { almanac, facts, means })
  })
  const gone = before.pieces.filter(({ id }) => !made.some(({ piece }) => piece.id === id))
  const aside = workOfGone(before, gone, made[0], means)
  const steps = made.flatMap(({ steps }, at) => (at === 0 ? aside.steps : steps))
  return ok({
    order: {
      commission: {
        ...before.commission,
        customer: customerOf(before, draft),
        takenWhere: draft.takenWhere,
        neededBy: read.neededBy,
        neededWhy: draft.neededWhy.trim(),
        notes: draft.notes.trim(),
        home: read.home,
        priceMinor: read.priceMinor,
        remindOn: read.remindOn,
        giftFor: draft.giftFor?.trim() ?? '',
        giftAddress: draft.giftAddress?.trim() ?? '',
      },
      pieces: made.map(({ piece }) => piece),
      steps,
      lags: made.flatMap(({ lags }) => lags),
    },
    counting: made.flatMap(({ counting }) => counting),
    lost: [...made.flatMap(({ lost }) => lost), ...aside.lost],
    mayCount: made.flatMap(({ mayCount }) => mayCount),
    woodLost: [
      ...made.flatMap(({ woodLost }) => woodLost),
      ...gone.flatMap((piece) => lotsOf(before, piece).map((lot) => ({ pieceId: piece.id, lot, parts: null }))),
    ],
    changesWork: gone.length > 0 || made.some(({ isOther }) => isOther),
  })
}

const isAbout = (field: string | undefined, positions: ReadonlySet<number>): boolean => {
  const position = /^pieces\.(\d+)/.exec(field ?? '')?.[1]
  return position !== undefined && positions.has(Number(position))
}

function handedOver({ pieces }: Order, draft: Draft, same: ReadonlySet<number>): Problem[] {
  return pieces.flatMap((piece) => {
    const position = draft.pieces.findIndex(({ of }) => of === piece.id)
    return piece.handedOverOn === undefined || same.has(position)
      ? []
      : [
          problem(
            'handed-over',
            `${piece.title} is handed over: leave it as it is.`,
            position < 0 ? 'pieces' : `pieces.${position}`,
          ),
        ]
  })
}

/** Another name in this form is the same customer under another name, unless somebody else who is known was chosen. */
const customerOf = ({ commission }: Order, { customer }: Draft): Order['commission']['customer'] => ({
  id: customer.id ?? commission.customer.id,
  name: customer.name.trim(),
  reach: customer.reach.trim(),
  secondReach: customer.secondReach.trim(),
  address: customer.address.trim(),
  allergies: customer.allergies.trim(),
  childUnder3: customer.childUnder3,
  notes: customer.notes?.trim() ?? '',
})

/** The book with an order as it would be; what was only asked about counts as agreed, to have a date at all. */
export function bookWith(book: Book, order: Order): Book {
  const { id } = order.commission
  const pieces = new Set(book.pieces.filter(({ commissionId }) => commissionId === id).map((piece) => piece.id))
  const commission = { ...order.commission, standing: 'agreed' } as const
  return {
    ...book,
    commissions: book.commissions.map((each) => (each.id === id ? commission : each)),
    pieces: [...book.pieces.filter(({ commissionId }) => commissionId !== id), ...order.pieces],
    steps: [...book.steps.filter(({ commissionId }) => commissionId !== id), ...order.steps],
    lags: [...book.lags.filter(({ pieceId }) => !pieces.has(pieceId)), ...order.lags],
  }
}

interface BuildMeans {
  readonly almanac: Almanac
  readonly facts: ShopFacts
  readonly means: ChangeMeans & { readonly byHand: HandChanges }
}

const isToDo = (stepId: string, { progress }: ChangeMeans): boolean =>
  (progress.get(stepId) ?? untouched).kind === 'to-do'

interface MadePiece extends Pick<Order, 'steps' | 'lags'> {
  readonly piece: Piece
  readonly counting: readonly string[]
  readonly lost: readonly string[]
  readonly mayCount: readonly string[]
  readonly woodLost: ChangedOrder['woodLost']
  readonly isOther: boolean
}

const networkOf = ({ steps, lags }: Order, { id }: Piece): Pick<Order, 'steps' | 'lags'> => ({
  steps: steps.filter(({ pieceId }) => pieceId === id),
  lags: lags.filter(({ pieceId }) => pieceId === id),
})

const lotsOf = (order: Order, piece: Piece): number[] => [
  ...new Set(networkOf(order, piece).steps.map(({ lot }) => lot)),
]

const asItWas = (before: Order, piece: Piece, position: number): MadePiece => ({
  piece: { ...piece, position },
  ...networkOf(before, piece),
  ...{ counting: [], lost: [], mayCount: [], woodLost: [], isOther: false },
})

function anotherPiece(
  before: Order,
  old: Piece | undefined,
  now: ReadPiece,
  position: number,
  { almanac, facts, means }: BuildMeans,
): MadePiece {
  const piece: Piece = {
    ...{ id: old?.id ?? means.newId(), commissionId: before.commission.id, position },
    ...{ construction: now.construction, title: now.build.title, count: now.count, spec: now.spec },
  }
  const network = old === undefined ? { steps: [], lags: [] } : networkOf(before, old)
  // A lot that comes on top is made as the last one was.
  const lotsBefore = Math.max(1, ...network.steps.map(({ lot }) => lot))
  const next = { pieceId: piece.id, commissionId: piece.commissionId }
  const otherParts = old === undefined ? null : partsChanged(old, now, almanac, facts)
  const onTop = old === undefined ? null : lotsOnTop(network.steps, old.count, now, { almanac, facts, means })
  // Where nothing that was done counts, the lots are made as for a new order.
  const byHand = means.byHand.get(piece.id) ?? []
  const carried = (lots: readonly LotBuild[]): LotBuild[] =>
    lots.map((lot, index) =>
      withExtras(
        withHandChanges(
          lot,
          byHand.filter(({ lot: of }) => of === Math.min(index + 1, lotsBefore)),
        ),
        { ...network, steps: network.steps.filter((step) => step.lot === index + 1) },
      ),
    )
  const going = onTop === null ? null : changedNetwork(network, { ...next, lots: carried(onTop), otherParts }, means)
  const made =
    going !== null && (going.counting.length > 0 || going.mayCount.length > 0)
      ? going
      : changedNetwork(network, { ...next, lots: carried(now.build.lots), otherParts }, means)
  return {
    piece,
    steps: made.steps,
    lags: made.lags,
    counting: made.counting,
    lost: made.lost,
    mayCount: made.mayCount,
    woodLost: woodLostOf(piece.id, network.steps, made, otherParts),
    isOther: true,
  }
}

/** The lots that were begun go on, with their number of pieces; more pieces are lots of their own. Null: nothing was begun, or they do not fit. */
function lotsOnTop(
  steps: readonly BookStep[],
  pieces: number,
  { construction: id, spec, count }: ReadPiece,
  { almanac, facts, means }: BuildMeans,
): LotBuild[] | null {
  const construction = constructionOf(id, almanac.constructions)
  const live = steps.filter(({ lost }) => lost !== true)
  if (construction === undefined || live.every(({ id: step }) => isToDo(step, means))) return null
  const { lots, added } = lotsFor(lotCounts(live, pieces), count)
  const lot = (ofPieces: number): LotBuild | null => {
    const build = construction.build(spec, ofPieces, facts)
    return build.ok ? { count: ofPieces, steps: build.value.steps, lags: build.value.lags } : null
  }
  const built = [...lots, ...(added > 0 ? [added] : [])].map(lot)
  return built.some((each) => each === null) ? null : built.filter((each) => each !== null)
}

/** What was worked at pieces that are no longer wanted stays in the order, as lost steps of its first piece. */
function workOfGone(
  before: Order,
  gone: readonly Piece[],
  first: MadePiece | undefined,
  means: ChangeMeans,
): { readonly steps: readonly BookStep[]; readonly lost: readonly string[] } {
  if (first === undefined) return { steps: [], lost: [] }
  const worked = gone.flatMap((piece) =>
    networkOf(before, piece)
      .steps.filter(({ id, lost }) => lost === true || !isToDo(id, means))
      .map((step) => ({ step, piece })),
  )
  if (worked.length === 0) return { steps: first.steps, lost: [] }
  const keys = new Set(first.steps.map(({ key }) => key))
  const lots = first.steps[0]?.lots ?? 1
  const aside = worked.map(({ step, piece }) => ({
    ...setAside(step, keys),
    ...{ pieceId: first.piece.id, lot: 1, lots, note: `Was of ${piece.title}, no longer wanted.` },
  }))
  return {
    steps: [...aside, ...first.steps].map((step, position) => ({ ...step, position })),
    lost: worked.filter(({ step }) => step.lost !== true).map(({ step }) => step.id),
  }
}
