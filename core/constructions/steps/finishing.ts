import { capital } from '../../capital.ts'
import { problem } from '../../problems.ts'
import { addStep, ordinal, type Network, type PieceFacts, type StepDraft } from './network.ts'
import { coatsOf, USUAL_GRIT, warnOfCoats } from './coats.ts'
import { addDrying, putOn } from './put-on.ts'
import { addGrainRaising } from './grain-raising.ts'
import type { CoatFacts, FinishFacts, RangeMin } from '../shop-facts.ts'

export interface Finishing {
  readonly finish: FinishFacts
  /** Null: as many as are usual for the finish. */
  readonly coats: number | null
  /** Things that are coated and dry by themselves; a table has its top and its base apart. */
  readonly pieces: number
  /** How many are packed; as many as are coated where it is not said. */
  readonly packed?: number
  readonly after: readonly string[]
  /** All that is coated, square meters; absent: not known. */
  readonly squareMetres?: number
  /** The second side is coated when the first one may be turned onto; absent: both in one go, turned onto pins. */
  readonly oneSideAtATime?: boolean
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
  const coats = coatsOf(finish, finishing.coats)
  refuseLongCoats(network, finishing, coats)
  warnOfCoats(network, finish, coats, finishing.coats)
  const first = coats[0]?.finish
  let before = first?.waterBorne === true ? [addGrainRaising(network, pieces, finishing.after)] : finishing.after
  for (const [index, coat] of coats.entries()) {
    const number = index + 1
    if (number > 1 && coat.sandGrit !== null) before = [addSanding(network, finishing, coats, number)]
    addCoat(network, finishing, coats, number, number > 1 && coat.sandGrit === null ? [] : before)
    if (number > 1) addRecoatWindow(network, finishing, coats, number)
  }
  addEnd(network, finishing, coats)
}

/** A coat is put on in one go: where that takes longer than any session, the lot is too big. */
function refuseLongCoats(network: Network, { pieces }: Finishing, coats: readonly CoatFacts[]): void {
  const { longestSessionMin } = network.facts
  const minutes = Math.max(
    ...coats.map(({ method }) => {
      const time = network.facts.standardTime(`${method}-coat`)
      return Math.round(time.setUpMin + time.perUnitMin * pieces)
    }),
  )
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
  coats: readonly CoatFacts[],
  number: number,
  after: readonly string[],
): void {
  const coat = coats[number - 1]
  if (coat === undefined) return
  const next = coats[number]
  const nextKey = next === undefined ? firstAfterCoats(finishing) : beforeCoat(finishing, next, number + 1)
  const [key, name] = [`coat-${number}`, `${capital(ordinal(number))} coat`]
  if (!inTwo(finishing, coat)) {
    putOn(network, finishing, { ...{ key, name, coat, next: nextKey, after }, how: BOTH_SIDES })
    return
  }
  const under = putOn(network, finishing, {
    ...{ key: `${key}-under`, name: `${name}, undersides`, coat, next: key, after, share: 0.5 },
  })
  putOn(network, finishing, { ...{ key, name: `${name}, tops`, coat, next: nextKey, after: [], share: 0.5 } })
  addDrying(network, coat.finish, under, key, number, coat.finish.mayTurn, ': dry before turning')
}

const BOTH_SIDES = 'Underside first, turn it onto pins, then the top'

/** What soaks in and is wiped dry needs no turning. */
const inTwo = ({ oneSideAtATime }: Finishing, { finish }: CoatFacts): boolean =>
  oneSideAtATime === true && finish.hardens

/** The first step of a coat. */
const startOfCoat = (finishing: Finishing, coat: CoatFacts, number: number): string =>
  inTwo(finishing, coat) ? `coat-${number}-under` : `coat-${number}`

/** Key of the step that takes the piece up for a coat: sanding before it, where there is any. */
const beforeCoat = (finishing: Finishing, coat: CoatFacts, number: number): string =>
  coat.sandGrit === null ? startOfCoat(finishing, coat, number) : `sand-before-coat-${number}`

function addSanding(network: Network, { pieces }: Finishing, coats: readonly CoatFacts[], number: number): string {
  const [below, coat] = [coats[number - 2], coats[number - 1]]
  const finish = below?.finish
  const key = addStep(network, {
    key: `sand-before-coat-${number}`,
    operation: 'sand-between-coats',
    name: `Sand before the ${ordinal(number)} coat`,
    note: `${coat?.sandGrit ?? USUAL_GRIT} grit, lightly, only to take off the nibs.`,
    units: pieces,
    dusty: true,
    work: ['sand', 'sand-finish'],
    ...(finish === undefined ? {} : { finish }),
    after: [],
  })
  if (finish !== undefined && coat?.opens != null)
    addDrying(network, finish, `coat-${number - 1}`, key, number - 1, coat.opens)
  return key
}

