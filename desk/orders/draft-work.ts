import type { Almanac } from '../../core/almanac/almanac.ts'
import { readHome } from '../../core/almanac/home.ts'
import { shopFactsOf } from '../../core/almanac/shop-facts.ts'
import type { BookLag, BookStep, Commission, Customer, Piece } from '../../core/book/book.ts'
import { constructionOf } from '../../core/constructions/constructions.ts'
import { LIMITS } from '../../core/constructions/limits.ts'
import { buildLots, type LotsBuild } from '../../core/constructions/lots.ts'
import { depositOf } from '../../core/money/deposit.ts'
import type { Ppm } from '../../core/money/rate.ts'
import { readPrice } from '../../core/money/money.ts'
import { failed, ok, problem, within, type Problem, type Result } from '../../core/problems.ts'
import { LUMBER_AS_COUNTED, type Lumber } from '../../core/book/lumber.ts'
import { isDayOfThisAge, localDay, type LocalDay } from '../../core/time/local-day.ts'
import type { HomeAir } from '../../core/wood/seasons.ts'
import type { Draft, DraftPiece } from './draft.ts'

/** One piece of a draft that makes sense. */
export interface ReadPiece {
  readonly construction: string
  readonly spec: unknown
  readonly count: number
  readonly build: LotsBuild
  /** The same in the season of another instant, when the plan has it joined. */
  readonly buildAt: (builtAt: number) => LotsBuild
}

export interface ReadDraft {
  /** Everything that keeps it from being taken as an order; fields are paths into the draft. */
  readonly problems: readonly Problem[]
  /** By position in the draft; null where the piece does not make sense yet. */
  readonly pieces: readonly (ReadPiece | null)[]
  readonly neededBy: LocalDay | null
  /** When to call back about it. */
  readonly remindOn: LocalDay | null
  /** Climate at the customer’s; null: the almanac's home. */
  readonly home: HomeAir | null
  /** Where the wood comes from, as said with the order. */
  readonly lumber: Lumber
  readonly priceMinor: number | null
  /** Handed over with the order. */
  readonly paidMinor: number
}

const mostOfOne = 999

/** Reads what was typed, as if it were built at `now`: which pieces it means, and what is missing or wrong, each with its field. */
export function readDraft(draft: Draft, almanac: Almanac, now: number): ReadDraft {
  const problems: Problem[] = []
  const take = <T>(field: string, read: Result<T>): T | null => {
    if (read.ok) return read.value
    problems.push(...read.problems.map((each) => within(field, each)))
    return null
  }
  if (draft.customer.name.trim() === '') {
    problems.push(problem('missing', 'Who is it for? Type a name.', 'customer.name'))
  }
  if (draft.customer.reach.trim() === '') {
    problems.push(problem('missing', 'How can you reach them? Type a phone number or email.', 'customer.reach'))
  }
  if (draft.pieces.length === 0) problems.push(problem('missing', 'What are you making? Add a piece.', 'pieces'))
  const home = take('home', readHome(draft.home, almanac.shop.units))
  const pieces = readPieces(draft.pieces, (piece, index) =>
    take(`pieces.${index}`, readPiece(piece, almanac, now, home)),
  )
  problems.push(...pieces.problems)
  return {
    pieces: pieces.read,
    neededBy: take('neededBy', readDay(draft.neededBy)),
    remindOn: take('remindOn', readDay(draft.remindOn ?? '')),
    home,
    lumber: take('lumber', readLumber(draft.lumber, localDay(now, almanac.shop.timeZone))) ?? LUMBER_AS_COUNTED,
    priceMinor: draft.price.trim() === '' ? null : take('price', readPrice(draft.price, almanac.shop.currency)),
    paidMinor:
      draft.deposit.trim() === '' ? 0 : (take('deposit', readPrice(draft.deposit, almanac.shop.currency)) ?? 0),
    problems,
  }
}

