import { CAUTIONS, type Caution, type CautionId } from './cautions.ts'

/** What is done in a step, as far as it can hurt somebody. */
export type Work =
  | 'rip'
  | 'rip-narrow'
  | 'crosscut'
  | 'crosscut-slices'
  | 'groove'
  | 'mitre'
  /** On edge or on end against a fence. */
  | 'on-edge'
  /** Parts shorter than a machine takes by itself. */
  | 'short-parts'
  | 'engrave'
  | 'joint'
  | 'plane'
  | 'plane-end-grain'
  | 'route'
  | 'sand'
  | 'sand-finish'
  | 'glue-up'
  | 'coat'
  | 'spray'
  | 'move'
  | 'hand-over'

/** What a piece is for, as far as somebody may be hurt by it: eaten from, cut on, a child's. */
export type PieceUse = 'food' | 'chopping' | 'child' | 'other'

export interface CautionFacts {
  readonly work: readonly Work[]
  /** Species handled, as the table of woods names them; a wood that it does not have by its own name. */
  readonly woods?: readonly string[]
  /** Caution ids of the glue spread in this step, from its class. */
  readonly glue?: readonly string[]
  /** Caution ids of the finish put on or sanded in this step, from its class. */
  readonly finish?: readonly string[]
  readonly finishIsDryingOil?: boolean
  readonly finishIsFilm?: boolean
  readonly pieceIsFor?: PieceUse
  /** Weight lifted, kilograms. */
  readonly liftsKg?: number
}

/** More at once are not read: a screen shows the worst of them, papers and the commission all. */
export const MOST_AT_ONCE = 2

/** Every caution that a step calls for, worst first. */
export function cautionsFor(facts: CautionFacts): readonly Caution[] {
  const ids = new Set<string>(Object.entries(CALLS_FOR).flatMap(([id, called]) => (called(facts) ? [id] : [])))
  if (facts.work.includes('glue-up')) for (const id of facts.glue ?? []) ids.add(id)
  // What depends on more than the finish (a film matters on a chopping face only) is left to its rule.
  if (coats(facts)) for (const id of facts.finish ?? []) if (!(id in CALLS_FOR)) ids.add(id)
  return worstFirst(ids)
}

/** Cautions by their ids; ids that this version does not know are left out. */
export const worstFirst = (ids: ReadonlySet<string>): readonly Caution[] => CAUTIONS.filter((one) => ids.has(one.id))

/**
 * Whether people are known to react to the dust of this wood.
 * @param wood its species, `Beech, American`; what makers call their boards says too little
 * @source HSE (UK), Toxic woods, Woodworking Sheet 30 rev. 1, table 2; list partly from memory
 */
export const isIrritant = (wood: string): boolean => IRRITANTS.test(wood)

const IRRITANTS =
  /western.?red|redcedar, western|iroko|rosewood|cocobolo|teak|mahogany|khaya|walnut|wenge|\boaks?\b|\bipe\b|padauk|purpleheart|bubinga|greenheart|merbau|sapele|\bbeech|\bbirch|\byew|ebony|boxwood|\bolive|mansonia|makore|guarea/i

/** After so long a day machines wait; common practice, no source. */
const LONG_DAY_MIN = 10 * 60

/** Cautions of a machine step: what a tired maker is told of. */
const AT_MACHINES: readonly CautionId[] = [
  'saw',
  'kickback',
  'short_piece',
  'tall_fence',
  'sled',
  'cutter_head',
  'planer_end_grain',
]

/** Whether a step with these cautions is machine work after a long day. @param workedTodayMin minutes logged today */
export const isAfterLongDay = (cautions: readonly string[], workedTodayMin: number): boolean =>
  workedTodayMin > LONG_DAY_MIN && AT_MACHINES.some((id) => cautions.includes(id))

const coats = (facts: CautionFacts): boolean => facts.work.includes('coat') || facts.work.includes('spray')

const CALLS_FOR: Readonly<Partial<Record<CautionId, (facts: CautionFacts) => boolean>>> = {
  rag_fire: (facts) => coats(facts) && facts.finishIsDryingOil === true,
  spray: (facts) => facts.work.includes('spray'),
  sanding_dust_fire: (facts) => facts.work.includes('sand-finish') && facts.finishIsDryingOil === true,
  saw: (facts) => facts.work.some((work) => /^(rip|crosscut|groove|mitre|on-edge)/.test(work)),
  sled: (facts) => facts.work.some((work) => work === 'crosscut-slices' || work === 'mitre'),
  tall_fence: (facts) => facts.work.includes('on-edge'),
  short_piece: (facts) => facts.work.includes('short-parts'),
  engraving: (facts) => facts.work.includes('engrave'),
  kickback: (facts) => facts.work.some((work) => work === 'rip-narrow' || work === 'crosscut-slices'),
  cutter_head: (facts) => facts.work.some((work) => work === 'joint' || work === 'route'),
  planer_end_grain: (facts) => facts.work.includes('plane-end-grain'),
  dust_lung: (facts) => facts.work.some((work) => /^(rip|plane|route|sand)/.test(work)),
  dust_allergy: (facts) => facts.work.some((work) => RAISES_DUST.test(work)) && (facts.woods ?? []).some(isIrritant),
  noise: (facts) => facts.work.some((work) => /^(rip|plane|joint|route)/.test(work)),
  food_contact: (facts) => (coats(facts) || facts.work.includes('hand-over')) && forFood(facts),
  food_open_film: (facts) => coats(facts) && facts.finishIsFilm === true && facts.pieceIsFor === 'chopping',
  small_parts: (facts) => facts.work.includes('hand-over') && facts.pieceIsFor === 'child',
  lift: (facts) => (facts.liftsKg ?? 0) > HEAVY_KG,
  handover: (facts) => facts.work.includes('hand-over'),
}

const RAISES_DUST = /^(rip|crosscut|groove|mitre|on-edge|plane|joint|route|sand)/

/** Said well under the 23 kg of ideal conditions (NIOSH), because a slab is not a box with handles; common practice, no source. */
const HEAVY_KG = 15

const forFood = (facts: CautionFacts): boolean => facts.pieceIsFor === 'food' || facts.pieceIsFor === 'chopping'
