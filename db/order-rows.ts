import type { BookLag, BookStep, Commission, Customer, Piece } from '../core/book/book.ts'
import type { NetworkHold } from '../core/constructions/step-network.ts'
import type { HomeAir } from '../core/wood/seasons.ts'
import type { CommissionRow, CustomerRow, LagRow, PieceRow, StepHoldRow, StepRow } from './order-tables.ts'
import { holdRow, lagRow, stepIdsByKey } from './network-rows.ts'

/** One commission with everything that belongs to it. */
export interface Order {
  readonly commission: Commission
  readonly pieces: readonly Piece[]
  readonly steps: readonly BookStep[]
  readonly lags: readonly BookLag[]
}

export interface OrderRows {
  readonly customer: readonly CustomerRow[]
  readonly commission: readonly CommissionRow[]
  readonly piece: readonly PieceRow[]
  readonly step: readonly StepRow[]
  readonly step_hold: readonly StepHoldRow[]
  readonly lag: readonly LagRow[]
}

/**
 * An order as rows.
 * @param lags as they are in the file: those that stay keep their numbers, so that what was done before can still be undone
 * @throws when a hold or lag names a step that is not there: a bug of whoever made the network
 */
export function rowsOfOrder(order: Order, lags: readonly LagRow[] = []): OrderRows {
  const stepIds = stepIdsByKey(order.steps)
  return {
    customer: [customerRow(order.commission.customer)],
    commission: [commissionRow(order.commission)],
    piece: order.pieces.map(pieceRow),
    step: order.steps.map(stepRow),
    step_hold: order.steps.flatMap((step) => step.holds.map((hold, at) => holdRow(step, hold, at, stepIds))),
    lag: numbered(order.lags, lags),
  }
}

/** In their order; numbers rise, but not one by one: what is gone leaves a gap. */
function numbered(lags: readonly BookLag[], stored: readonly LagRow[]): LagRow[] {
  const places = Map.groupBy(stored, sameLag)
  const last = new Map<string, number>()
  return lags.map((lag) => {
    const next = (last.get(lag.pieceId) ?? -1) + 1
    const own = places.get(sameLag(lagRow(lag, next)))?.filter(({ position }) => position >= next) ?? []
    const position = own.length === 0 ? next : Math.min(...own.map((row) => row.position))
    last.set(lag.pieceId, position)
    return lagRow(lag, position)
  })
}

/** Alike for lags that differ by nothing but their number. */
const sameLag = ({ position: _, ...row }: LagRow): string =>
  JSON.stringify(Object.entries(row).sort(([a], [b]) => (a < b ? -1 : 1)))

const customerRow = (customer: Customer): CustomerRow => ({
  id: customer.id,
  name: customer.name,
  reach: customer.reach,
  second_reach: customer.secondReach,
  address: customer.address,
  allergies: customer.allergies,
  child_under_3: customer.childUnder3,
  notes: customer.notes,
})

export const customerOf = (row: CustomerRow): Customer => ({
  id: row.id,
  name: row.name,
  reach: row.reach,
  secondReach: row.second_reach,
  address: row.address,
  allergies: row.allergies,
  childUnder3: row.child_under_3,
  notes: row.notes,
})

const commissionRow = (commission: Commission): CommissionRow => ({
  id: commission.id,
  number: commission.number,
  customer_id: commission.customer.id,
  taken_at_min: commission.takenAtMin,
  taken_where: commission.takenWhere,
  standing: commission.standing,
  on_hold_until: commission.onHoldUntil,
  on_hold_why: commission.onHoldWhy,
  needed_by: commission.neededBy,
  needed_why: commission.neededWhy,
  promised_for: commission.promisedFor,
  weight: commission.weight,
  notes: commission.notes,
  price_minor: commission.priceMinor,
  deposit_minor: commission.depositMinor,
  // Kept empty: how money was paid stands with each payment.
  deposit_how: '',
  untaxed_why: commission.untaxedWhy,
  extra_lines: JSON.stringify(commission.extraLines),
  home_dry_c: commission.home?.driest.celsius ?? null,
  home_dry_rh: commission.home?.driest.rh ?? null,
  home_damp_c: commission.home?.dampest.celsius ?? null,
  home_damp_rh: commission.home?.dampest.rh ?? null,
  lumber_from: commission.lumber.from,
  lumber_expected_on: commission.lumber.expectedOn,
  lumber_here_on: commission.lumber.hereOn,
  lumber_rested: commission.lumber.rested ? 1 : 0,
  remind_on: commission.remindOn,
  told_on: commission.toldOn,
  closed_from: commission.closedFrom,
  closed_why: commission.closedWhy,
  kept_minor: commission.keptMinor,
  belongs_to: commission.belongsTo?.commissionId ?? null,
  belongs_as: commission.belongsTo?.as ?? null,
  gift_for: commission.giftFor,
  gift_address: commission.giftAddress,
})