/** Once an order is as large as can be worked out, what follows is not read at all. */
function readPieces(
  pieces: readonly DraftPiece[],
  read: (piece: DraftPiece, index: number) => ReadPiece | null,
): { readonly read: (ReadPiece | null)[]; readonly problems: readonly Problem[] } {
  let [steps, parts] = [0, 0]
  const isFull = (): boolean => steps > LIMITS.steps || parts > LIMITS.parts
  const made = pieces.map((piece, index) => {
    if (isFull()) return null
    const one = read(piece, index)
    for (const lot of one?.build.lots ?? []) steps += lot.steps.length
    for (const part of one?.build.parts ?? []) parts += part.quantity
    return isFull() ? null : one
  })
  return { read: made, problems: isFull() ? [tooLarge(steps, parts)] : [] }
}

const tooLarge = (steps: number, parts: number): Problem =>
  problem(
    'order-too-large',
    steps > LIMITS.steps
      ? `That makes ${steps} steps; one order takes ${LIMITS.steps}. Split it over several orders.`
      : `That makes ${parts} parts; one order takes ${LIMITS.parts}. Split it over several orders.`,
    'pieces',
  )

function readPiece(piece: DraftPiece, almanac: Almanac, now: number, home: HomeAir | null): Result<ReadPiece> {
  const construction = constructionOf(piece.construction, almanac.constructions)
  if (!construction) {
    const says =
      piece.construction === '' ? 'No construction of that name: choose the piece.' : 'Pick what you’re building.'
    return failed(problem('unknown-construction', says, 'construction'))
  }
  const facts = shopFactsOf(almanac, now, home)
  const count = readCount(piece.count)
  const spec = construction.read(piece.input, almanac.shop.units, facts)
  if (!count.ok || !spec.ok) {
    return failed(
      ...(count.ok ? [] : count.problems),
      ...(spec.ok ? [] : spec.problems.map((each) => within('input', each))),
    )
  }
  const build = buildLots(construction, spec.value, count.value, facts)
  if (!build.ok) return failed(...build.problems.map((each) => within('input', each)))
  return ok({
    construction: construction.id,
    spec: spec.value,
    count: count.value,
    build: build.value,
    buildAt: (builtAt) => {
      const again = buildLots(construction, spec.value, count.value, shopFactsOf(almanac, builtAt, home))
      return again.ok ? again.value : build.value
    },
  })
}

function readCount(text: string): Result<number> {
  const count = /^\d{1,3}$/.test(text.trim()) ? Number(text.trim()) : 0
  return count >= 1 && count <= mostOfOne
    ? ok(count)
    : failed(problem('count', `How many? Write a whole number from 1 to ${mostOfOne}.`, 'count'))
}

/** Where the wood comes from, as the form has it; a draft of before that was asked says nothing. */
export function readLumber(typed: Draft['lumber'], today: LocalDay): Result<Lumber> {
  if (typed === undefined || typed.from === 'counted' || typed.from === 'shop')
    return ok({ ...LUMBER_AS_COUNTED, from: typed?.from ?? 'counted' })
  const day = readDay(typed.expectedOn)
  if (!day.ok) return failed(...day.problems.map((each) => within('expectedOn', each)))
  if (day.value !== null && day.value < today)
    return failed(problem('past', 'That day is past: choose one from today on.', 'expectedOn'))
  if (day.value === null && typed.from === 'customer')
    return failed(problem('missing', 'When does the customer bring it? Choose a day.', 'expectedOn'))
  return ok({ ...LUMBER_AS_COUNTED, from: typed.from, expectedOn: day.value })
}

/** A day as the form gives it, `2026-12-12`; empty is none. */
export function readDay(text: string): Result<LocalDay | null> {
  const trimmed = text.trim()
  if (trimmed === '') return ok(null)
  return isDayOfThisAge(trimmed)
    ? ok(trimmed)
    : failed(problem('day', `“${trimmed}” is not a day: pick one, or type it like Dec 12.`))
}

/** What ids are made with; tests give their own. */
export type NewId = () => string

export interface DraftOrder {
  readonly commission: Omit<Commission, 'number'>
  readonly pieces: readonly Piece[]
  readonly steps: readonly BookStep[]
  readonly lags: readonly BookLag[]
}

