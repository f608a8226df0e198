import { deadlineClock, waitClock, type Clock } from './clock.ts'
import { usual, type Figure } from './figure.ts'
import type { FinishFamily } from './finish-bands.ts'
import { FINISH_FIGURES as F } from './finish-figures.ts'

/** A class of finish; a maker's own can is a product of one class with what its label says. */
export interface FinishClass {
  readonly id: FinishClassId
  readonly name: string
  readonly note: string
  readonly family: FinishFamily
  readonly application: 'wipe' | 'brush' | 'spray'
  readonly clocks: Readonly<Record<FinishClockName, Clock | null>>
  /** What the trade does when the recoat window was missed; null where `recoatCloses` is null. */
  readonly remedy: RecoatRemedy | null
  readonly coats: { readonly least: number; readonly usual: number; readonly most: number; readonly source: string }
  /** Light sanding before every coat but the first. */
  readonly sandBetween: { readonly grit: number; readonly source: string } | null
  /** Surface that one litre covers with one coat, square metres. */
  readonly coverage: {
    readonly min: number
    readonly typical: number
    readonly max: number
    readonly source: string
  } | null
  /** Of shellac that is mixed here: flakes in alcohol at the cut that is usually put on; absent: it comes ready. */
  readonly flakes?: { readonly gramsPerLiter: number; readonly cut: string; readonly source: string }
  /** Outside these it is not applied; what is on goes on drying, see `bandMultiplier`. */
  readonly limits: FinishLimits
  /** A film on the surface: it flakes on a chopping face, and wet or soft film marks in packing. */
  readonly film: boolean
  /** Cloths wet with it can catch fire by themselves. */
  readonly dryingOil: boolean
  /** Nut-family oil in it: a buyer must be asked. */
  readonly nut: 'contains' | 'may contain' | 'none usual'
  /** On boards, trays and bowls: what makers do; never a statement that it is food-safe. */
  readonly onFoodPieces: 'chopping faces and trays' | 'trays and rims, not chopping faces' | 'not usual'
  /** Caution ids of the finish itself, worst first. */
  readonly cautions: readonly string[]
}

export type FinishClassId = Exclude<keyof typeof F, 'any_film_finish'>

/**
 * The clocks of a finish, counted from the end of a coat at reference conditions. `dustFree`: until then dust sticks to it;
 * `touchDry`; `recoatOpens`; `recoatCloses` is a deadline (null: the window stays open); `lightUse`, `mayPack`, `fullCure` and
 * `mayRubOut` count from the last coat. Null: the class has no such clock.
 */
export type FinishClockName =
  'dustFree' | 'touchDry' | 'recoatOpens' | 'recoatCloses' | 'mayPack' | 'lightUse' | 'fullCure' | 'mayRubOut'

export const FINISH_CLOCKS: readonly FinishClockName[] = [
  'dustFree',
  'touchDry',
  'recoatOpens',
  'recoatCloses',
  'mayPack',
  'lightUse',
  'fullCure',
  'mayRubOut',
]

export interface RecoatRemedy {
  readonly action: 'scuff-sand'
  /** Further wait before sanding, on some labels: minutes; else 0. */
  readonly extraWaitMin: number
  readonly note: string
}

export interface FinishLimits {
  readonly coldestC: number
  readonly warmestC: number
  /** Relative humidity as a fraction. */
  readonly dampestRh: number
  readonly source: string
}

export const GENERAL_LIMITS: FinishLimits = {
  coldestC: usual({ ...F.any_film_finish.hard_limits_temp, max: null, typical: null }),
  warmestC: usual(F.any_film_finish.hard_limits_temp),
  dampestRh: 0.85,
  source: `${F.any_film_finish.hard_limits_temp.source}; 85 % from product sheets`,
}

export const SCUFF: RecoatRemedy = {
  action: 'scuff-sand',
  extraWaitMin: 0,
  note: 'Scuff-sand lightly before the next coat.',
}

export type FinishFigures = Readonly<
  Record<'touchDry' | 'recoatOpens' | 'mayPack' | 'lightUse' | 'fullCure', Figure> &
    Partial<Record<'dustFree' | 'recoatCloses' | 'mayRubOut', Figure>>
>

/** Where no dust-free time is known, dust is kept away until the coat is touch dry. */
export function finishClocks(figures: FinishFigures): Readonly<Record<FinishClockName, Clock | null>> {
  return {
    dustFree: waitClock(figures.dustFree ?? figures.touchDry),
    touchDry: waitClock(figures.touchDry),
    recoatOpens: waitClock(figures.recoatOpens),
    recoatCloses: figures.recoatCloses === undefined ? null : deadlineClock(figures.recoatCloses),
    mayPack: waitClock(figures.mayPack),
    lightUse: waitClock(figures.lightUse),
    fullCure: waitClock(figures.fullCure),
    mayRubOut: figures.mayRubOut === undefined ? null : waitClock(figures.mayRubOut),
  }
}

export const coats = (figure: Figure): FinishClass['coats'] => ({
  least: figure.min ?? usual(figure),
  usual: usual(figure),
  most: figure.max ?? usual(figure),
  source: figure.source,
})

const SQUARE_METRES_PER_LITRE: Readonly<Record<string, number>> = {
  'm2/L': 1,
  'ft2/gal': 0.09290304 / 3.785411784,
  'ft2/qt': 0.09290304 / 0.946352946,
}

export function coverage(figure: Figure): FinishClass['coverage'] {
  const factor = SQUARE_METRES_PER_LITRE[figure.unit]
  if (factor === undefined) throw new Error(`a coverage in an unknown unit: ${figure.unit}`)
  const middle =
    figure.typical ?? (figure.min !== null && figure.max !== null ? (figure.min + figure.max) / 2 : usual(figure))
  return {
    min: (figure.min ?? middle) * factor,
    typical: middle * factor,
    max: (figure.max ?? middle) * factor,
    source: figure.source,
  }
}

/** A printed coldest temperature counts with its lower end: between that and comfort the bands already slow it down. */
export function limits(coldest: Figure, warmest: Figure | null = null, dampest: Figure | null = null): FinishLimits {
  return {
    coldestC: coldest.min ?? usual(coldest),
    warmestC: warmest === null ? GENERAL_LIMITS.warmestC : usual(warmest),
    dampestRh: dampest === null ? GENERAL_LIMITS.dampestRh : usual(dampest) / 100,
    source: [coldest, warmest, dampest].flatMap((figure) => (figure === null ? [] : [figure.source])).join('; '),
  }
}
