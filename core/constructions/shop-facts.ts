import type { GrainCut, MovementCoefficient } from '../wood/movement.ts'
import type { WoodMoisture } from '../wood/seasons.ts'
import type { LengthUnits } from '../lengths/length.ts'

/** What constructions need to know of this shop, resolved from the almanac. All figures at reference conditions (about 21 C, 50 % RH). */
export interface ShopFacts {
  readonly units: LengthUnits
  readonly woods: readonly WoodFacts[]
  /** Moisture of the wood when it is built in the shop's air of that season, and what it comes to in the house where it will live. */
  readonly moisture: WoodMoisture
  readonly glues: readonly GlueFacts[]
  readonly finishes: readonly FinishFacts[]
  /** Station ids by what they are for, with capacity; a shop may lack one (undefined: no limit, nothing is held). */
  readonly stations: {
    readonly clamps?: StationFacts
    readonly rack?: StationFacts
    readonly glueUpBench?: StationFacts
    readonly finishingCorner?: StationFacts
  }
  /** Standard time of an operation; every operation that a construction uses is in the almanac's defaults. */
  standardTime(operation: string): StandardTime
  readonly allowances: Allowances
  /** What one clamp presses with, newtons. */
  readonly clampForceN: number
  /** Milled stock moves as its moisture evens out: it is glued up within so many minutes, or freshened first. */
  readonly glueUpWithinMin: number
  /** Length of the shortest weekly session: work that may not be interrupted is kept within it where it can be split. */
  readonly shortestSessionMin: number
  /** Length of the longest weekly session: what may not be interrupted never fits if it takes longer. */
  readonly longestSessionMin: number
}

export interface WoodFacts {
  readonly id: string
  readonly name: string
  /** Its name in the species table; its own where that does not have it. */
  readonly species: string
  /** Movement across the grain by how the boards were sawn; null where no figure is published for the species. */
  readonly across: Readonly<Record<GrainCut, MovementCoefficient>> | null
  /** Weight of finished goods (8 % moisture); null where none is published. */
  readonly kgPerCubicMetre: number | null
}

export interface StationFacts {
  readonly id: string
  readonly name: string
  readonly capacity: number
}

/** Minutes with their published range. */
export interface RangeMin {
  readonly min: number
  readonly typical: number
  readonly max: number
  readonly source: string
}

export interface GlueFacts {
  readonly id: string
  readonly name: string
  /** From first spreading to full pressure, in the air of the glue-up: the time within which the clamps must be on. */
  readonly assembly: RangeMin
  /** How warm it then is in the shop, degrees Celsius. */
  readonly assemblyC: number
  /** Once mixed it is spread within half of it; null: it is not mixed. */
  readonly potLife: RangeMin | null
  /** Grams per square metre of one joint; null: neither label nor class says so. */
  readonly spread: { readonly min: number; readonly max: number; readonly source: string } | null
  readonly clampsOff: RangeMin
  /** From the end of the glue-up until the joint may be planed, sanded or sawn. */
  readonly mayMachine: RangeMin
  readonly fullStrength: RangeMin
  /** What water does to the joint: `none` comes apart, `resists` stands a wipe, `waterproof` a sink now and then. */
  readonly water: 'none' | 'resists' | 'waterproof'
  /** Contact is enough: clamps hold it in place, no more. */
  readonly contactOnly: boolean
  readonly cautions: readonly string[]
}

