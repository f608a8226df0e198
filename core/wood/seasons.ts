import { equilibriumMoisture } from './moisture.ts'

/** The two ends of a home's air through the year. */
export interface HomeAir {
  /** Heated in winter. */
  readonly driest: Air
  /** Humid summer. */
  readonly dampest: Air
}

/** A kind of home with its name and where its figures come from. */
export interface SeasonalAir extends HomeAir {
  readonly name: string
  readonly source: string
}

export interface Air {
  readonly celsius: number
  /** Relative humidity, fraction. */
  readonly rh: number
}

/** Moisture of the wood when it is built, and the least and most it comes to in service; percent. */
export interface MoistureSpan {
  readonly buildPct: number
  readonly dryPct: number
  readonly dampPct: number
}

/** The same with how it came about, for "why?". */
export interface WoodMoisture extends MoistureSpan {
  /** Rule, inputs and validity as sentences: "Wood at 8.9 % when built, in January: the mean of ...". */
  readonly because: string
  readonly source: string
}

/** What the wood will go through: built in the shop's air, living in that of a house. */
export function moistureSpan(shop: Air, home: HomeAir): MoistureSpan {
  return {
    buildPct: equilibriumMoisture(shop.celsius, shop.rh),
    dryPct: equilibriumMoisture(home.driest.celsius, home.driest.rh),
    dampPct: equilibriumMoisture(home.dampest.celsius, home.dampest.rh),
  }
}

/** Houses to begin with; the almanac's own figures replace them. */
export const HOMES = {
  usual: {
    name: 'Dry winters, damp summers',
    driest: { celsius: 21, rh: 0.3 },
    dampest: { celsius: 24, rh: 0.6 },
    source:
      'published — E. Wengert: homes in winter 30-35 % humidity; ASHRAE summary: 68-74 F in winter, 73-79 F in summer, up to 60 %',
  },
  controlled: {
    name: 'Humidity kept all year',
    driest: { celsius: 20, rh: 0.35 },
    dampest: { celsius: 24, rh: 0.5 },
    source: 'published — National Wood Flooring Association: 30-50 % humidity (lower end from memory for kept rooms)',
  },
  damp: {
    name: 'Warm, damp coast or unheated room',
    driest: { celsius: 20, rh: 0.45 },
    dampest: { celsius: 26, rh: 0.75 },
    source:
      'common practice, no source; Wood Handbook Fig. 13-1 gives 11 % as the mean for the damp warm coast (secondary summary)',
  },
  dry: {
    name: 'Desert, or strong heating',
    driest: { celsius: 22, rh: 0.15 },
    dampest: { celsius: 25, rh: 0.4 },
    source:
      'common practice, no source; Wood Handbook Fig. 13-1 gives 6 % as the mean for the dry south-west (secondary summary)',
  },
} as const satisfies Record<string, SeasonalAir>
