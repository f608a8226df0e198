import type { Allowances } from '../constructions/shop-facts.ts'
import type { Units } from '../constructions/construction.ts'
import { feet, inches, millimetres } from '../lengths/length.ts'
import { isoCurrency } from '../money/currency.ts'
import { UNHEATED_TEMPERATE } from '../waits/temperature-profile.ts'
import { STEP_FIGURES } from '../waits/step-figures.ts'
import { HOMES } from '../wood/seasons.ts'
import type { WeeklyHours } from '../time/shop-calendar.ts'
import { quartersNm } from '../wood/rough-thickness.ts'
import type { Almanac, ProductOnShelf, WoodOnOffer, Yard } from './almanac.ts'
import { STARTING_MONEY } from './money-facts.ts'
import { STARTING_SCHEDULES } from './starting-schedules.ts'
import { NOTHING_BUT_WORK } from './working-sessions.ts'
import { STARTING_TIMES } from './standard-times.ts'
import { NO_CHOICES } from './times-in-use.ts'

/** Where a new shop stands: read from the computer it is set up on. */
export interface ShopLocale {
  readonly timeZone: string
  readonly units: Units
  /** ISO 4217 code. */
  readonly currency: string
}

/** The almanac of a new shop, complete enough to plan with; every figure is there to be edited. */
export function startingAlmanac(place: ShopLocale): Almanac {
  return {
    shop: { name: 'My shop', ...place, currency: isoCurrency(place.currency), temperatureC: 21, humidityRh: 0.5 },
    air: {
      heated: 'always',
      unheatedC: UNHEATED_TEMPERATE.restC,
      unheatedRh: UNHEATED_TEMPERATE.restRh,
      warmUpMin: UNHEATED_TEMPERATE.warmUpHours * 60,
      coolDownMin: UNHEATED_TEMPERATE.coolDownHours * 60,
    },
    home: { driest: HOMES.usual.driest, dampest: HOMES.usual.dampest },
    makers: [{ id: 'maker', name: 'Me', weeklyHours: EVENINGS_AND_SATURDAY, attendance: 0.9 }],
    specialDays: [],
    stations: [
      { id: 'clamps', name: 'Clamps', kind: 'clamps', capacity: 12 },
      { id: 'glue-up-bench', name: 'Glue-up bench', kind: 'glue-up-bench', capacity: 1 },
      { id: 'rack', name: 'Drying rack', kind: 'rack', capacity: 8 },
      { id: 'finishing-corner', name: 'Finishing corner', kind: 'finishing-corner', capacity: 1 },
    ],
    glues: GLUES,
    finishes: FINISHES,
    woods: WOODS,
    ...sizesIn(place.units),
    woodPrices: {},
    money: STARTING_MONEY,
    constructions: [],
    standardTimes: STARTING_TIMES,
    times: NO_CHOICES,
    clampForceN: 4500,
    buyingDay: 6,
    restDays: usualRestDays,
    countLumber: 'when-listed',
    goBy: 'usual',
    countRecord: 'yes',
    places: [],
    finishSchedules: STARTING_SCHEDULES,
    ownWaits: [],
    woodWaste: {},
    ...{ machines: [], leftToOthers: {}, session: NOTHING_BUT_WORK },
    usual: { wood: '', finish: '' },
    firstStart: { greeted: false, hoursSaid: false },
    keepCustomersYears: 6,
    glueUpWithinMin: 24 * 60,
  }
}

/** What is sold and set by the inch or by the millimetre. */
const sizesIn = (units: Units): Pick<Almanac, 'yard' | 'allowances'> =>
  units === 'inch'
    ? { yard: USUAL_YARD, allowances: STARTING_ALLOWANCES }
    : { yard: METRIC_YARD, allowances: METRIC_ALLOWANCES }

/** What a new shop in the same place would start with: the defaults that facts are compared with. */
export const startingLike = ({ shop: { timeZone, units, currency } }: Almanac): Almanac =>
  startingAlmanac({ timeZone, units, currency: currency.code })

