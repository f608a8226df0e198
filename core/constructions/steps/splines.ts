import { addStep, type Network } from './network.ts'
import type { GlueFacts } from '../shop-facts.ts'

/**
 * Cuts slots across the glued-up corners, glues keys in and lets them cure. Returns the key of the last step; `cured` adds the wait
 * before the keys may be trimmed.
 */
export function addSplines(
  network: Network,
  {
    keys,
    pieces,
    glue,
    after,
  }: { readonly keys: number; readonly pieces: number; readonly glue: GlueFacts; readonly after: readonly string[] },
): string {
  const slots = addStep(network, {
    key: 'spline-slots',
    operation: 'spline-slots',
    name: 'Cut the spline slots',
    note: 'In a jig that holds the corner upright.',
    units: keys * pieces,
    dusty: true,
    work: ['groove', 'on-edge'],
    after,
  })
  return addStep(network, {
    key: 'splines',
    operation: 'glue-splines',
    name: 'Glue in the splines',
    note: 'No clamps needed.',
    units: keys * pieces,
    stretchMin: null,
    work: ['glue-up'],
    glue,
    after: [slots],
  })
}
