import { isDeepStrictEqual } from 'node:util'
import type { Almanac, ProductOnShelf, ShopAir, Station, WoodOnOffer, Yard } from '../core/almanac/almanac.ts'
import type { OwnConstruction } from '../core/constructions/own/own-construction.ts'
import type { Allowances } from '../core/constructions/shop-facts.ts'
import type { Currency } from '../core/money/currency.ts'
import type { MoneyFacts } from '../core/almanac/money-facts.ts'
import { rowsOfTimeChoices, timeChoicesOf } from './time-choice-rows.ts'
import type { Database } from './schema.ts'
import type { OwnList, Shelf, ShopRow, YardSizeKind } from './almanac-tables.ts'
import type { AlmanacRows } from './almanac-row-sets.ts'
import { makerHours, makersOf, specialDaysOf } from './hours-rows.ts'
import { TABLE_AT, alone, ownStandardTimes, standardTimesOfRows } from './standard-time-rows.ts'

const LISTS = ['makers', 'specialDays', 'stations', 'glues', 'finishes', 'woods'] as const satisfies readonly OwnList[]

/** The rows that make `almanac` out of the built-in `starting` one. */
export function rowsOfAlmanac(almanac: Almanac, starting: Almanac): AlmanacRows {
  const own = LISTS.filter((list) => !isDeepStrictEqual(almanac[list], starting[list]))
  const listed = <L extends OwnList>(list: L): Almanac[L] => (own.includes(list) ? almanac[list] : ([] as Almanac[L]))
  const days = listed('specialDays')
  const products = [
    ...listed('glues').map((product, position) => ({ shelf: 'glue' as const, product, position })),
    ...listed('finishes').map((product, position) => ({ shelf: 'finish' as const, product, position })),
  ]
  return {
    shop: [shopRow(almanac, starting)],
    unheated_month: unheatedMonths(almanac.air, starting.air),
    own_list: own.map((name) => ({ name })),
    maker: listed('makers').map(({ id, name, attendance }, position) => ({ id, position, name, attendance })),
    maker_hours: listed('makers').flatMap(makerHours),
    special_day: days.map(({ id, day, kind, maker, note }, position) => ({
      id,
      position,
      day,
      kind,
      maker_id: maker,
      note,
    })),
    special_day_hours: days.flatMap((day) =>
      day.hours.map(({ from, to }) => ({ special_day_id: day.id, from_min: from, to_min: to })),
    ),
    station: listed('stations').map(({ id, name, kind, capacity }, position) => ({
      id,
      position,
      name,
      kind,
      capacity,
    })),
    product: products.map(({ shelf, product, position }) => ({
      shelf,
      id: product.id,
      position,
      class: product.class,
      name: product.name,
    })),
    product_label: products.flatMap(({ shelf, product }) =>
      [
        ...Object.entries(product.label),
        ...(product.table ?? []).map(({ celsius, minutes }) => [`${TABLE_AT}${celsius}`, alone(minutes)] as const),
      ].map(([quantity, { min, typical, max }]) => ({
        ...{ shelf, product_id: product.id, quantity },
        ...{ min, typical, max },
      })),
    ),
    wood: listed('woods').map(({ id, name, species }, position) => ({ id, position, name, species })),
    own_construction: almanac.constructions.map(({ id, name, ...definition }, position) => ({
      id,
      position,
      name,
      definition: JSON.stringify(definition),
    })),
    standard_time: ownStandardTimes(almanac.standardTimes, starting.standardTimes),
    ...rowsOfTimeChoices(almanac.times),
    allowance: allowanceNames(almanac)
      .filter((name) => almanac.allowances[name] !== starting.allowances[name])
      .map((name) => ({ name, length_nm: almanac.allowances[name] })),
    yard_size: YARD_SIZES.filter(([, sizes]) => !isDeepStrictEqual(almanac.yard[sizes], starting.yard[sizes])).flatMap(
      ([kind, sizes]) => almanac.yard[sizes].map((size_nm) => ({ kind, size_nm })),
    ),
    money_fact: moneyRows(almanac.money, starting.money),
    shop_figure: [
      ...FIGURES.filter((name) => almanac[name] !== starting[name]).map((name) => ({
        name: name as string,
        value: String(almanac[name]),
      })),
      ...AS_JSON.filter((name) => !isDeepStrictEqual(almanac[name], starting[name])).map((name) => ({
        name: name as string,
        value: JSON.stringify(almanac[name]),
      })),
    ],
    drying_place: almanac.places.map(({ carryMin, inPlans, ...place }, position) => ({
      ...place,
      position,
      carry_min: carryMin,
      in_plans: inPlans ? (1 as const) : (0 as const),
    })),
    own_wait: almanac.ownWaits.map((wait) => ({ ...wait })),
    wood_price: Object.entries(almanac.woodPrices).map(([wood, { minor, per }]) => ({ wood, minor, per })),
  }
}

