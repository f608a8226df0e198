import { capital } from '../../capital.ts'
import { problem } from '../../problems.ts'
import { addStep, ordinal, type Network, type PieceFacts, type StepDraft } from './network.ts'
import { coatsOf, USUAL_GRIT, warnOfCoats } from './coats.ts'
import { addDrying, putOn } from './put-on.ts'
import { addGrainRaising } from './grain-raising.ts'
import type { CoatFacts, FinishFacts, RangeMin } from '../shop-facts.ts'

/** What is coated in one way. */
export interface Coated {
  readonly finish: FinishFacts
  /** Null: as many as are usual for the finish. */
  readonly coats: number | null
  /** Things that are coated and dry by themselves; a table has its top and its base apart. */
  readonly pieces: number
  readonly after: readonly string[]
  /** All that is coated, square meters; absent: not known. */
  readonly squareMetres?: number
  /** The second side is coated when the first one may be turned onto; absent: both in one go, turned onto pins. */
  readonly oneSideAtATime?: boolean
  /** Where other parts are finished in their own way: in front of the keys of its steps (`base-`), and its name; absent: all of the piece. */
  readonly prefix?: string
  readonly part?: string
  /** One side of it only, so nothing is turned while it is wet. */
  readonly oneFace?: boolean
}

/** The last coats of a piece, and what follows them. */
export interface Finishing extends Coated {
  /** How many are packed; as many as are coated where it is not said. */
  readonly packed?: number
  /** What is done once it may be handled, before it is packed: fitting feet, hinges. */
  readonly fittings: readonly FittingStep[]
  /** Coated beside it, as a thing of its own: the base of a table. */
  readonly beside?: Coated
  /** Coated before it on the same piece, which is then turned onto it: the underside of a board. */
  readonly before?: Coated
}

/** Coats as they follow each other; `next` takes the pieces up after all of it. */
interface Surface extends Coated {
  readonly next: string
}

/** After which steps the next one may follow, and what has to dry before it. */
export interface CoatedUp {
  readonly after: readonly string[]
  readonly dries: { readonly from: string; readonly finish: FinishFacts; readonly coat: number } | null
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
  const { before, beside, fittings } = finishing
  const next = fittings[0]?.key ?? 'pack'
  const under = before === undefined ? null : addCoats(network, before, firstStep(finishing))
  if (under?.dries != null)
    addDryingUntil(network, under.dries, firstStep(finishing), ': dry before turning', 'mayTurn')
  if (beside !== undefined) refuseFullRack(network, finishing.pieces + beside.pieces)
  const own = addCoats(network, { ...finishing, after: under === null ? finishing.after : under.after }, next)
  const other = beside === undefined ? null : addCoats(network, beside, next)
  addEnd(network, finishing, [own, ...(other === null ? [] : [other])])
}

/** Coats one part of a piece. @param next key of the step that takes it up afterwards */
export function addCoats(network: Network, coated: Coated, next: string): CoatedUp {
  const surface: Surface = { ...coated, next }
  const { finish, pieces } = surface
  refuseFullRack(network, pieces)
  const coats = coatsOf(finish, surface.coats)
  refuseLongCoats(network, surface, coats)
  warnOfCoats(network, finish, coats, surface.coats)
  const { prefix = '' } = surface
  let before = startsWet(surface) ? [addGrainRaising(network, pieces, surface.after, prefix)] : surface.after
  for (const [index, coat] of coats.entries()) {
    const number = index + 1
    if (number > 1 && coat.sandGrit !== null) before = [addSanding(network, surface, coats, number)]
    addCoat(network, surface, coats, number, number > 1 && coat.sandGrit === null ? [] : before)
    if (number > 1) addRecoatWindow(network, surface, coats, number)
  }
  return addTop(network, surface, coats)
}