export interface FinishFacts {
  readonly id: string
  readonly name: string
  /** How it is put on; decides the standard time of a coat. */
  readonly application: 'wipe' | 'brush' | 'spray'
  readonly coats: { readonly least: number; readonly usual: number; readonly most: number; readonly source: string }
  /** Soaks raw wood with water, whose grain then stands up. */
  readonly waterBorne: boolean
  /** Square meters a liter with one coat; null: neither label nor class says so. */
  readonly coverage: { readonly typical: number; readonly source: string } | null
  /** Mixed from flakes before it is put on; absent: it comes ready. */
  readonly flakes?: { readonly gramsPerLiter: number; readonly cut: string; readonly source: string }
  /** After a coat until the piece may be turned onto that side. */
  readonly mayTurn: RangeMin
  /** Dust sticks to it until then. */
  readonly tacky: RangeMin
  readonly recoatOpens: RangeMin
  /** After this the next coat needs the remedy first, `remedyMin` a piece; null: the window stays open, or is sanded before each coat anyway. */
  readonly recoatCloses: {
    readonly minutes: number
    readonly remedy: string
    readonly remedyMin: number
    readonly source: string
  } | null
  /** Sanded lightly between coats. */
  readonly sandBetween: boolean
  /** After the last coat until it may be packed or handed over. */
  readonly mayPack: RangeMin
  readonly fullCure: RangeMin
  /** After the last coat until it may be rubbed out. */
  readonly mayRubOut: RangeMin
  /** A film on the surface (not for a chopping face). */
  readonly film: boolean
  /** Oil and wax that soak in and stay soft do not. */
  readonly hardens: boolean
  /** Cloths wet with it can catch fire by themselves. */
  readonly dryingOil: boolean
  /** Nut-family oil in it: the buyer is asked when the order is taken. */
  readonly nut: 'contains' | 'may contain' | 'none usual'
  /** What makers put it on; never a statement that it is food-safe. */
  readonly onFoodPieces: 'chopping faces and trays' | 'trays and rims, not chopping faces' | 'not usual'
  readonly cautions: readonly string[]
  /** Of a schedule of the almanac: its coats in order, and what follows them; absent: so many coats of this one finish. */
  readonly schedule?: {
    readonly coats: readonly CoatFacts[]
    /** Grit or pad; null: it stays as it is. */
    readonly rubOut: string | null
    readonly wax: FinishFacts | null
  }
}

/** One coat of a finish. */
export interface CoatFacts {
  readonly finish: FinishFacts
  readonly method: FinishFacts['application']
  /** Sanding before it; null: none. */
  readonly sandGrit: number | null
  /** From the coat below until this one may go on; null: it is the first. */
  readonly opens: RangeMin | null
  /** What to mind over the coat below; empty: nothing. */
  readonly note: string
  /** It does not hold on the coat below. */
  readonly never: boolean
}

export interface StandardTime {
  readonly operation: string
  readonly name: string
  /** Setup of the machine, shared within `family`; null family: part of the step itself. */
  readonly setUpMin: number
  readonly family: string | null
  readonly perUnitMin: number
  /** What is counted: "strip", "board", "cut". */
  readonly unit: string
  /** Spread of the per-unit time as factors: optimistic <= 1 <= pessimistic. */
  readonly optimisticFactor: number
  readonly pessimisticFactor: number
  readonly source: string
}

/** Lengths taken off or lost at each operation, whole nanometres; all editable in the almanac. */
export interface Allowances {
  readonly sawKerfNm: number
  /** Off both faces together when a panel is flattened after the first glue-up. */
  readonly flattenPanelNm: number
  /** Off both faces together when the end-grain board is flattened. */
  readonly flattenBoardNm: number
  /** Off each end when an end is squared. */
  readonly squareEndNm: number
  /** Off each edge when a glued-up panel or board is trimmed to its size. */
  readonly trimEdgeNm: number
  /** Left over so that the last piece can be held safely at the saw. */
  readonly holdLastPieceNm: number
  readonly jointEdgeNm: number
  /** Off both faces together when rough stock is planed; more from 8/4 (50 mm) up. */
  readonly planeFaceNm: number
  readonly planeThickNm: number
  /** Added to each mitered blank's length for trimming. */
  readonly mitreTrimNm: number
  readonly jointerWidthNm: number
  readonly drumSanderWidthNm: number
  readonly planerWidthNm: number
  /** Thickest stock that the table saw cuts through in one pass. */
  readonly bladeHeightNm: number
  /** Shortest stock that may go through the planer. */
  readonly shortestPlanedNm: number
  /** Longest panel that the boards on hand, the bench and the crosscut sled allow. */
  readonly longestPanelNm: number
  /** Distance from clamp to clamp along a joint, and of the first one from the end. */
  readonly clampSpacingNm: number
  readonly clampFromEndNm: number
  /** Widest panel that the clamps reach across. */
  readonly clampReachNm: number
  /** An offcut of at least this length and width goes back to the boards on hand. */
  readonly offcutLengthNm: number
  readonly offcutWidthNm: number
}
