/**
 * How a glue's waits answer to temperature between its minimum temperature and warmer. Below the minimum nothing answers:
 * that is a hold. Expect at best +/- 30 % inside the validity; the slower end is what a customer should be told.
 */
export type TemperatureResponse =
  /**
   * Waits double for every `intervalC` below `referenceC`. Above it they get shorter only up to `fastestC` (equal to
   * `referenceC` where no label gives credit for warmth).
   */
  | {
      readonly kind: 'doubling'
      readonly referenceC: number
      readonly intervalC: number
      readonly fastestC: number
      readonly source: string
    }
  /** A printed table, read on the logarithm of time between its temperatures and never beyond its ends. */
  | {
      readonly kind: 'table'
      readonly referenceC: number
      readonly waits: readonly TablePoint[]
      /** The maker's table of assembly time, where there is one. */
      readonly deadlines: readonly TablePoint[] | null
      readonly source: string
    }
  /**
   * No usable rule is published: below `referenceC` the slow end of the printed range is planned with. Deadlines halve for every
   * `deadlineIntervalC` above it.
   */
  | {
      readonly kind: 'no-rule'
      readonly referenceC: number
      readonly deadlineIntervalC: number
      readonly source: string
    }

/** Minutes at a temperature; tables are sorted from cold to warm and have two points or more. */
export interface TablePoint {
  readonly celsius: number
  readonly minutes: number
}

/**
 * Minutes between the printed temperatures of a table: straight on the logarithm of time, because the doubling interval of
 * real glues is short near the cold limit and long when warm. Warmer than the table counts as its warm end; colder than
 * the table is null.
 */
export function minutesFromTable(points: readonly TablePoint[], celsius: number): number | null {
  const first = points[0]
  const last = points.at(-1)
  if (first === undefined || last === undefined || celsius < first.celsius) return null
  if (celsius >= last.celsius) return last.minutes
  const above = points.findIndex((point) => point.celsius > celsius)
  const [cold, warm] = [points[above - 1], points[above]]
  if (cold === undefined || warm === undefined) return null
  const share = (celsius - cold.celsius) / (warm.celsius - cold.celsius)
  return Math.exp(Math.log(cold.minutes) * (1 - share) + Math.log(warm.minutes) * share)
}

/**
 * Progress of a wait per elapsed minute, relative to the reference temperature, at or above the minimum temperature; null
 * where a table ends in the cold.
 * @param slowest typical divided by slow end of the clock, 0..1: what `no-rule` answers in the cold
 */
export function waitRate(response: TemperatureResponse, celsius: number, slowest: number): number | null {
  if (response.kind === 'no-rule') return celsius < response.referenceC ? slowest : 1
  if (response.kind === 'table') return tableRate(response.waits, response.referenceC, celsius)
  return 2 ** ((Math.min(celsius, response.fastestC) - response.referenceC) / response.intervalC)
}

/**
 * How much faster than at the reference temperature a deadline such as the open time runs: every degree that shortens a wait
 * shortens the time to get the clamps on, also beyond the warm end of a table or of the credit for waits. No extra time is
 * counted on in the cold unless a maker prints it.
 */
export function deadlineRate(response: TemperatureResponse, celsius: number): number {
  if (response.kind === 'no-rule')
    return Math.max(1, 2 ** ((celsius - response.referenceC) / response.deadlineIntervalC))
  if (response.kind === 'doubling') return Math.max(1, 2 ** ((celsius - response.referenceC) / response.intervalC))
  if (response.deadlines !== null) return deadlineTableRate(response.deadlines, response.referenceC, celsius)
  return Math.max(1, deadlineTableRate(response.waits, response.referenceC, celsius))
}

/** Warmer than the table goes on as between its two warmest points; colder counts as its cold end. */
function deadlineTableRate(points: readonly TablePoint[], referenceC: number, celsius: number): number {
  const [first, last, before] = [points[0], points.at(-1), points.at(-2)]
  if (first === undefined || last === undefined || before === undefined) return 1
  const minutesAt = (at: number): number => {
    if (at <= last.celsius) return minutesFromTable(points, Math.max(at, first.celsius)) ?? first.minutes
    const perDegree = Math.log(last.minutes / before.minutes) / (last.celsius - before.celsius)
    return last.minutes * Math.exp(Math.min(0, perDegree) * (at - last.celsius))
  }
  return minutesAt(referenceC) / minutesAt(celsius)
}

function tableRate(points: readonly TablePoint[], referenceC: number, celsius: number): number | null {
  const reference = minutesFromTable(points, referenceC)
  const here = minutesFromTable(points, celsius)
  return reference === null || here === null ? null : reference / here
}
