import { dangersOf, type Operation } from '../../almanac/operations.ts'
import { problem } from '../../problems.ts'
import type { FreeListSpec, FreeRow } from './free-list-spec.ts'
import { addStep, directly, emptyNetwork, type Network, type PieceFacts, type StepDraft } from '../steps/network.ts'
import type { FinishFacts, GlueFacts, RangeMin, ShopFacts, StationFacts } from '../shop-facts.ts'
import type { NetworkHold, NetworkLag } from '../step-network.ts'

/** A row with the product that decides its waits, where that is known, and with what is unusual for its kind. */
export interface ListedRow extends FreeRow {
  readonly product?: RowProduct
  /** May stop at closing time; unsaid: work may, a glue-up and a coat may not. */
  readonly mayStop?: boolean
  /** What it takes `units` of; unsaid: clamps for a glue-up, the rack for a coat, nothing for work. */
  readonly takes?: keyof ShopFacts['stations']
  /** How long it takes them; unsaid: clamps until they come off, else until the next row starts. */
  readonly until?: 'end' | 'next'
  /** Operation whose standard time it takes; `minutes` is then how many of its units one piece has. */
  readonly standardTime?: Operation
  /** Least and most minutes for one piece; unsaid: as far apart as is usual for its kind. */
  readonly spread?: { readonly leastMin: number; readonly mostMin: number }
  /** Setup that rows of one family share. */
  readonly setUp?: { readonly family: string; readonly minutes: number }
}

export type RowProduct =
  { readonly kind: 'glue'; readonly glue: GlueFacts } | { readonly kind: 'finish'; readonly finish: FinishFacts }

/**
 * Rows as a step network. A glue-up that takes clamps gets the short step that takes them off again; its wait runs from the
 * glue-up, and what follows it also needs the clamps off. A coat holds its places until what follows is started. Waits that
 * nothing follows end in one short look.
 */
export function rowNetwork(rows: readonly ListedRow[], count: number, facts: ShopFacts, piece: PieceFacts): Network {
  const network = emptyNetwork(facts, piece)
  for (const [index, row] of rows.entries()) addRow(network, rows, row, index, count)
  const open = rows.flatMap((row, index) => (hasWait(row) && isLast(rows, index) ? [index] : []))
  if (open.length === 0) return network
  addStep(network, {
    key: LOOK,
    operation: 'by-hand',
    name: 'Check that it’s ready',
    units: 2,
    stretchMin: null,
    work: ['hand-over'],
    after: [],
  })
  for (const index of open) network.lags.push(...lagsFrom(network, rows, index, LOOK, 'other'))
  return network
}

export const freeNetwork = (spec: FreeListSpec, count: number, facts: ShopFacts): Network =>
  rowNetwork(spec.rows, count, facts, { woods: [], isFor: spec.isFor ?? 'other' })

const LOOK = 'look'
const keyOf = (index: number): string => `row-${index + 1}`
const releaseOf = (index: number): string => `release-row-${index + 1}`
const isLast = (rows: readonly ListedRow[], index: number): boolean => !rows.some((row) => row.after.includes(index))
const hasWait = (row: ListedRow): boolean => row.waitMin > 0 || row.product !== undefined

const OPERATIONS = {
  ...{ machine: 'by-machine', hand: 'by-hand', 'glue-up': 'glue-up', coat: 'coat' },
} as const satisfies Readonly<Record<string, Operation>>

function addRow(network: Network, rows: readonly ListedRow[], row: ListedRow, index: number, count: number): void {
  const station = stationOf(row, network.facts)
  const units = row.units * count
  const holds = station === undefined || units === 0 ? [] : [holdOf(station, units, rows, index, network.facts)]
  const risk = riskOf(row)
  if (station !== undefined) refuseTooMany(network, row, index, count, station)
  addStep(network, {
    key: keyOf(index),
    operation: row.standardTime ?? OPERATIONS[row.kind],
    name: row.name,
    units: row.minutes * count,
    ...(row.spread === undefined
      ? {}
      : { spread: { optimisticMin: row.spread.leastMin * count, pessimisticMin: row.spread.mostMin * count } }),
    stretchMin: (row.mayStop ?? (row.kind !== 'glue-up' && row.kind !== 'coat')) ? 15 : null,
    ...(row.setUp === undefined ? {} : { setUp: row.setUp }),
    dusty: row.dusty,
    holds,
    ...(row.product?.kind === 'finish'
      ? { tacky: { minutes: row.product.finish.tacky.typical, product: row.product.finish.id } }
      : {}),
    ...risk,
    // What nothing follows leaves the shop after it.
    work: [...(risk.work ?? []), ...(isLast(rows, index) && !hasWait(row) ? ['hand-over' as const] : [])],
    after: [],
  })
  for (const before of row.after) network.lags.push(...lagsFrom(network, rows, before, keyOf(index), row.kind))
  if (isReleased(row, network.facts)) addRelease(network, row, index, count)
}

function stationOf(row: ListedRow, { stations }: ShopFacts): StationFacts | undefined {
  if (row.takes !== undefined) return stations[row.takes]
  return row.kind === 'glue-up' ? stations.clamps : row.kind === 'coat' ? stations.rack : undefined
}