export const commissionOf = (row: CommissionRow, customer: Customer): Commission => ({
  id: row.id,
  number: row.number,
  customer,
  takenAtMin: row.taken_at_min,
  takenWhere: row.taken_where,
  standing: row.standing,
  onHoldUntil: row.on_hold_until,
  onHoldWhy: row.on_hold_why,
  neededBy: row.needed_by,
  neededWhy: row.needed_why,
  promisedFor: row.promised_for,
  weight: row.weight,
  notes: row.notes,
  home: homeOfRow(row),
  priceMinor: row.price_minor,
  depositMinor: row.deposit_minor,
  untaxedWhy: row.untaxed_why,
  extraLines: JSON.parse(row.extra_lines) as Commission['extraLines'],
  lumber: {
    from: row.lumber_from,
    expectedOn: row.lumber_expected_on,
    hereOn: row.lumber_here_on,
    rested: row.lumber_rested === 1,
  },
  remindOn: row.remind_on,
  toldOn: row.told_on,
  closedFrom: row.closed_from,
  closedWhy: row.closed_why,
  keptMinor: row.kept_minor,
  belongsTo: row.belongs_to === null ? null : { commissionId: row.belongs_to, as: row.belongs_as ?? 'again' },
  giftFor: row.gift_for,
  giftAddress: row.gift_address,
})

function homeOfRow(row: CommissionRow): HomeAir | null {
  const { home_dry_c, home_dry_rh, home_damp_c, home_damp_rh } = row
  if (home_dry_c === null || home_dry_rh === null || home_damp_c === null || home_damp_rh === null) return null
  return { driest: { celsius: home_dry_c, rh: home_dry_rh }, dampest: { celsius: home_damp_c, rh: home_damp_rh } }
}

const pieceRow = (piece: Piece): PieceRow => ({
  id: piece.id,
  commission_id: piece.commissionId,
  position: piece.position,
  construction: piece.construction,
  title: piece.title,
  count: piece.count,
  spec: JSON.stringify(piece.spec),
  handed_over_on: piece.handedOverOn ?? null,
})

export const pieceOf = (row: PieceRow): Piece => ({
  id: row.id,
  commissionId: row.commission_id,
  position: row.position,
  construction: row.construction,
  title: row.title,
  count: row.count,
  spec: JSON.parse(row.spec) as unknown,
  ...(row.handed_over_on === null ? {} : { handedOverOn: row.handed_over_on }),
})

const stepRow = (step: BookStep): StepRow => ({
  id: step.id,
  piece_id: step.pieceId,
  position: step.position,
  lot: step.lot,
  lots: step.lots,
  lot_count: step.lotCount,
  key: step.key,
  operation: step.operation,
  name: step.name,
  note: step.note,
  minutes: step.minutes,
  optimistic_min: step.optimisticMin,
  pessimistic_min: step.pessimisticMin,
  hands: step.hands,
  interruptible: step.interruptible ? 1 : 0,
  smallest_stretch_min: step.smallestStretchMin,
  dusty: step.dusty ? 1 : 0,
  tacky_min: step.tackyMin,
  tacky_product: step.tackyProduct,
  set_up_family: step.setUp?.family ?? null,
  set_up_min: step.setUp?.minutes ?? null,
  cautions: JSON.stringify(step.cautions),
  units: step.units?.count ?? null,
  unit_min: step.units?.eachMin ?? null,
  spread_min: step.spreadMin ?? null,
  lost: step.lost === true ? 1 : 0,
})

/** @param holds of this step, in order */
export const stepOf = (row: StepRow, commissionId: string, holds: readonly NetworkHold[]): BookStep => ({
  id: row.id,
  pieceId: row.piece_id,
  commissionId,
  position: row.position,
  lot: row.lot,
  lots: row.lots,
  lotCount: row.lot_count,
  key: row.key,
  operation: row.operation,
  name: row.name,
  note: row.note,
  minutes: row.minutes,
  optimisticMin: row.optimistic_min,
  pessimisticMin: row.pessimistic_min,
  units: row.units === null || row.unit_min === null ? null : { count: row.units, eachMin: row.unit_min },
  hands: row.hands,
  interruptible: row.interruptible === 1,
  smallestStretchMin: row.smallest_stretch_min,
  holds,
  dusty: row.dusty === 1,
  tackyMin: row.tacky_min,
  tackyProduct: row.tacky_product,
  setUp:
    row.set_up_family === null || row.set_up_min === null
      ? null
      : { family: row.set_up_family, minutes: row.set_up_min },
  cautions: JSON.parse(row.cautions) as string[],
  ...(row.spread_min === null ? {} : { spreadMin: row.spread_min }),
  ...(row.lost === 1 ? { lost: true } : {}),
})