function addRecoatWindow(network: Network, finishing: Finishing, coats: readonly CoatFacts[], number: number): void {
  const [below, coat] = [coats[number - 2], coats[number - 1]]
  if (below === undefined || coat?.opens == null) return
  const { pieces } = finishing
  const [from, to] = [`coat-${number - 1}`, startOfCoat(finishing, coat, number)]
  addDrying(network, below.finish, from, to, number - 1, coat.opens)
  const closes = below.finish.recoatCloses
  const lag = network.lags.at(-1)
  if (closes === null || lag === undefined) return
  // What is sanded before the coat anyway loses nothing by a window that has closed, nor what has to cure first.
  if (coat.sandGrit !== null && coat.sandGrit !== undefined && below.finish.id !== coat.finish.id) return
  network.lags[network.lags.length - 1] = {
    ...lag,
    maxMin: Math.max(closes.minutes, lag.minMin),
    remedy: { name: closes.remedy, minutes: closes.remedyMin * pieces },
    source: `${lag.source}; closes: ${closes.source}`,
  }
}

/** Key of the step that takes the pieces off the rack. */
const firstAfterFinish = ({ fittings }: Finishing): string => fittings[0]?.key ?? 'pack'

/** Key of the step that takes the pieces up after the last coat. */
const firstAfterCoats = (finishing: Finishing): string => {
  const schedule = finishing.finish.schedule
  if (schedule?.rubOut != null) return 'rub-out'
  return schedule?.wax == null ? firstAfterFinish(finishing) : 'wax'
}

function addEnd(network: Network, finishing: Finishing, coats: readonly CoatFacts[]): void {
  const { finish, pieces, packed, fittings } = finishing
  const last = coats.at(-1)
  if (last === undefined) return
  const top = addTop(network, finishing, last, coats.length)
  const pack: FittingStep = {
    key: 'pack',
    operation: 'inspect-and-pack',
    name: 'Inspect and pack',
    note: packNote(finish, network.piece.isFor),
    units: packed ?? pieces,
    work: ['hand-over'],
  }
  let before: string[] = top.after
  for (const { alsoAfter = [], ...step } of [...fittings, pack])
    before = [addStep(network, { ...step, after: [...before, ...alsoAfter] })]
  if (top.dries !== null)
    addDrying(
      network,
      top.dries.finish,
      top.dries.from,
      firstAfterFinish(finishing),
      coats.length,
      top.dries.finish.mayPack,
      ': dry before handling',
      top.dries.from === 'wax' ? 'wax' : undefined,
    )
}

/** Rubbing out and waxing; answers what the fittings follow, and what dries before they may begin. */
function addTop(
  network: Network,
  finishing: Finishing,
  last: CoatFacts,
  number: number,
): { readonly after: string[]; readonly dries: { readonly from: string; readonly finish: FinishFacts } | null } {
  const { rubOut = null, wax = null } = finishing.finish.schedule ?? {}
  const coat = `coat-${number}`
  if (rubOut !== null) {
    addStep(network, {
      ...{ key: 'rub-out', operation: 'rub-out', name: 'Rub out the finish', note: `${rubOut}, with the grain.` },
      ...{ units: finishing.pieces, dusty: true, work: ['sand', 'sand-finish'], finish: last.finish, after: [] },
    })
    addDrying(network, last.finish, coat, 'rub-out', number, last.finish.mayRubOut, ': hard before rubbing out')
  }
  if (wax === null)
    return rubOut === null
      ? { after: [], dries: { from: coat, finish: last.finish } }
      : { after: ['rub-out'], dries: null }
  putOn(network, finishing, {
    ...{ key: 'wax', name: 'Wax', next: firstAfterFinish(finishing), after: rubOut === null ? [] : ['rub-out'] },
    coat: { finish: wax, method: wax.application, sandGrit: null, opens: null, note: '', never: false },
  })
  if (rubOut === null) addDrying(network, last.finish, coat, 'wax', number, last.finish.fullCure, ': cured before wax')
  return { after: [], dries: { from: 'wax', finish: wax } }
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
