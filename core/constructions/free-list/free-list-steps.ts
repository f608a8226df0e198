import { problem } from '../../problems.ts'
import type { FreeListSpec, FreeRow } from './free-list-spec.ts'
import { addStep, emptyNetwork, type Network, type StepDraft } from '../steps/network.ts'
import type { ShopFacts, StationFacts } from '../shop-facts.ts'
import type { NetworkHold, NetworkLag } from '../step-network.ts'

/**
 * The rows as a step network. A glue-up that takes clamps gets the short step that takes them off again; its wait runs from the
 * glue-up, and what follows it also needs the clamps off. A coat holds its places until what follows is started.
 */
export function freeNetwork(spec: FreeListSpec, count: number, facts: ShopFacts): Network {
  const network = emptyNetwork(facts, { woods: [], isFor: 'other' })
  for (const [index, row] of spec.rows.entries()) addRow(network, spec.rows, row, index, count)
  return network
}

const keyOf = (index: number): string => `row-${index + 1}`
const releaseOf = (index: number): string => `release-row-${index + 1}`

const OPERATIONS = { machine: 'by-machine', hand: 'by-hand', 'glue-up': 'glue-up', coat: 'coat' } as const

function addRow(network: Network, rows: readonly FreeRow[], row: FreeRow, index: number, count: number): void {
  const { clamps, rack } = network.facts.stations
  const station = row.kind === 'glue-up' ? clamps : row.kind === 'coat' ? rack : undefined
  const units = row.units * count
  const holds = station === undefined || units === 0 ? [] : [holdOf(station, units, rows, index)]
  if (station !== undefined) refuseTooMany(network, row, index, count, station)
  addStep(network, {
    key: keyOf(index),
    operation: OPERATIONS[row.kind],
    name: row.name,
    units: row.minutes * count,
    stretchMin: row.kind === 'glue-up' || row.kind === 'coat' ? null : 15,
    dusty: row.dusty,
    holds,
    ...riskOf(row),
    after: [],
  })
  for (const before of row.after) network.lags.push(...lagsBetween(network, rows, before, index))
  if (row.kind === 'glue-up' && holds.length > 0) addRelease(network, row, index, count)
}

/** Which finish a typed coat is nobody knows: it is taken for a drying oil, so that the rags are not forgotten. */
function riskOf(row: FreeRow): Pick<StepDraft, 'work' | 'finish'> {
  switch (row.kind) {
    case 'machine':
      return { work: ['rip', 'route'] }
    case 'coat':
      return { work: ['coat'], finish: { cautions: ['vapour'], dryingOil: true, film: false } }
    case 'glue-up':
      return { work: ['glue-up'] }
    case 'hand':
      return { work: row.dusty ? ['sand'] : [] }
  }
}

function holdOf(station: StationFacts, units: number, rows: readonly FreeRow[], index: number): NetworkHold {
  const row = rows[index]
  if (row?.kind === 'glue-up') return { station: station.id, units, until: { kind: 'end-of', step: releaseOf(index) } }
  const next = rows.findIndex((one) => one.after.includes(index))
  const until: NetworkHold['until'] =
    next === -1 ? { kind: 'after', minutes: row?.waitMin ?? 0 } : { kind: 'start-of', step: keyOf(next) }
  return { station: station.id, units, until }
}

function addRelease(network: Network, row: FreeRow, index: number, count: number): void {
  addStep(network, {
    key: releaseOf(index),
    operation: 'release-clamps',
    name: `Take off the clamps: ${row.name}`,
    units: count,
    stretchMin: null,
    after: [],
  })
  network.lags.push({
    ...waitOf(row, keyOf(index), releaseOf(index)),
    wait: 'in-clamps',
    name: 'glue in clamps',
    maxMin: null,
  })
}

function lagsBetween(network: Network, rows: readonly FreeRow[], before: number, index: number): NetworkLag[] {
  const row = rows[before]
  if (row === undefined) return []
  const lag = waitOf(row, keyOf(before), keyOf(index))
  const released = row.kind === 'glue-up' && row.units > 0 && network.facts.stations.clamps !== undefined
  return released ? [lag, { ...waitOf({ ...row, waitMin: 0 }, releaseOf(before), keyOf(index)), maxMin: null }] : [lag]
}

const WAITS = { 'glue-up': 'curing', coat: 'drying', machine: 'resting', hand: 'resting' } as const

function waitOf(row: FreeRow, from: string, to: string): NetworkLag {
  const wait = row.waitMin === 0 ? 'none' : WAITS[row.kind]
  return {
    from,
    to,
    wait,
    name: row.waitMin === 0 && row.atMostMin === null ? '' : `after ${row.name}`,
    minMin: row.waitMin,
    optimisticMin: row.waitMin,
    pessimisticMin: row.waitMin,
    maxMin: row.atMostMin,
    remedy: null,
    product: null,
    source: row.waitMin === 0 && row.atMostMin === null ? '' : 'as typed in this list',
  }
}

function refuseTooMany(network: Network, row: FreeRow, index: number, count: number, station: StationFacts): void {
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