/** The inverse of `rowsOfAlmanac`; the rows of each list in their order. */
export function almanacOfRows(rows: AlmanacRows, starting: Almanac): Almanac {
  const [shop] = rows.shop
  const own = new Set(rows.own_list.map((row) => row.name))
  const list = <T>(name: OwnList, built: readonly T[], stored: () => readonly T[]): readonly T[] =>
    own.has(name) ? stored() : built
  return {
    shop: {
      name: shop?.name ?? starting.shop.name,
      timeZone: shop?.time_zone ?? starting.shop.timeZone,
      units: shop?.units ?? starting.shop.units,
      currency: currencyOfRow(shop) ?? starting.shop.currency,
      temperatureC: shop?.temperature_c ?? starting.shop.temperatureC,
      humidityRh: shop?.humidity_rh ?? starting.shop.humidityRh,
    },
    air: {
      heated: shop?.heated ?? starting.air.heated,
      unheatedC: monthsOf(rows, 'celsius', starting.air.unheatedC),
      unheatedRh: monthsOf(rows, 'rh', starting.air.unheatedRh),
      warmUpMin: shop?.warm_up_min ?? starting.air.warmUpMin,
      coolDownMin: shop?.cool_down_min ?? starting.air.coolDownMin,
    },
    home: {
      driest: {
        celsius: shop?.home_dry_c ?? starting.home.driest.celsius,
        rh: shop?.home_dry_rh ?? starting.home.driest.rh,
      },
      dampest: {
        celsius: shop?.home_damp_c ?? starting.home.dampest.celsius,
        rh: shop?.home_damp_rh ?? starting.home.dampest.rh,
      },
    },
    makers: list('makers', starting.makers, () => makersOf(rows)),
    specialDays: list('specialDays', starting.specialDays, () => specialDaysOf(rows)),
    stations: list('stations', starting.stations, () => rows.station.map(stationOf)),
    glues: list('glues', starting.glues, () => productsOf('glue', rows)),
    finishes: list('finishes', starting.finishes, () => productsOf('finish', rows)),
    woods: list('woods', starting.woods, () => rows.wood.map(woodOf)),
    constructions: rows.own_construction.map(constructionOf),
    standardTimes: standardTimesOfRows(rows.standard_time, starting.standardTimes),
    times: timeChoicesOf(rows, shop?.follow_times ?? null),
    allowances: allowancesOf(rows.allowance, starting),
    glueUpWithinMin: shop?.glue_up_within_min ?? starting.glueUpWithinMin,
    yard: yardOf(rows, starting.yard, shop?.yard_waste ?? starting.yard.waste),
    money: moneyOfRows(rows.money_fact, starting.money),
    clampForceN: Number(figureOf(rows, 'clampForceN') ?? starting.clampForceN),
    countRecord: (figureOf(rows, 'countRecord') ?? starting.countRecord) as Almanac['countRecord'],
    goBy: (figureOf(rows, 'goBy') ?? starting.goBy) as Almanac['goBy'],
    buyingDay: Number(figureOf(rows, 'buyingDay') ?? starting.buyingDay) as Almanac['buyingDay'],
    restDays: Number(figureOf(rows, 'restDays') ?? starting.restDays),
    keepCustomersYears: Number(figureOf(rows, 'keepCustomersYears') ?? starting.keepCustomersYears),
    countLumber: (figureOf(rows, 'countLumber') ?? starting.countLumber) as Almanac['countLumber'],
    places: rows.drying_place.map(({ id, name, kind, celsius, rh, capacity, carry_min, in_plans }) => ({
      ...{ id, name, kind, celsius, rh, capacity },
      carryMin: carry_min,
      inPlans: in_plans === 1,
    })),
    finishSchedules: jsonOf(rows, 'finishSchedules', starting),
    usual: jsonOf(rows, 'usual', starting),
    firstStart: jsonOf(rows, 'firstStart', starting),
    machines: jsonOf(rows, 'machines', starting),
    leftToOthers: jsonOf(rows, 'leftToOthers', starting),
    session: jsonOf(rows, 'session', starting),
    woodWaste: jsonOf(rows, 'woodWaste', starting),
    ownWaits: rows.own_wait.map((wait) => ({ ...wait })),
    woodPrices: Object.fromEntries(rows.wood_price.map(({ wood, minor, per }) => [wood, { minor, per }])),
  }
}