/** A glue-up that stands in clamps: somebody has to take them off. */
const isReleased = (row: ListedRow, { stations }: ShopFacts): boolean =>
  row.kind === 'glue-up' &&
  row.units > 0 &&
  (row.takes ?? 'clamps') === 'clamps' &&
  row.until === undefined &&
  stations.clamps !== undefined

/** Which finish a typed coat is nobody knows: it is taken for a drying oil, so that the rags are not forgotten. */
function riskOf({ kind, dusty, product, standardTime }: ListedRow): Pick<StepDraft, 'work' | 'finish' | 'glue'> {
  const known = standardTime === undefined ? null : dangersOf(standardTime)
  switch (kind) {
    case 'machine':
      return { work: known ?? ['rip', 'route'] }
    case 'coat':
      return product?.kind === 'finish'
        ? { work: product.finish.application === 'spray' ? ['coat', 'spray'] : ['coat'], finish: product.finish }
        : { work: ['coat'], finish: { cautions: ['vapour'], dryingOil: true, film: false } }
    case 'glue-up':
      return { work: ['glue-up'], ...(product?.kind === 'glue' ? { glue: product.glue } : {}) }
    case 'hand':
      return { work: known ?? (dusty ? ['sand'] : []) }
  }
}

function holdOf(
  station: StationFacts,
  units: number,
  rows: readonly ListedRow[],
  index: number,
  facts: ShopFacts,
): NetworkHold {
  const row = rows[index]
  if (row?.until === 'end') return { station: station.id, units, until: { kind: 'end' } }
  if (row !== undefined && isReleased(row, facts))
    return { station: station.id, units, until: { kind: 'end-of', step: releaseOf(index) } }
  const next = rows.findIndex((one) => one.after.includes(index))
  if (next !== -1) return { station: station.id, units, until: { kind: 'start-of', step: keyOf(next) } }
  if (row !== undefined && hasWait(row)) return { station: station.id, units, until: { kind: 'start-of', step: LOOK } }
  return { station: station.id, units, until: { kind: 'end' } }
}

function addRelease(network: Network, row: ListedRow, index: number, count: number): void {
  addStep(network, {
    key: releaseOf(index),
    operation: 'release-clamps',
    name: `Take off the clamps (${row.name})`,
    units: count,
    stretchMin: null,
    after: [],
  })
  const off = row.product?.kind === 'glue' ? ofRange(row.product.glue.clampsOff, row.product.glue.id) : asTyped(row)
  network.lags.push({
    ...directly(keyOf(index), releaseOf(index)),
    wait: 'in-clamps',
    name: 'glue in clamps',
    ...off,
  })
}

/** What must pass between a row and a step after it; two lags where clamps must come off as well. */
function lagsFrom(
  network: Network,
  rows: readonly ListedRow[],
  index: number,
  to: string,
  toKind: FreeRow['kind'] | 'other',
): NetworkLag[] {
  const row = rows[index]
  if (row === undefined) return []
  const from = keyOf(index)
  const lag = { ...directly(from, to), ...waitBefore(row, toKind) }
  return isReleased(row, network.facts) ? [lag, directly(releaseOf(index), to)] : [lag]
}

const WAITS = { 'glue-up': 'curing', coat: 'drying', machine: 'resting', hand: 'resting' } as const

function waitBefore(row: ListedRow, toKind: FreeRow['kind'] | 'other'): Partial<NetworkLag> {
  if (row.product?.kind === 'glue') {
    const { glue } = row.product
    return { wait: 'curing', name: 'glue curing', ...ofRange(glue.mayMachine, glue.id), maxMin: row.atMostMin }
  }
  if (row.product?.kind === 'finish') {
    const { finish } = row.product
    const range = toKind === 'coat' ? finish.recoatOpens : finish.mayPack
    return { wait: 'drying', name: `${row.name} drying`, ...ofRange(range, finish.id), maxMin: row.atMostMin }
  }
  if (row.waitMin === 0 && row.atMostMin === null) return {}
  return {
    wait: row.waitMin === 0 ? 'none' : WAITS[row.kind],
    name: `after ${row.name}`,
    ...asTyped(row),
    maxMin: row.atMostMin,
  }
}

type WaitFigures = Pick<NetworkLag, 'minMin' | 'optimisticMin' | 'pessimisticMin' | 'product' | 'source'>

const ofRange = ({ min, typical, max, source }: RangeMin, product: string): WaitFigures => ({
  minMin: typical,
  optimisticMin: min,
  pessimisticMin: max,
  product,
  source,
})

const asTyped = ({ waitMin }: FreeRow): WaitFigures => ({
  minMin: waitMin,
  optimisticMin: waitMin,
  pessimisticMin: waitMin,
  product: null,
  source: 'as typed in this list',
})

function refuseTooMany(network: Network, row: ListedRow, index: number, count: number, station: StationFacts): void {
  if (row.units * count <= station.capacity) return
  const where = `Row ${index + 1}, ${row.name}`
  const has = `${station.name} has ${station.capacity}`
  if (row.units > station.capacity) {
    network.problems.push(
      problem(
        'row-too-big',
        `${where}: it takes ${row.units}, ${has}. Split it into two rows, or change the almanac.`,
        `rows.${index}.units`,
      ),
    )
  } else {
    network.problems.push(
      problem(
        'lot-too-big',
        `${where}: ${count} pieces take ${row.units * count}, ${has}: make smaller lots.`,
        `rows.${index}.units`,
      ),
    )
  }
}
