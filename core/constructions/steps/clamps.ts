import { inches, millimetres, NM_PER_METRE } from '../../lengths/length.ts'
import { writeLength } from '../../lengths/write-length.ts'
import type { GlueFacts, ShopFacts } from '../shop-facts.ts'

/**
 * Clamps along a joint: the first ones a little in from the ends, the others evenly between, no further apart than the almanac says.
 * @source Franklin International, gluing guide: 8-12 in apart, first one 1 1/2-2 in from the end
 */
export function clampsAlong(jointNm: number, { allowances }: Pick<ShopFacts, 'allowances'>): number {
  const between = Math.max(0, jointNm - 2 * allowances.clampFromEndNm)
  return Math.max(2, Math.ceil(between / allowances.clampSpacingNm) + 1)
}

/** A joint to be clamped: how long and how thick it is, and the heaviest of its woods, which asks for the most pressure. */
export interface ClampedJoint {
  readonly lengthNm: number
  readonly thicknessNm: number
  /** From clamp jaw to clamp jaw: the width of the panel. */
  readonly reachNm: number
  readonly woods: readonly string[]
}

/** How many clamps a joint takes, and what speaks against it. */
export interface ClampsNeeded {
  readonly clamps: number
  readonly warnings: readonly string[]
}

/**
 * Clamps on a joint: as many as spacing asks for, more where force does. Joints side by side share one force, so one joint counts. Where
 * the shop has fewer than force asks for, all it has are put on and it is said how much they press.
 * @source force: pressure times the area of one joint (FDMC magazine 2014); pressure: Franklin gluing guide, softwood from 100 psi,
 * medium hardwoods from 150, hard ones from 200
 */
export function clampsOn(
  what: string,
  joint: ClampedJoint,
  glue: Pick<GlueFacts, 'contactOnly'>,
  facts: ShopFacts,
): ClampsNeeded {
  const bySpacing = clampsAlong(joint.lengthNm, facts)
  const squareMetres = (joint.lengthNm / NM_PER_METRE) * (joint.thicknessNm / NM_PER_METRE)
  const newtons = glue.contactOnly ? 0 : pressureOn(joint.woods, facts) * squareMetres
  const byForce = Math.ceil(newtons / facts.clampForceN)
  const has = facts.stations.clamps?.capacity ?? Infinity
  const clamps = Math.max(bySpacing, Math.min(byForce, has))
  const say = (nm: number): string => writeLength(nm, facts.units)
  const { clampReachNm } = facts.allowances
  return {
    clamps,
    warnings: [
      ...(byForce > clamps
        ? [
            `${what}: ${clamps} clamps press about ${psi((clamps * facts.clampForceN) / squareMetres)} psi on the joint, ${psi(pressureOn(joint.woods, facts))} is usual for this wood (${byForce} clamps): joint it well, or use stronger clamps.`,
          ]
        : []),
      ...(joint.reachNm > clampReachNm
        ? [
            `${what} is ${say(joint.reachNm)} wide, the longest clamps open to ${say(clampReachNm)}: glue it up in two parts.`,
          ]
        : []),
    ],
  }
}

const PASCALS_PER_PSI = 6894.757

const psi = (pascals: number): number => Math.round(pascals / PASCALS_PER_PSI / 5) * 5

/** Least pressure that the guide prints, by the weight of the heaviest wood; a wood of unknown weight counts as hard. */
function pressureOn(woods: readonly string[], { woods: known }: ShopFacts): number {
  const densities = woods.map((id) => known.find((wood) => wood.id === id)?.kgPerCubicMetre ?? Infinity)
  const heaviest = Math.max(0, ...densities)
  return (heaviest < 500 ? 100 : heaviest < 640 ? 150 : 200) * PASCALS_PER_PSI
}

/** How many clamps, and how they lie on a panel. */
export const clampsInWords = (clamps: number, panel: { readonly jointNm: number } | undefined): string =>
  panel === undefined
    ? `${clamps} ${clamps === 1 ? 'clamp' : 'clamps'} each.`
    : `${clamps} clamps, over and under in turn.`

/** Narrower than this a panel is kept flat by its clamps; common practice, no source. */
const LEAST_FOR_CAULS_NM = inches(6)

/**
 * Pairs of cauls across a panel's joints: one near each end, the others no further apart than clamps may be twice over.
 * @source common practice, no source
 */
export function caulPairs(
  { jointNm, reachNm }: { readonly jointNm: number; readonly reachNm: number },
  { allowances }: Pick<ShopFacts, 'allowances'>,
): number {
  if (reachNm < LEAST_FOR_CAULS_NM) return 0
  const between = Math.max(0, jointNm - 2 * allowances.clampFromEndNm)
  return Math.max(2, Math.ceil(between / (2 * allowances.clampSpacingNm)) + 1)
}

/** A clamp at each end of a pair of cauls. */
export const CLAMPS_PER_PAIR = 2

/**
 * Pairs of cauls on each of so many panels that are glued up at once: as many as wanted, fewer where the panels themselves leave too few
 * clamps. Cauls help a panel to stay flat; nobody glues it up later for their sake.
 * @param taken clamps on the panels themselves
 */
export function pairsWithClamps(
  panel: { readonly jointNm: number; readonly reachNm: number },
  panels: number,
  taken: number,
  facts: Pick<ShopFacts, 'allowances' | 'stations'>,
): number {
  const left = Math.max(0, (facts.stations.clamps?.capacity ?? Infinity) - taken)
  return Math.min(caulPairs(panel, facts), Math.floor(left / (CLAMPS_PER_PAIR * panels)))
}

/** Cauls stand out past the panel so that their clamps find room. @param pairs for which there are clamps */
export function caulsInWords(
  panel: { readonly jointNm: number; readonly reachNm: number },
  pairs: number,
  facts: Pick<ShopFacts, 'allowances' | 'units'>,
): string {
  const wanted = caulPairs(panel, facts)
  if (pairs === 0) return wanted === 0 ? '' : 'No clamps left for cauls: tap the joints flush as you close them.'
  const overNm = facts.units === 'inch' ? inches(4) : millimetres(100)
  const unit = facts.units === 'inch' ? inches(1) : millimetres(10)
  const longNm = Math.ceil((panel.reachNm + overNm) / unit) * unit
  const sizes = `${writeLength(longNm, facts.units)} long, taped, ${CLAMPS_PER_PAIR} clamps a pair`
  return pairs === wanted
    ? `${pairs} pairs of cauls ${sizes}.`
    : `${pairs} ${pairs === 1 ? 'pair' : 'pairs'} of cauls ${sizes}; ${wanted} pairs if you had the clamps.`
}
