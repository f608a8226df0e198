import { capital } from '../../capital.ts'
import { writeLength } from '../../lengths/write-length.ts'
import type { Part } from '../construction.ts'
import { clampsOn } from '../steps/clamps.ts'
import { addStep, type Network } from '../steps/network.ts'
import { addPanels, millingOf, type PanelName } from '../steps/panel-steps.ts'
import type { Allowances, GlueFacts, ShopFacts } from '../shop-facts.ts'

/** A panel of staves side by side: a board, a table top, a lid, a bottom. */
export interface StavePanel {
  /** Along the grain and across it, finished. */
  readonly lengthNm: number
  readonly widthNm: number
  readonly thicknessNm: number
  /** Woods of the staves in turn. */
  readonly woods: readonly string[]
  /** No stave is seen wider than this. */
  readonly staveNm: number
  /** On edge, as chopping boards are, or with their faces up. */
  readonly lay: 'edge-up' | 'face-up'
}

export interface StaveGeometry {
  /** From one edge to the other, each as wide as it is seen; together exactly the width. */
  readonly staves: readonly { readonly wood: string; readonly seenNm: number }[]
  /** Width, thickness and length to which staves are cut before the glue-up; what trimming takes off the panel is shared among them. */
  readonly staveRoughNm: number
  readonly thicknessRoughNm: number
  readonly lengthRoughNm: number
}

export function staveGeometry(panel: StavePanel, allowances: Allowances): StaveGeometry {
  const count = Math.max(1, Math.ceil(panel.widthNm / panel.staveNm))
  const edge = (index: number): number => Math.round((panel.widthNm * index) / count)
  const staves = Array.from({ length: count }, (_, index) => ({
    wood: panel.woods[index % panel.woods.length] ?? '',
    seenNm: edge(index + 1) - edge(index),
  }))
  return {
    staves,
    staveRoughNm:
      Math.max(...staves.map((stave) => stave.seenNm)) +
      Math.floor((2 * allowances.trimEdgeNm) / count) +
      allowances.jointEdgeNm,
    thicknessRoughNm: panel.thicknessNm + allowances.flattenPanelNm,
    lengthRoughNm: Math.max(panel.lengthNm + 2 * allowances.squareEndNm, allowances.shortestPlanedNm),
  }
}

/**
 * Staves of each wood. Those turned on edge come out of planks as thick as they are seen wide.
 * @param prefix of the panel's step keys, as in `addStaves`
 */
export function staveParts(
  name: string,
  panel: StavePanel,
  geometry: StaveGeometry,
  panels: number,
  { allowances, units }: Pick<ShopFacts, 'allowances' | 'units'>,
  prefix = '',
): Part[] {
  const seenNm = Math.max(...geometry.staves.map((stave) => stave.seenNm))
  const { lengthRoughNm, staveRoughNm, thicknessRoughNm } = geometry
  const say = (nm: number): string => writeLength(nm, units)
  const why = `Along the grain ${say(panel.lengthNm)} and ${say(allowances.squareEndNm)} to square each end, no shorter than the planer takes (${say(allowances.shortestPlanedNm)}); ${say(seenNm)} seen, its share of the ${say(allowances.trimEdgeNm)} that trimming takes off each edge of the panel, and ${say(allowances.jointEdgeNm)} for jointing; ${say(panel.thicknessNm)} thick and ${say(allowances.flattenPanelNm)} that flattening takes off both faces together.`
  return [...new Set(panel.woods)].flatMap((wood): Part[] => {
    const quantity = geometry.staves.filter((stave) => stave.wood === wood).length * panels
    if (quantity === 0) return []
    const common = { name, wood, quantity, milledIn: `${prefix}mill`, why }
    if (panel.lay === 'face-up') {
      return [
        {
          ...common,
          rough: { lengthNm: lengthRoughNm, widthNm: staveRoughNm, thicknessNm: thicknessRoughNm },
          finished: { lengthNm: panel.lengthNm, widthNm: seenNm, thicknessNm: panel.thicknessNm },
        },
      ]
    }
    return [
      {
        ...common,
        rough: { lengthNm: lengthRoughNm, widthNm: thicknessRoughNm, thicknessNm: staveRoughNm },
        finished: { lengthNm: panel.lengthNm, widthNm: panel.thicknessNm, thicknessNm: seenNm },
        note: 'Turned on edge: its thickness is seen as width.',
      },
    ]
  })
}

export interface StaveWork extends PanelName {
  readonly geometry: StaveGeometry
  readonly parts: readonly Part[]
  readonly panels: number
  readonly glue: GlueFacts
  readonly trimNote: string
  /** Glued up in two halves that are joined afterwards. */
  readonly inHalves: boolean
}

const squareMetres = (nm2: number): number => nm2 * 1e-18

/** From rough boards to panels trimmed to size; where one plank is wide enough there is nothing to glue. Returns the last key. */
export function addStaves(network: Network, work: StaveWork): string {
  const { geometry, parts, panels, glue, prefix, what } = work
  const glueUp = `${prefix}glue-up`
  const clamped = clampsOn(
    what === '' ? 'The panel' : capital(what),
    {
      lengthNm: geometry.lengthRoughNm,
      thicknessNm: geometry.thicknessRoughNm,
      reachNm: geometry.staveRoughNm * geometry.staves.length,
      woods: parts.map(({ wood }) => wood),
    },
    glue,
    network.facts,
  )
  if (geometry.staves.length > 1) network.warnings.push(...clamped.warnings)
  const flat =
    geometry.staves.length === 1
      ? addStep(network, millingOf(work, parts))
      : addPanels(network, {
          prefix,
          what,
          key: glueUp,
          name: what === '' ? 'Glue-up' : `Glue-up of ${what}`,
          note: 'Staves side by side, faces flush, grain matched.',
          strips: parts,
          panels,
          pieces: panels,
          clampsEach: clamped.clamps,
          jointsEach: geometry.staves.length - 1,
          squareMetresEach: squareMetres(
            (geometry.staves.length - 1) * geometry.lengthRoughNm * geometry.thicknessRoughNm,
          ),
          joint: { jointNm: geometry.lengthRoughNm, reachNm: geometry.staveRoughNm * geometry.staves.length },
          inHalves: work.inHalves,
          glue,
          flattenNote: 'Down to the thickness.',
        })
  return addStep(network, {
    key: `${prefix}trim`,
    operation: 'trim-square',
    name: what === '' ? 'Trim square' : `Trim ${what} square`,
    note: work.trimNote,
    units: panels,
    dusty: true,
    work: ['crosscut'],
    after: [flat],
  })
}