function refuseFullRack(network: Network, pieces: number): void {
  const { rack } = network.facts.stations
  if (rack === undefined || pieces <= rack.capacity) return
  const message = `Drying all ${pieces} takes ${pieces} places on the rack, you have ${rack.capacity}: make smaller lots.`
  network.problems.push(problem('lot-too-big', message))
}

const startsWet = ({ finish, coats }: Coated): boolean => coatsOf(finish, coats)[0]?.finish.waterBorne === true

/** Key of the step with which a part is taken up for its coats. */
function firstStep(coated: Coated): string {
  const [first] = coatsOf(coated.finish, coated.coats)
  const { prefix = '' } = coated
  if (startsWet(coated)) return `${prefix}raise-grain`
  return first === undefined ? `${prefix}coat-1` : startOfCoat(coated, first, 1)
}

/** Waits until what was put on last may be turned onto or handled. */
export const addDryingUntil = (
  network: Network,
  { from, finish, coat }: NonNullable<CoatedUp['dries']>,
  to: string,
  until: string,
  clock: 'mayTurn' | 'mayPack',
): void => addDrying(network, finish, from, to, coat, finish[clock], until, from.endsWith('wax') ? 'wax' : undefined)

/** A coat is put on in one go: where that takes longer than any session, the lot is too big. */
function refuseLongCoats(network: Network, { pieces }: Coated, coats: readonly CoatFacts[]): void {
  const { longestSessionMin } = network.facts
  const minutes = Math.max(
    ...coats.map(({ method }) => {
      const time = network.facts.standardTime(`${method}-coat`)
      return Math.round(time.setUpMin + time.perUnitMin * pieces)
    }),
  )
  if (pieces === 1 || minutes <= longestSessionMin) return
  const message = `A coat on all ${pieces} takes ${minutes} min without a break, the longest session in the shop is ${longestSessionMin}: make smaller lots.`
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
  surface: Surface,
  coats: readonly CoatFacts[],
  number: number,
  after: readonly string[],
): void {
  const coat = coats[number - 1]
  if (coat === undefined) return
  const next = coats[number]
  const nextKey = next === undefined ? firstAfterCoats(surface) : beforeCoat(surface, next, number + 1)
  const [key, name] = [`${surface.prefix ?? ''}coat-${number}`, named(surface, `${capital(ordinal(number))} coat`)]
  if (!inTwo(surface, coat)) {
    const how = surface.oneFace === true ? '' : BOTH_SIDES
    putOn(network, surface, { ...{ key, name, coat, next: nextKey, after }, how })
    return
  }
  const under = putOn(network, surface, {
    ...{ key: `${key}-under`, name: `${name}, undersides`, coat, next: key, after, share: 0.5 },
  })
  putOn(network, surface, { ...{ key, name: `${name}, tops`, coat, next: nextKey, after: [], share: 0.5 } })
  addDrying(network, coat.finish, under, key, number, coat.finish.mayTurn, ': dry before turning')
}

const BOTH_SIDES = 'Underside first, turn it onto pins, then the top'

/** Which part it is done on, where others are finished in their own way. */
const named = ({ part }: Coated, name: string): string => (part === undefined ? name : `${name}, ${part}`)

/** What soaks in and is wiped dry needs no turning. */
const inTwo = ({ oneSideAtATime, oneFace }: Coated, { finish }: CoatFacts): boolean =>
  oneSideAtATime === true && oneFace !== true && finish.hardens

/** The first step of a coat. */
const startOfCoat = (coated: Coated, coat: CoatFacts, number: number): string =>
  `${coated.prefix ?? ''}coat-${number}${inTwo(coated, coat) ? '-under' : ''}`

/** Key of the step that takes the piece up for a coat: sanding before it, where there is any. */
const beforeCoat = (coated: Coated, coat: CoatFacts, number: number): string =>
  coat.sandGrit === null ? startOfCoat(coated, coat, number) : `${coated.prefix ?? ''}sand-before-coat-${number}`

