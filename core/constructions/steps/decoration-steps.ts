import type { Decoration, Engraving } from '../design/decoration.ts'
import { nameOf } from '../design/products.ts'
import type { GlueFacts } from '../shop-facts.ts'
import { waitUntilCured } from './glue-ups.ts'
import { addStep, type Network } from './network.ts'

const MINUTES_A_DAY = 24 * 60

/** Lets the inlay in and waits until it may be sanded flush. Returns its key and what else comes before the next step. */
export function addInlay(
  network: Network,
  { inlay }: Decoration,
  glue: GlueFacts,
  pieces: number,
  after: readonly string[],
): ((next: string) => void) | null {
  if (inlay === undefined) return null
  const wood = nameOf(network.facts.woods, inlay.wood)
  const species = network.facts.woods.find(({ id }) => id === inlay.wood)?.species ?? inlay.wood
  const key = addStep(network, {
    key: 'inlay',
    operation: 'inlay',
    name: 'Rout and glue in the inlay',
    note: [inlay.shows, `${wood}, its grain with that of the piece; proud by a hair, sanded flush.`]
      .filter((text) => text !== '')
      .join('. '),
    units: pieces,
    dusty: true,
    stretchMin: null,
    work: ['rip-narrow', 'route', 'glue-up', 'short-parts'],
    woods: [species],
    glue,
    after,
  })
  return (next) => {
    waitUntilCured(network, { glued: [key], freed: [] }, next, glue)
  }
}

/** Engraving between sanding and finish, here or by somebody else. Returns the key of the last step. */
export function addEngraving(network: Network, { engraving }: Decoration, pieces: number, after: string): string {
  if (engraving === undefined) return after
  return engraving.by === 'shop'
    ? engraveHere(network, engraving, pieces, after)
    : sendOut(network, engraving, pieces, after)
}

const engraveHere = (network: Network, { says }: Engraving, pieces: number, after: string): string =>
  addStep(network, {
    key: 'engrave',
    operation: 'engrave',
    name: 'Engrave',
    note: says,
    units: pieces,
    work: ['engrave'],
    after: [after],
  })

/** Outside help takes days and no hands but for the two ways. */
function sendOut(network: Network, { says, days }: Engraving, pieces: number, after: string): string {
  const away = addStep(network, {
    key: 'send-to-engraver',
    operation: 'send-engraving',
    name: 'Take it to the engraver',
    note: says,
    units: pieces,
    after: [after],
  })
  const back = addStep(network, {
    key: 'back-from-engraver',
    operation: 'fetch-engraving',
    name: 'Fetch it from the engraver',
    note: 'Check the spelling before you leave.',
    units: pieces,
    after: [],
  })
  const minutes = days * MINUTES_A_DAY
  network.lags.push({
    ...{ from: away, to: back, wait: 'resting', name: 'at the engraver’s' },
    ...{ minMin: minutes, optimisticMin: Math.round(minutes * 0.75), pessimisticMin: Math.round(minutes * 1.5) },
    ...{ maxMin: null, remedy: null, product: null },
    source: 'days as typed with the order; a quarter sooner to half as long again: common practice, no source',
  })
  return back
}
