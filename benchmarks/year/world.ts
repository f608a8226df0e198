/**
 * A family of shops: how much is asked for, what is true of makers, evenings, waits and mishaps. Each shop draws its own values.
 * `[least, most]` is a range from which a shop draws evenly. Shares and chances are 0..1.
 */
export interface World {
  readonly name: string
  readonly orders: {
    /** Orders asked for in a week, on average over the year: where customers leave, and where everybody stays. */
    readonly perWeek: number
    readonly perWeekOpenDoor: number
    /** How much more is asked for in the middle of November than in spring: 1.2 means up to 2.2 times as much. */
    readonly season: number
    readonly mix: readonly MixedPiece[]
  }
  readonly customers: {
    /** When it is needed at the latest: median in weeks, and spread of its logarithm. */
    readonly needWeeks: number
    readonly needSpread: number
    /** Share with a fixed day, and share of these that need it between 1 and 24 December; the others within 2 to 16 weeks. */
    readonly fixedDay: number
    readonly december: number
    /** Share that changes its size in the first third of the time, by a factor in the range. */
    readonly changesSize: number
    readonly sizeChange: Range
  }
  /** Logarithm of true minutes over the book's: of the maker, of each operation, order and step. `stepFreedom`: t with so many degrees; null: normal. */
  readonly minutes: {
    readonly makerMean: number
    readonly makerSpread: number
    readonly operationSpread: number
    readonly orderSpread: number
    readonly stepSpread: number
    readonly stepFreedom: number | null
  }
  readonly evenings: {
    /** Hours by weekday, 1 = Monday: `{ "1": "19:00-21:30" }`. */
    readonly hours: Readonly<Record<string, string>>
    /** Share of the evenings that the almanac counts on, and share that is met. */
    readonly almanacAttendance: number
    readonly attendance: Range
    /** Chance that nobody is there for a whole week. */
    readonly lostWeek: number
    readonly lateUpToMin: number
    readonly closesEarly: number
  }
  /**
   * What a new shop answers to the first questions; null: it skips them all. How fast somebody is at three things is said with an error
   * of that spread (of its logarithm), the share of evenings that are met within so much, in whole tenths.
   */
  readonly answers: { readonly timesSpread: number; readonly attendanceOff: number } | null
  readonly waits: {
    /** Within so many degrees Celsius of the almanac's temperature. */
    readonly temperatureOff: number
    /** Factor on every published time. */
    readonly factor: number
  }
  readonly mishaps: {
    /** A glue-up fails: it and its release are done again, so much longer. */
    readonly glueUp: number
    readonly againFactor: number
    /** A piece cracks: the order is made from the start. */
    readonly crack: number
  }
  /** How the log is kept: steps without a start, presses so many minutes late, pauses forgotten at closing time. */
  readonly pressing: {
    readonly noStart: number
    readonly late: number
    readonly lateMin: number
    readonly pauseForgotten: number
  }
}

export type Range = readonly [number, number]

/** A kind of order, as often as its weight says. A list of texts means: one of these, drawn for each order. */
export interface MixedPiece {
  readonly weight: number
  readonly construction: string
  readonly count: number
  readonly input: Readonly<Record<string, string | boolean | readonly string[]>>
}

/** The one world on which anything may be tuned. Invented; hands-on work of an order is about 5 hours on average, set-ups included. */
export const DEVELOPMENT_WORLD: World = {
  name: 'development',
  orders: {
    perWeek: 3,
    perWeekOpenDoor: 2.1,
    season: 1.2,
    mix: [
      {
        weight: 40,
        construction: 'edge-grain-board',
        count: 1,
        input: { length: ['14', '16', '20', '24'], width: ['10', '12', '14'], stripes: ['one', 'two'] },
      },
      {
        weight: 24,
        construction: 'end-grain-board',
        count: 1,
        input: { cellsAcross: ['7', '8', '9'], cellsAlong: ['8', '10', '12'], pattern: ['chequer', 'stripes'] },
      },
      {
        weight: 14,
        construction: 'box',
        count: 1,
        input: { length: ['9', '12', '15'], height: ['3', '4', '6'], finish: ['wiping_oil_varnish', 'shellac'] },
      },
      {
        weight: 6,
        construction: 'framed-field',
        count: 1,
        input: { cell: ['1 3/4', '2'], finish: ['wiping_oil_varnish', 'hardwax_oil'] },
      },
      {
        weight: 10,
        construction: 'edge-grain-board',
        count: 2,
        input: { length: ['14', '16', '18'], finish: ['mineral_oil_wax', 'hardwax_oil'] },
      },
      { weight: 3, construction: 'end-grain-board', count: 2, input: { cellsAcross: ['7', '8'] } },
      { weight: 3, construction: 'box', count: 2, input: { length: ['9', '12'] } },
    ],
  },
  customers: {
    ...{ needWeeks: 6, needSpread: 0.5, fixedDay: 0.2, december: 0.5 },
    ...{ changesSize: 0.05, sizeChange: [0.8, 1.5] },
  },
  minutes: {
    ...{ makerMean: 0.15, makerSpread: 0.15, operationSpread: 0.25 },
    ...{ orderSpread: 0.12, stepSpread: 0.25, stepFreedom: null },
  },
  evenings: {
    hours: { 1: '19:00-21:30', 2: '19:00-21:30', 3: '19:00-21:30', 4: '19:00-21:30', 6: '9:00-17:00' },
    ...{ almanacAttendance: 0.9, attendance: [0.8, 0.95], lostWeek: 0.03, lateUpToMin: 20, closesEarly: 0.1 },
  },
  answers: null,
  waits: { temperatureOff: 2, factor: 1 },
  mishaps: { glueUp: 0.03, againFactor: 1.2, crack: 0.01 },
  pressing: { noStart: 0.1, late: 0.05, lateMin: 60, pauseForgotten: 0.02 },
}
