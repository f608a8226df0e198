import { boardFeetOf } from './board-feet.ts'
import type { Part } from './construction.ts'
import { addGlueUp, waitUntilCured } from './glue-ups.ts'
import { addStep, type Network } from './network.ts'
import type { GlueFacts } from './shop-facts.ts'

export interface PanelWork {
  /** Key and name of the glue-up: `first-glue-up`, `First glue-up`. */
  readonly key: string
  readonly name: string
  readonly note: string
  readonly strips: readonly Part[]
  readonly panels: number
  readonly pieces: number
  readonly clampsEach: number
  readonly jointsEach: number
  readonly glue: GlueFacts
  readonly flattenNote: string
}

/** From rough boards to flat panels: joint and plane, rip, glue up, take off the clamps, flatten. Returns the key of flattening. */
export function addPanels(network: Network, work: PanelWork): string {
  const { strips, panels, glue } = work
  const mill = addStep(network, {
    key: 'mill',
    operation: 'mill-stock',
    name: 'Joint and plane the stock',
    note: 'Boards wider than the jointer are ripped first.',
    units: boardFeetOf(strips),
    dusty: true,
    work: ['joint', 'plane'],
    after: [],
  })
  const rip = addStep(network, {
    key: 'rip',
    operation: 'rip-strips',
    name: 'Rip the strips',
    units: strips.reduce((sum, part) => sum + part.quantity, 0),
    dusty: true,
    work: ['rip-narrow'],
    after: [mill],
  })
  const glueUp = addGlueUp(network, {
    key: work.key,
    operation: 'glue-up-panel',
    name: work.name,
    note: work.note,
    glue,
    assemblies: panels,
    pieces: work.pieces,
    clampsEach: work.clampsEach,
    jointsEach: work.jointsEach,
    after: [rip],
    fresh: { step: rip, panels },
  })
  const flatten = addStep(network, {
    key: 'flatten-panel',
    operation: 'flatten-panel',
    name: panels === 1 ? 'Flatten the panel' : 'Flatten the panels',
    note: work.flattenNote,
    units: panels,
    dusty: true,
    work: ['sand'],
    after: glueUp.freed,
  })
  waitUntilCured(network, glueUp, flatten, glue)
  return flatten
}
