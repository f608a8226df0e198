import type { CoatFacts, FinishFacts, RangeMin } from '../shop-facts.ts'
import type { NetworkHold } from '../step-network.ts'
import { finishInWords } from './amounts.ts'
import { addStep, ordinal, type Network } from './network.ts'

/** A coat, or the wax on top: the corner while it is put on, a place on the rack until it is taken up again. */
export function putOn(
  network: Network,
  { pieces, squareMetres }: { readonly pieces: number; readonly squareMetres?: number },
  put: {
    readonly key: string
    readonly name: string
    readonly coat: CoatFacts
    readonly next: string
    readonly after: readonly string[]
    /** Of its surface; absent: all of it. */
    readonly share?: number
    /** Said before anything else. */
    readonly how?: string
  },
): string {
  const { finish, method, note } = put.coat
  const share = put.share ?? 1
  return addStep(network, {
    key: put.key,
    operation: `${method}-coat`,
    name: put.name,
    note: [
      [finish.name, note, put.how ?? '', method === 'spray' ? SPRAY_NOTE : ''].filter((text) => text !== '').join('. '),
      finishInWords(finish, (squareMetres ?? 0) * share, network.facts.units),
    ]
      .filter((text) => text !== '')
      .join('. '),
    units: pieces * share,
    stretchMin: null,
    holds: coatHolds(network, pieces, put.next),
    tacky: { minutes: finish.tacky.typical, product: finish.id },
    work: method === 'spray' ? ['coat', 'spray'] : ['coat'],
    finish,
    after: put.after,
  })
}

/** @source US 29 CFR 1910.107(b) exhaust and filters, (c) sources of ignition */
const SPRAY_NOTE = 'Exhaust fan on, filter clean, no flame, heater or spark in the room'

function coatHolds({ facts: { stations } }: Network, pieces: number, next: string): NetworkHold[] {
  const holds: NetworkHold[] = []
  if (stations.finishingCorner !== undefined) {
    holds.push({ station: stations.finishingCorner.id, units: 1, until: { kind: 'end' } })
  }
  if (stations.rack !== undefined) {
    holds.push({ station: stations.rack.id, units: pieces, until: { kind: 'start-of', step: next } })
  }
  return holds
}

export function addDrying(
  network: Network,
  finish: FinishFacts,
  from: string,
  to: string,
  coat: number,
  range: RangeMin,
  until = '',
  what = `${ordinal(coat)} coat`,
): void {
  network.lags.push({
    from,
    to,
    wait: 'drying',
    name: `${what} ${finish.hardens ? 'drying' : 'soaking in'}${until}`,
    minMin: range.typical,
    optimisticMin: range.min,
    pessimisticMin: range.max,
    maxMin: null,
    remedy: null,
    product: finish.id,
    source: range.source,
  })
}
