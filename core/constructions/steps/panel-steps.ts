import { boardFeetMilled } from '../design/board-feet.ts'
import type { Part } from '../construction.ts'
import { waitUntilCured } from './glue-ups.ts'
import { addPanelGlueUp } from './panel-glue-up.ts'
import { addStep, type Network, type StepDraft } from './network.ts'
import type { GlueFacts } from '../shop-facts.ts'

/** Whose panel it is where a piece has several: `lid-` before the keys, `the lid` in the names; both empty for the only one. */
export interface PanelName {
  readonly prefix: string
  readonly what: string
}

export interface PanelWork extends PanelName {
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
  /** Joints of one panel, square metres, how long they are and how far clamps reach across. */
  readonly squareMetresEach: number
  readonly joint: { readonly jointNm: number; readonly reachNm: number }
  readonly inHalves: boolean
  readonly flattenNote: string
}

/** From rough boards to flat panels: joint and plane, rip, glue up, take off the clamps, flatten. Returns the key of flattening. */
export function addPanels(network: Network, work: PanelWork): string {
  const { strips, panels, glue, prefix, what } = work
  const mill = addStep(network, millingOf(work, strips))
  const rip = addStep(network, {
    key: `${prefix}rip`,
    operation: 'rip-strips',
    name: `Rip the strips${forWhat(work)}`,
    units: strips.reduce((sum, part) => sum + part.quantity, 0),
    dusty: true,
    work: ['rip-narrow'],
    after: [mill],
  })
  const glueUp = addPanelGlueUp(
    network,
    {
      key: work.key,
      operation: 'glue-up-panel',
      name: work.name,
      note: work.note,
      glue,
      assemblies: panels,
      pieces: work.pieces,
      clampsEach: work.clampsEach,
      jointsEach: work.jointsEach,
      squareMetresEach: work.squareMetresEach,
      panel: work.joint,
      after: [rip],
      fresh: { step: rip, panels },
    },
    work.inHalves,
  )
  const flatten = addStep(network, {
    key: `${prefix}flatten-panel`,
    operation: 'flatten-panel',
    name: what !== '' ? `Flatten ${what}` : panels === 1 ? 'Flatten the panel' : 'Flatten the panels',
    note: work.flattenNote,
    units: panels,
    dusty: true,
    work: ['sand', 'move'],
    after: glueUp.freed,
  })
  waitUntilCured(network, glueUp, flatten, glue)
  return flatten
}

/** The first step of solid wood: square stock out of rough boards. */
export const millingOf = (name: PanelName, parts: readonly Part[]): StepDraft => ({
  key: `${name.prefix}mill`,
  operation: 'mill-stock',
  name: `Joint and plane the stock${forWhat(name)}`,
  note: 'Boards wider than the jointer are ripped first.',
  units: boardFeetMilled(parts),
  dusty: true,
  work: ['joint', 'plane'],
  after: [],
})

const forWhat = ({ what }: PanelName): string => (what === '' ? '' : ` for ${what}`)