/** The same starting almanac for a shop that measures in these units, whatever the computer stands for. */
export const startingInUnits = (starting: Almanac, units: Units): Almanac =>
  starting.shop.units === units ? starting : { ...starting, ...sizesIn(units) }

const evening = [{ from: 19 * 60, to: 21 * 60 + 30 }]

/** Invented: Monday to Thursday 19:00-21:30 and Saturday 9:00-17:00. */
const EVENINGS_AND_SATURDAY: WeeklyHours = {
  1: evening,
  2: evening,
  3: evening,
  4: evening,
  6: [{ from: 9 * 60, to: 17 * 60 }],
}

const STARTING_ALLOWANCES: Allowances = {
  sawKerfNm: inches(1 / 8),
  flattenPanelNm: inches(1 / 32),
  flattenBoardNm: inches(1 / 16),
  squareEndNm: inches(1 / 4),
  trimEdgeNm: inches(1 / 16),
  holdLastPieceNm: inches(4),
  jointEdgeNm: inches(1 / 16),
  planeFaceNm: inches(3 / 16),
  planeThickNm: inches(1 / 4),
  mitreTrimNm: inches(1),
  jointerWidthNm: inches(6),
  drumSanderWidthNm: inches(19),
  planerWidthNm: inches(12.5),
  bladeHeightNm: inches(3 + 1 / 8),
  shortestPlanedNm: inches(12),
  longestPanelNm: inches(48),
  clampSpacingNm: inches(10),
  clampFromEndNm: inches(2),
  clampReachNm: inches(50),
  offcutLengthNm: inches(12),
  offcutWidthNm: inches(1.5),
}

/** The same in millimetres as makers of millimetres set their machines; inch figures turned into millimetres help nobody. */
const METRIC_ALLOWANCES: Allowances = {
  sawKerfNm: millimetres(3.2),
  flattenPanelNm: millimetres(0.8),
  flattenBoardNm: millimetres(1.5),
  squareEndNm: millimetres(6),
  trimEdgeNm: millimetres(1.5),
  holdLastPieceNm: millimetres(100),
  jointEdgeNm: millimetres(1.5),
  planeFaceNm: millimetres(5),
  planeThickNm: millimetres(6),
  mitreTrimNm: millimetres(25),
  jointerWidthNm: millimetres(260),
  drumSanderWidthNm: millimetres(480),
  planerWidthNm: millimetres(260),
  bladeHeightNm: millimetres(80),
  shortestPlanedNm: millimetres(300),
  longestPanelNm: millimetres(1200),
  clampSpacingNm: millimetres(250),
  clampFromEndNm: millimetres(50),
  clampReachNm: millimetres(1250),
  offcutLengthNm: millimetres(300),
  offcutWidthNm: millimetres(40),
}

/** Rough hardwood as many yards sell it: by the quarter, in random widths (6 and 8 in stand for these) and even lengths. */
export const USUAL_YARD: Yard = {
  thicknessesNm: [4, 5, 6, 8, 10, 12, 16].map(quartersNm),
  widthsNm: [inches(6), inches(8)],
  lengthsNm: [feet(6), feet(8), feet(10)],
  waste: 0.15,
}

/** Rough stock by the millimetre, in middling random widths and even lengths; common practice, no source. */
const METRIC_YARD: Yard = {
  thicknessesNm: [27, 34, 40, 52, 65, 80, 100].map(millimetres),
  widthsNm: [millimetres(150), millimetres(200)],
  lengthsNm: [millimetres(2000), millimetres(2500), millimetres(3000)],
  waste: 0.15,
}

const PRACTICE = 'common practice, no source'

