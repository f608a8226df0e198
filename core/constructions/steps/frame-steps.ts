import { writeLength, writeRoughLength } from '../../lengths/write-length.ts'
import type { Part, Units } from '../construction.ts'
import { SPLINE } from '../design/frame-parts.ts'
import { addGlueUp, waitUntilCured } from './glue-ups.ts'
import { millSticks } from './mill-sticks.ts'
import { bevelNm, standsOffNm, type FrameGeometry, type MitredFrame } from '../design/mitred-frame.ts'
import { addStep, type Network } from './network.ts'
import type { GlueFacts, ShopFacts } from '../shop-facts.ts'
import { addSplines } from './splines.ts'

export interface FrameWork {
  readonly frame: MitredFrame
  readonly geometry: FrameGeometry
  readonly parts: readonly Part[]
  readonly pieces: number
  readonly glue: GlueFacts
  /** Key of the step after which the field is ready to be grooved. */
  readonly field: string
}

/** One clamp a side, drawing the mitres together. */
const CLAMPS_PER_FRAME = 4

/** From frame stock to the framed piece; the stock hangs on no other step. Returns the key after which it may be smoothed. */
export function addFrame(network: Network, { frame, geometry, parts, pieces, glue, field }: FrameWork): string {
  const mill = addStep(
    network,
    millSticks(
      'mill-frame',
      'Joint and plane the frame stock',
      'Any time: fits in while the field cures.',
      parts.filter(({ name }) => name !== SPLINE),
      network.facts,
    ),
  )
  const tongues = addStep(network, {
    key: 'tongues',
    operation: 'tongue-and-groove',
    name: 'Cut the tongues on the frame stock',
    units: pieces / 2,
    dusty: true,
    work: ['groove'],
    after: [mill],
  })
  const groove = addStep(network, {
    key: 'groove',
    operation: 'tongue-and-groove',
    name: 'Groove the edges of the field',
    note: `At least ${writeLength(geometry.grooveNm, network.facts.units)} deep${frame.fixing === 'all-round' ? '' : ', so that the field can grow'}.`,
    units: pieces / 2,
    dusty: true,
    work: ['groove'],
    after: [field],
  })
  const mitres = addStep(network, {
    key: 'mitres',
    operation: 'mitre-frame',
    name: 'Miter the frame to the field',
    note:
      frame.fixing === 'all-round'
        ? 'Fit the members one after the other round the field.'
        : `Fit the members one after the other, with ${gapsInWords(frame, geometry, network.facts.units)}.`,
    units: pieces,
    dusty: true,
    work: ['mitre'],
    after: [tongues, groove],
  })
  const glueUp = addGlueUp(network, {
    key: 'frame-glue-up',
    operation: 'glue-up-frame',
    name: 'Frame glue-up',
    note: GLUE_WHERE[frame.fixing],
    glue,
    assemblies: pieces,
    pieces,
    clampsEach: CLAMPS_PER_FRAME,
    jointsEach: 8,
    after: [mitres],
  })
  const splined = frame.splines ? addSplines(network, { keys: 4, pieces, glue, after: glueUp.freed }) : null
  const flush = addStep(network, {
    key: 'flush-frame',
    operation: 'flatten-panel',
    name: 'Flush the frame',
    note: flushNote(frame, geometry, network.facts),
    units: pieces,
    dusty: true,
    work: ['sand', 'move'],
    after: splined === null ? glueUp.freed : [],
  })
  if (splined === null) waitUntilCured(network, glueUp, flush, glue)
  else {
    waitUntilCured(network, glueUp, 'spline-slots', glue)
    waitUntilCured(network, { glued: [splined], freed: [] }, flush, glue)
  }
  return bevelNm(frame) === 0 ? flush : addBevel(network, frame, pieces, flush)
}

const addBevel = (network: Network, frame: MitredFrame, pieces: number, flush: string): string =>
  addStep(network, {
    key: 'bevel-frame',
    operation: 'bevel-edges',
    name: 'Bevel the underside',
    note: `${writeLength(bevelNm(frame), network.facts.units)} high at 45 degrees: on edge against a tall fence, or with a chamfer bit.`,
    units: pieces,
    dusty: true,
    work: ['on-edge', 'route'],
    after: [flush],
  })

/** At its narrower side it goes through the drum sander, if at all. */
function flushNote(
  frame: MitredFrame,
  { outsideAcrossNm, outsideAlongNm }: FrameGeometry,
  { allowances, units }: ShopFacts,
): string {
  const narrowNm = Math.min(outsideAcrossNm, outsideAlongNm)
  const above = standsOffNm(frame) === 0 ? '' : 'The top only: the frame stands proud below. '
  return narrowNm <= allowances.drumSanderWidthNm
    ? above.trim()
    : `${above}${writeRoughLength(narrowNm, units)} wide, more than the drum sander takes: router sled, hand plane or sander.`
}

const GLUE_WHERE: Readonly<Record<MitredFrame['fixing'], string>> = {
  ends: 'Glue the miters, and the tongue a hand’s width at the middle of the two ends (across the grain). The long sides stay dry.',
  'one-side': 'Glue the miters, and the tongue a hand’s width at the middle of one side. The other three stay dry.',
  dry: 'Glue the miters only. Spacers in the groove keep the field centered; keep squeeze-out off the tongue.',
  'all-round': 'Glue the miters and all round the field.',
}

function gapsInWords({ fixing }: MitredFrame, geometry: FrameGeometry, units: Units): string {
  const [right, along] = [geometry.gapRightNm, geometry.gapAlongNm].map((nm) => writeLength(nm, units))
  if (fixing === 'ends') return `a gap of ${right ?? ''} at each long side`
  if (fixing === 'one-side') return `no gap at the glued side, ${right ?? ''} opposite and ${along ?? ''} at each end`
  return right === along
    ? `a gap of ${right ?? ''} all round`
    : `a gap of ${right ?? ''} across and ${along ?? ''} along`
}
