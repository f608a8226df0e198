import { addGlueUp, waitUntilCured, type GluedUp, type GlueUp } from './glue-ups.ts'
import type { Network } from './network.ts'

/** Fewer joints are not worth two glue-ups. */
export const LEAST_JOINTS_TO_SPLIT = 3

/**
 * The glue-up of a panel, in one go or in two halves that are joined when they may be machined: half the joints at a time, at the price of
 * one more wait. Halves of different boards share the clamps as any assemblies do.
 */
export function addPanelGlueUp(network: Network, glueUp: GlueUp, inHalves: boolean): GluedUp {
  if (!inHalves || glueUp.jointsEach < LEAST_JOINTS_TO_SPLIT) return addGlueUp(network, glueUp)
  const { jointsEach, squareMetresEach = 0, panel } = glueUp
  const perJoint = squareMetresEach / jointsEach
  const inHalf = Math.ceil((jointsEach - 1) / 2)
  const halves = addGlueUp(network, {
    ...glueUp,
    key: `${glueUp.key}-halves`,
    name: `${glueUp.name}, halves`,
    note: `${glueUp.note} Two halves a panel; the joint between them stays dry.`,
    assemblies: 2 * glueUp.assemblies,
    jointsEach: inHalf,
    squareMetresEach: perJoint * inHalf,
    ...(panel === undefined ? {} : { panel: { ...panel, reachNm: Math.ceil(panel.reachNm / 2) } }),
  })
  const { fresh: _, ...joined } = glueUp
  const whole = addGlueUp(network, {
    ...joined,
    name: `${glueUp.name}, the halves joined`,
    note: 'One light pass over both mating edges first.',
    jointsEach: 1,
    squareMetresEach: perJoint,
    after: halves.freed,
  })
  for (const to of whole.glued) waitUntilCured(network, halves, to, glueUp.glue)
  return whole
}