/** What each starting figure rests on. */
export const ALLOWANCE_SOURCES: Readonly<Record<keyof Allowances, string>> = {
  sawKerfNm: 'full-kerf table saw blade, reference pages of blade sellers; thin kerf is 3/32"',
  flattenPanelNm: 'about 1/32" in total after a glue-up: magazine tip',
  flattenBoardNm: PRACTICE,
  squareEndNm: PRACTICE,
  trimEdgeNm: `${PRACTICE}: 1/16" to 1/8" a side`,
  holdLastPieceNm: PRACTICE,
  jointEdgeNm: PRACTICE,
  planeFaceNm: '4/4 rough surfaces to 13/16": thickness table after the NHLA rules',
  planeThickNm: '8/4 rough surfaces to 1 3/4", 12/4 to 2 3/4": thickness table after the NHLA rules',
  mitreTrimNm: PRACTICE,
  jointerWidthNm: `${PRACTICE}: a common small jointer`,
  drumSanderWidthNm: `${PRACTICE}: a common small open-ended drum sander`,
  planerWidthNm: `${PRACTICE}: a common small planer`,
  bladeHeightNm: `${PRACTICE}: a 10" blade at 90 degrees`,
  shortestPlanedNm: 'manual of a small planer: about 12"',
  longestPanelNm: PRACTICE,
  clampSpacingNm: 'Franklin International gluing guide: 8-12" apart',
  clampReachNm: `${PRACTICE}: a common longest bar clamp`,
  clampFromEndNm: 'Franklin International gluing guide: first clamp 1 1/2-2" from the end',
  offcutLengthNm: PRACTICE,
  offcutWidthNm: PRACTICE,
}

/** What each starting figure of the yard rests on. */
/** The shorter end of the published week or two: most lumber is sold kiln-dried. */
const usualRestDays = STEP_FIGURES.lumber.acclimate.min ?? 7

export const REST_SOURCE = `${STEP_FIGURES.lumber.acclimate.source}: ${STEP_FIGURES.lumber.acclimate.min}-${STEP_FIGURES.lumber.acclimate.max} days ${STEP_FIGURES.lumber.acclimate.conditions}`

export const YARD_SOURCES: Readonly<Record<keyof Yard, string>> = {
  thicknessesNm: 'by the quarter inch, as the NHLA rules name rough thicknesses',
  widthsNm: `${PRACTICE}: 6" and 8" stand for random widths`,
  lengthsNm: `${PRACTICE}: even feet`,
  waste: `${PRACTICE}: 15-20% of bought lumber is lost`,
}

const product = (className: string, name: string): ProductOnShelf => ({
  id: className,
  class: className,
  name,
  label: {},
})

const GLUES: readonly ProductOnShelf[] = [
  product('pva_type1', 'Waterproof PVA glue'),
  product('pva_type2', 'Yellow PVA glue'),
  product('hide_liquid', 'Liquid hide glue'),
  product('polyurethane_1c', 'Polyurethane glue'),
  product('epoxy_slow', 'Slow epoxy'),
]

const FINISHES: readonly ProductOnShelf[] = [
  product('mineral_oil_wax', 'Mineral oil and wax'),
  product('wiping_oil_varnish', 'Wiping oil-varnish'),
  product('varnish_tung_resin', 'Tung-oil varnish'),
  product('hardwax_oil', 'Hardwax oil'),
  product('tung_pure', 'Pure tung oil'),
  product('linseed_boiled', 'Boiled linseed oil'),
  product('wipe_on_polyurethane', 'Wipe-on polyurethane'),
  product('oil_polyurethane', 'Brushed polyurethane'),
  product('water_polyurethane', 'Water-based polyurethane'),
  product('shellac', 'Shellac'),
  product('lacquer_nc', 'Lacquer'),
]

const wood = (id: string, name: string, species: string): WoodOnOffer => ({ id, name, species })

const WOODS: readonly WoodOnOffer[] = [
  wood('walnut', 'Walnut', 'Walnut, black'),
  wood('maple', 'Maple', 'Maple, sugar'),
  wood('cherry', 'Cherry', 'Cherry, black'),
  wood('white-oak', 'White oak', 'Oak, white'),
  wood('red-oak', 'Red oak', 'Oak, northern red'),
  wood('ash', 'Ash', 'Ash, white'),
  wood('beech', 'Beech', 'Beech, American'),
  wood('birch', 'Birch', 'Birch, yellow'),
  wood('poplar', 'Poplar', 'Yellow-poplar'),
  wood('sapele', 'Sapele', 'Sapele'),
  wood('purpleheart', 'Purpleheart', 'Purpleheart'),
  wood('padauk', 'Padauk', 'Padauk, African'),
]
