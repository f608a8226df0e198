import { problem } from '../../problems.ts'
import { addStep, ordinal, type Network, type PieceFacts, type StepDraft } from './network.ts'
import type { FinishFacts, RangeMin } from '../shop-facts.ts'
import type { NetworkHold } from '../step-network.ts'

export interface Finishing {
  readonly finish: FinishFacts
  /** Null: as many as are usual for the finish. */
  readonly coats: number | null
  /** Things that are coated and dry by themselves; a table has its top and its base apart. */
  readonly pieces: number
  /** How many are packed; as many as are coated where it is not said. */
  readonly packed?: number
  readonly after: readonly string[]
  /** What is done once it may be handled, before it is packed: fitting feet, hinges. */
  readonly fittings: readonly FittingStep[]
}

/** A step after the finish; what else must be there for it beside the coats. */
export interface FittingStep extends Omit<StepDraft, 'after'> {
  readonly alsoAfter?: readonly string[]
}

/**
 * Adds the coats with the waits between them, the fittings and the packing. Each coat holds the finishing corner while it is
 * put on and a place on the rack for every piece until the piece is taken up again.
 */
export function addFinishing(network: Network, finishing: Finishing): void {
  const { finish, pieces } = finishing
  const { rack } = network.facts.stations
  if (rack !== undefined && pieces > rack.capacity) {
    const message = `Drying ${pieces} needs ${pieces} places on the rack, the almanac has ${rack.capacity}: make smaller lots.`
    network.problems.push(problem('lot-too-big', message))
  }
  refuseLongCoats(network, finishing)
  const coats = finishing.coats ?? finish.coats.usual
  if (coats > finish.coats.most) {
    network.warnings.push(`${coats} coats of ${finish.name}: its usual most is ${finish.coats.most}.`)
  } else if (coats < finish.coats.least) {
    network.warnings.push(
      `${coats} ${coats === 1 ? 'coat' : 'coats'} of ${finish.name}: it usually takes at least ${finish.coats.least}.`,
    )
  }
  let before = finishing.after
  for (let number = 1; number <= coats; number += 1) {
    if (number > 1 && finish.sandBetween) before = [addSanding(network, finishing, number)]
    addCoat(network, finishing, number, coats, number > 1 && !finish.sandBetween ? [] : before)
    if (number > 1) addRecoatWindow(network, finishing, number)
  }
  addEnd(network, finishing, coats)
}

/** A coat is put on in one go: where that takes longer than any session, the lot is too big. */
function refuseLongCoats(network: Network, { finish, pieces }: Finishing): void {
  const { longestSessionMin } = network.facts
  const time = network.facts.standardTime(`${finish.application}-coat`)
  const minutes = Math.round(time.setUpMin + time.perUnitMin * pieces)
  if (pieces === 1 || minutes <= longestSessionMin) return
  const message = `A coat on ${pieces} takes ${minutes} min without a break, the longest session in the shop is ${longestSessionMin}: make smaller lots.`
  network.problems.push(problem('lot-too-big', message))
}

/** Four a board, once the finish may be handled. */
export const fitFeet = (pieces: number): FittingStep => ({
  key: 'feet',
  operation: 'fit-feet',
  name: 'Fit the feet',
  note: 'Four a board, screwed, so that it can be dried standing.',
  units: pieces,
})

function addCoat(
  network: Network,
  finishing: Finishing,
  number: number,
  coats: number,
  after: readonly string[],
): void {
  const { finish, pieces } = finishing
  const nextCoat = finish.sandBetween ? `sand-before-coat-${number + 1}` : `coat-${number + 1}`
  addStep(network, {
    key: `coat-${number}`,
    operation: `${finish.application}-coat`,
    name: `${capital(ordinal(number))} coat`,
    note: finish.name,
    units: pieces,
    stretchMin: null,
    holds: coatHolds(network, pieces, number < coats ? nextCoat : firstAfterFinish(finishing)),
    tacky: { minutes: finish.tacky.typical, product: finish.id },
    work: finish.application === 'spray' ? ['coat', 'spray'] : ['coat'],
    finish,
    after,
  })
}

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

function addSanding(network: Network, { finish, pieces }: Finishing, number: number): string {
  const key = addStep(network, {
    key: `sand-before-coat-${number}`,
    operation: 'sand-between-coats',
    name: `Sand before the ${ordinal(number)} coat`,
    note: 'Lightly, only to take off the nibs.',
    units: pieces,
    dusty: true,
    work: ['sand', 'sand-finish'],
    finish,
    after: [],
  })
  addDrying(network, finish, `coat-${number - 1}`, key, number - 1, finish.recoatOpens)
  return key
}

function addRecoatWindow(network: Network, { finish, pieces }: Finishing, number: number): void {
  const [from, to] = [`coat-${number - 1}`, `coat-${number}`]
  addDrying(network, finish, from, to, number - 1, finish.recoatOpens)
  const closes = finish.recoatCloses
  const lag = network.lags.at(-1)
  if (closes === null || lag === undefined) return
  network.lags[network.lags.length - 1] = {
    ...lag,
    maxMin: Math.max(closes.minutes, lag.minMin),
    remedy: { name: closes.remedy, minutes: closes.remedyMin * pieces },
    source: `${lag.source}; closes: ${closes.source}`,
  }
}

/** Key of the step that takes the pieces off the rack. */
const firstAfterFinish = ({ fittings }: Finishing): string => fittings[0]?.key ?? 'pack'

function addEnd(network: Network, finishing: Finishing, coats: number): void {
  const { finish, pieces, packed, fittings } = finishing
  const pack: FittingStep = {
    key: 'pack',
    operation: 'inspect-and-pack',
    name: 'Inspect and pack',
    note: packNote(finish, network.piece.isFor),
    units: packed ?? pieces,
    work: ['hand-over'],
  }
  let before: string[] = []
  for (const { alsoAfter = [], ...step } of [...fittings, pack])
    before = [addStep(network, { ...step, after: [...before, ...alsoAfter] })]
  addDrying(
    network,
    finish,
    `coat-${coats}`,
    firstAfterFinish(finishing),
    coats,
    finish.mayPack,
    ' dry before handling',
  )
}

function addDrying(
  network: Network,
  finish: FinishFacts,
  from: string,
  to: string,
  coat: number,
  range: RangeMin,
  until = '',
): void {
  network.lags.push({
    from,
    to,
    wait: 'drying',
    name: `${ordinal(coat)} coat ${finish.hardens ? 'drying' : 'soaking in'}${until}`,
    minMin: range.typical,
    optimisticMin: range.min,
    pessimisticMin: range.max,
    maxMin: null,
    remedy: null,
    product: finish.id,
    source: range.source,
  })
}

const packNote = (finish: FinishFacts, isFor: PieceFacts['isFor']): string =>
  finish.hardens && (isFor === 'food' || isFor === 'chopping')
    ? `No food on it before it is fully cured, about ${days(finish.fullCure)} after the last coat: wait for that, or write the date on the care card.`
    : finish.hardens
      ? `Nothing touching the finish but plain paper. Full cure takes about ${days(finish.fullCure)}: say so on the care card.`
      : 'Wrapped in plain paper. It never hardens: say on the care card when to oil it again.'

function days({ typical }: RangeMin): string {
  const count = Math.round(typical / (24 * 60))
  return count < 2 ? 'a day' : `${count} days`
}

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1)