/** Null where it is as built in. Time zone, units and currency come from the computer, so they are always kept. */
function shopRow({ shop, air, home, yard, glueUpWithinMin, times }: Almanac, starting: Almanac): ShopRow {
  const own = <T>(value: T, built: T): T | null => (value === built ? null : value)
  return {
    id: 'shop',
    name: own(shop.name, starting.shop.name),
    time_zone: shop.timeZone,
    units: shop.units,
    currency: shop.currency.code,
    currency_decimals: shop.currency.decimals,
    temperature_c: own(shop.temperatureC, starting.shop.temperatureC),
    humidity_rh: own(shop.humidityRh, starting.shop.humidityRh),
    heated: own(air.heated, starting.air.heated),
    warm_up_min: own(air.warmUpMin, starting.air.warmUpMin),
    cool_down_min: own(air.coolDownMin, starting.air.coolDownMin),
    home_dry_c: own(home.driest.celsius, starting.home.driest.celsius),
    home_dry_rh: own(home.driest.rh, starting.home.driest.rh),
    home_damp_c: own(home.dampest.celsius, starting.home.dampest.celsius),
    home_damp_rh: own(home.dampest.rh, starting.home.dampest.rh),
    glue_up_within_min: own(glueUpWithinMin, starting.glueUpWithinMin),
    yard_waste: own(yard.waste, starting.yard.waste),
    follow_times: times.follow,
  }
}

/** Months in which the unheated air differs from the built-in one. */
function unheatedMonths(air: ShopAir, starting: ShopAir): Database['unheated_month'][] {
  const own = (value: number | undefined, built: number | undefined): number | null =>
    value === undefined || value === built ? null : value
  return starting.unheatedC
    .map((celsius, at) => ({
      month: at + 1,
      celsius: own(air.unheatedC[at], celsius),
      rh: own(air.unheatedRh[at], starting.unheatedRh[at]),
    }))
    .filter((row) => row.celsius !== null || row.rh !== null)
}

const monthsOf = (rows: AlmanacRows, column: 'celsius' | 'rh', built: readonly number[]): readonly number[] =>
  built.map((value, at) => rows.unheated_month.find((row) => row.month === at + 1)?.[column] ?? value)

const stationOf = ({ id, name, kind, capacity }: Database['station']): Station => ({ id, name, kind, capacity })

const woodOf = ({ id, name, species }: Database['wood']): WoodOnOffer => ({ id, name, species })

const constructionOf = ({ id, name, definition }: Database['own_construction']): OwnConstruction => ({
  id,
  name,
  ...(JSON.parse(definition) as Omit<OwnConstruction, 'id' | 'name'>),
})