/** The order that a draft means, with ids; only of a draft without problems. Also used for quoting, where nothing is stored. */
export function orderOf(
  draft: Draft,
  read: ReadDraft,
  decided: {
    readonly standing: 'asked-about' | 'agreed'
    readonly promisedFor: LocalDay | null
    readonly takenAtMin: number
    /** As the almanac has it; absent: what was paid is all that is asked. */
    readonly deposit?: DepositRule
  },
  newId: NewId,
): DraftOrder {
  const commissionId = newId()
  const made = read.pieces.flatMap((piece, position) =>
    piece === null ? [] : [bookPiece(piece, position, commissionId, newId)],
  )
  return {
    commission: {
      id: commissionId,
      customer: customerOf(draft, newId),
      takenWhere: draft.takenWhere,
      onHoldUntil: null,
      onHoldWhy: '',
      neededBy: read.neededBy,
      neededWhy: draft.neededWhy.trim(),
      weight: 1,
      notes: draft.notes.trim(),
      home: read.home,
      priceMinor: read.priceMinor,
      depositMinor: agreedDeposit(read, decided.deposit),
      untaxedWhy: '',
      extraLines: [],
      lumber: read.lumber,
      ...{ remindOn: read.remindOn, toldOn: null, closedFrom: null, closedWhy: '', keptMinor: null },
      belongsTo: draft.again === undefined ? null : { commissionId: draft.again, as: draft.againAs ?? 'again' },
      giftFor: draft.giftFor?.trim() ?? '',
      giftAddress: draft.giftAddress?.trim() ?? '',
      standing: decided.standing,
      promisedFor: decided.promisedFor,
      takenAtMin: decided.takenAtMin,
    },
    pieces: made.map(({ piece }) => piece),
    steps: made.flatMap(({ steps }) => steps),
    lags: made.flatMap(({ lags }) => lags),
  }
}

/** Share of the price and the step it goes up to. */
interface DepositRule {
  readonly share: Ppm | null
  readonly stepMinor: number
}

const agreedDeposit = ({ priceMinor, paidMinor }: ReadDraft, rule: DepositRule | undefined): number =>
  rule === undefined || rule.share === null || priceMinor === null
    ? paidMinor
    : Math.max(paidMinor, depositOf(priceMinor, rule.share, rule.stepMinor))

const customerOf = ({ customer }: Draft, newId: NewId): Customer => ({
  id: customer.id ?? newId(),
  name: customer.name.trim(),
  reach: customer.reach.trim(),
  secondReach: customer.secondReach.trim(),
  address: customer.address.trim(),
  allergies: customer.allergies.trim(),
  childUnder3: customer.childUnder3,
  notes: customer.notes?.trim() ?? '',
})

function bookPiece(
  read: ReadPiece,
  position: number,
  commissionId: string,
  newId: NewId,
): { readonly piece: Piece; readonly steps: readonly BookStep[]; readonly lags: readonly BookLag[] } {
  const { build } = read
  const pieceId = newId()
  const ids = new Map<string, string>()
  let order = 0
  const steps = build.lots.flatMap((lot, index) =>
    lot.steps.map((step): BookStep => {
      const id = newId()
      ids.set(`${index}/${step.key}`, id)
      return {
        ...step,
        id,
        pieceId,
        commissionId,
        position: order++,
        lot: index + 1,
        lots: build.lots.length,
        lotCount: lot.count,
      }
    }),
  )
  const lags = build.lots.flatMap((lot, index) =>
    lot.lags.map((lag): BookLag => ({
      ...lag,
      pieceId,
      fromStep: known(ids, index, lag.from),
      toStep: known(ids, index, lag.to),
    })),
  )
  const piece = {
    id: pieceId,
    commissionId,
    position,
    construction: read.construction,
    title: build.title,
    count: read.count,
    spec: read.spec,
  }
  return { piece, steps, lags }
}

function known(ids: ReadonlyMap<string, string>, lot: number, key: string): string {
  const id = ids.get(`${lot}/${key}`)
  if (id === undefined) throw new Error(`A lag names the step ${key}, which is not in its lot.`)
  return id
}
