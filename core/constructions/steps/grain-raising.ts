import { addStep, type Network } from './network.ts'

const SOURCE = 'common practice, no source'

/** Water lifts the grain once: it is let up and sanded off before the first water-borne coat, not after it. Returns the key of the sanding. */
export function addGrainRaising(network: Network, pieces: number, after: readonly string[], prefix = ''): string {
  const raise = addStep(network, {
    key: `${prefix}raise-grain`,
    operation: 'raise-grain',
    name: 'Raise the grain',
    note: 'Wipe it evenly with a damp cloth.',
    units: pieces,
    after,
  })
  const sand = addStep(network, {
    key: `${prefix}sand-raised-grain`,
    operation: 'sand-between-coats',
    name: 'Sand off the raised grain',
    note: '220 grit, lightly: only the fuzz, not down to new wood.',
    units: pieces,
    dusty: true,
    work: ['sand'],
    after: [],
  })
  network.lags.push({
    ...{ from: raise, to: sand, wait: 'resting', name: 'damp wood drying' },
    ...{
      minMin: 60,
      optimisticMin: 45,
      pessimisticMin: 180,
      maxMin: null,
      remedy: null,
      product: null,
      source: SOURCE,
    },
  })
  return sand
}