function addSanding(network: Network, surface: Surface, coats: readonly CoatFacts[], number: number): string {
  const { pieces, prefix = '' } = surface
  const [below, coat] = [coats[number - 2], coats[number - 1]]
  const finish = below?.finish
  const key = addStep(network, {
    key: `${prefix}sand-before-coat-${number}`,
    operation: 'sand-between-coats',
    name: named(surface, `Sand before the ${ordinal(number)} coat`),
    note: `${coat?.sandGrit ?? USUAL_GRIT} grit, lightly, only to take off the nibs.`,
    units: pieces,
    dusty: true,
    work: ['sand', 'sand-finish'],
    ...(finish === undefined ? {} : { finish }),
    after: [],
  })
  if (finish !== undefined && coat?.opens != null)
    addDrying(network, finish, `${prefix}coat-${number - 1}`, key, number - 1, coat.opens)
  return key
}

function addRecoatWindow(network: Network, surface: Surface, coats: readonly CoatFacts[], number: number): void {
  const [below, coat] = [coats[number - 2], coats[number - 1]]
  if (below === undefined || coat?.opens == null) return
  const { pieces, prefix = '' } = surface
  const [from, to] = [`${prefix}coat-${number - 1}`, startOfCoat(surface, coat, number)]
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

/** Key of the step that takes the pieces up after the last coat. */
const firstAfterCoats = ({ finish: { schedule }, prefix = '', next }: Surface): string => {
  if (schedule?.rubOut != null) return `${prefix}rub-out`
  return schedule?.wax == null ? next : `${prefix}wax`
}

function addEnd(network: Network, finishing: Finishing, coated: readonly CoatedUp[]): void {
  const { finish, pieces, packed, fittings, beside } = finishing
  const pack: FittingStep = {
    key: 'pack',
    operation: 'inspect-and-pack',
    name: 'Inspect and pack',
    note: packNote(beside !== undefined && !finish.hardens ? beside.finish : finish, network.piece.isFor),
    units: packed ?? pieces,
    work: ['hand-over'],
  }
  const first = fittings[0]?.key ?? 'pack'
  let before = coated.flatMap(({ after }) => after)
  for (const { alsoAfter = [], ...step } of [...fittings, pack])
    before = [addStep(network, { ...step, after: [...before, ...alsoAfter] })]
  for (const { dries } of coated)
    if (dries !== null) addDryingUntil(network, dries, first, ': dry before handling', 'mayPack')
}

/** Rubbing out and waxing. */
function addTop(network: Network, surface: Surface, coats: readonly CoatFacts[]): CoatedUp {
  const { rubOut = null, wax = null } = surface.finish.schedule ?? {}
  const { prefix = '', pieces, next } = surface
  const last = coats.at(-1)
  if (last === undefined) return { after: surface.after, dries: null }
  const [number, coat, rubbed] = [coats.length, `${prefix}coat-${coats.length}`, `${prefix}rub-out`]
  if (rubOut !== null) {
    addStep(network, {
      ...{ key: rubbed, operation: 'rub-out', name: named(surface, 'Rub out the finish') },
      ...{ note: `${rubOut}, with the grain.`, units: pieces, dusty: true, work: ['sand', 'sand-finish'] },
      ...{ finish: last.finish, after: [] },
    })
    addDrying(network, last.finish, coat, rubbed, number, last.finish.mayRubOut, ': hard before rubbing out')
  }
  if (wax === null)
    return rubOut === null
      ? { after: [], dries: { from: coat, finish: last.finish, coat: number } }
      : { after: [rubbed], dries: null }
  const key = `${prefix}wax`
  putOn(network, surface, {
    ...{ key, name: named(surface, 'Wax'), next, after: rubOut === null ? [] : [rubbed] },
    coat: { finish: wax, method: wax.application, sandGrit: null, opens: null, note: '', never: false },
  })
  if (rubOut === null) addDrying(network, last.finish, coat, key, number, last.finish.fullCure, ': cured before wax')
  return { after: [], dries: { from: key, finish: wax, coat: number } }
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