const productsOf = (shelf: Shelf, rows: AlmanacRows): ProductOnShelf[] =>
  rows.product
    .filter((row) => row.shelf === shelf)
    .map((row) => {
      const own = rows.product_label.filter((label) => label.shelf === shelf && label.product_id === row.id)
      const table = own
        .filter(({ quantity }) => quantity.startsWith(TABLE_AT))
        .map(({ quantity, typical }) => ({ celsius: Number(quantity.slice(TABLE_AT.length)), minutes: typical }))
        .toSorted((a, b) => a.celsius - b.celsius)
      return {
        ...{ id: row.id, class: row.class, name: row.name },
        label: Object.fromEntries(
          own
            .filter(({ quantity }) => !quantity.startsWith(TABLE_AT))
            .map(({ quantity, min, typical, max }) => [quantity, { min, typical, max }]),
        ),
        ...(table.length === 0 ? {} : { table }),
      }
    })

const FIGURES = [
  'clampForceN',
  'goBy',
  'countRecord',
  'buyingDay',
  'restDays',
  'keepCustomersYears',
  'countLumber',
] as const satisfies readonly (keyof Almanac)[]

/** Facts that are kept as JSON beside the figures. */
const AS_JSON = [
  'finishSchedules',
  'usual',
  'firstStart',
  'woodWaste',
  'machines',
  'leftToOthers',
  'session',
] as const satisfies readonly (keyof Almanac)[]

const jsonOf = <Name extends (typeof AS_JSON)[number]>(
  rows: AlmanacRows,
  name: Name,
  starting: Almanac,
): Almanac[Name] => {
  const stored = figureOf(rows, name)
  return stored === undefined ? starting[name] : (JSON.parse(stored) as Almanac[Name])
}

const figureOf = (
  { shop_figure }: AlmanacRows,
  name: (typeof FIGURES)[number] | (typeof AS_JSON)[number],
): string | undefined => shop_figure.find((row) => row.name === name)?.value

const allowanceNames = (almanac: Almanac) => Object.keys(almanac.allowances) as (keyof Allowances)[]

function allowancesOf(rows: AlmanacRows['allowance'], starting: Almanac): Allowances {
  const own = new Map(rows.map((row) => [row.name, row.length_nm]))
  return Object.fromEntries(
    allowanceNames(starting).map((name) => [name, own.get(name) ?? starting.allowances[name]]),
  ) as unknown as Allowances
}

const YARD_SIZES: readonly (readonly [YardSizeKind, Exclude<keyof Yard, 'waste'>])[] = [
  ['thickness', 'thicknessesNm'],
  ['width', 'widthsNm'],
  ['length', 'lengthsNm'],
]

function yardOf({ yard_size }: AlmanacRows, built: Yard, waste: number): Yard {
  const own = YARD_SIZES.map(([kind, sizes]) => {
    const stored = yard_size.filter((row) => row.kind === kind).map((row) => row.size_nm)
    return [sizes, stored.length > 0 ? stored : built[sizes]] as const
  })
  return { ...built, ...Object.fromEntries(own), waste }
}

const currencyOfRow = (shop: ShopRow | undefined): Currency | null =>
  shop === undefined ? null : { code: shop.currency, decimals: shop.currency_decimals }

const moneyRows = (money: MoneyFacts, starting: MoneyFacts): Database['money_fact'][] =>
  Object.entries(money)
    .filter(([name, value]) => !isDeepStrictEqual(value, starting[name as keyof MoneyFacts]))
    .map(([name, value]) => ({ name, value: JSON.stringify(value) }))

const moneyOfRows = (rows: readonly Database['money_fact'][], starting: MoneyFacts): MoneyFacts => ({
  ...starting,
  ...(Object.fromEntries(
    rows.flatMap(({ name, value }) => (Object.hasOwn(starting, name) ? [[name, JSON.parse(value) as unknown]] : [])),
  ) as Partial<MoneyFacts>),
})
