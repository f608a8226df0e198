import { surfaceSquareFeet } from '../design/board-feet.ts'
import type { PartToFinish } from '../design/finish-of-part.ts'
import type { FinishFacts } from '../shop-facts.ts'
import { addCoats, addDryingUntil } from '../steps/finishing.ts'
import { addStep, type Network } from '../steps/network.ts'
import type { BoxSpec } from './box-spec.ts'

/** What is put on a box; `inside` null: the same in and out. Areas of the whole lot, square nanometres. */
export interface BoxFinish {
  readonly finish: FinishFacts
  readonly inside: PartToFinish | null
  /** All that gets the finish of the outside. */
  readonly ownNm2: number
  readonly insideNm2: number
}

/** In front of the keys of the steps that finish the inside alone. */
export const INSIDE = 'inside-'

const GRITS = 3

/**
 * Sides and bottom get their inner finish while they lie flat, before they are glued up: in a closed box no cloth reaches the corners. What
 * will be glued is taped over. Returns the keys after which it may be glued up.
 * @source common practice, no source
 */
export function addInside(
  network: Network,
  spec: BoxSpec,
  { inside, insideNm2 }: BoxFinish,
  count: number,
  after: readonly string[],
): readonly string[] {
  if (inside === null || inside.finish === null) return after
  const sanded = addStep(network, {
    ...{ key: `${INSIDE}sand`, operation: 'sand', name: 'Sand the insides and tape the joints' },
    note: 'Tape over miters or rabbets, grooves and what the bottom reaches in: glue does not hold on finish.',
    units: (surfaceSquareFeet(spec.lengthNm, spec.widthNm, spec.heightNm) * GRITS * count) / 2,
    dusty: true,
    work: ['sand'],
    after,
  })
  const untaped = `${INSIDE}untape`
  const { finish, coats } = inside
  const coated = addCoats(
    network,
    {
      ...{ finish, coats, pieces: count, squareMetres: insideNm2 * 1e-18 },
      ...{ prefix: INSIDE, part: 'inside', oneFace: true, after: [sanded] },
    },
    untaped,
  )
  addStep(network, {
    ...{ key: untaped, operation: 'untape', name: 'Take the tape off' },
    note: 'Scrape off what has crept under it before glue goes on.',
    units: count,
    after: coated.after,
  })
  if (coated.dries !== null) addDryingUntil(network, coated.dries, untaped, ': dry before handling', 'mayPack')
  return [untaped]
}
