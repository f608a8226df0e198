import type { Hold, Lag, PlanningProblem, PlanStep } from '../../core/planning/index.ts'

/** The format `shop-tiny/1`: a small shop with proven optimal answers. Minutes count from a Monday 00:00. */
export interface ShopTiny {
  readonly name: string
  readonly windows: readonly (readonly [number, number])[]
  readonly makers: number
  readonly stations: readonly { readonly id: string; readonly capacity: number }[]
  readonly commissions: readonly { readonly id: string; readonly due: number | null; readonly weight: number }[]
  readonly steps: readonly {
    readonly commission: string
    readonly name: string
    readonly duration: number
    readonly interruptible: boolean
    readonly hands: number
    readonly release: number
    readonly holds: readonly {
      readonly station: string
      readonly units: number
      readonly until: Hold['until']['kind']
      readonly step?: number
      readonly minutes?: number
    }[]
  }[]
  readonly lags: readonly {
    readonly from: number
    readonly to: number
    readonly min: number
    readonly max: number | null
  }[]
}

/** The Monday of minute 0 on the plan line; any will do, as the format knows no dates. */
export const TINY_ORIGIN = 20_458 * 1440

const ALL = 'all'
const FAR_OFF = 10_000_000

export const readShopTiny = (text: string): ShopTiny => JSON.parse(text) as ShopTiny

/**
 * @param aim 'soonest': all is one commission without a promise, so that the least makespan is sought; 'promises': the least
 * weighted tardiness, then the least makespan, what has no due date being promised for a day far off
 */
export function shopTinyProblem(tiny: ShopTiny, aim: 'soonest' | 'promises'): PlanningProblem {
  const hours = tiny.windows.map(([from, to]) => ({ from: TINY_ORIGIN + from, to: TINY_ORIGIN + to }))
  return {
    now: TINY_ORIGIN,
    makers: Array.from({ length: tiny.makers }, (_, maker) => ({ id: `m${maker}`, name: `Maker ${maker}`, hours })),
    stations: tiny.stations.map(({ id, capacity }) => ({ id, name: id, capacity })),
    clocks: [],
    commissions:
      aim === 'soonest'
        ? [{ id: ALL, name: ALL, promise: null, weight: 1 }]
        : tiny.commissions.map(({ id, due, weight }) => ({
            id,
            name: id,
            promise: TINY_ORIGIN + (due ?? FAR_OFF),
            weight,
          })),
    steps: tiny.steps.map((step, index): PlanStep => ({
      id: `${index}`,
      name: step.name,
      pieceId: step.commission,
      pieceName: step.commission,
      commissionId: aim === 'soonest' ? ALL : step.commission,
      minutes: step.duration,
      hands: step.hands,
      interruptible: step.interruptible,
      smallestStretchMin: 0,
      holds: step.holds.map((hold): Hold => ({ station: hold.station, units: hold.units, until: holdEnd(hold) })),
      room: 'shop',
      dusty: false,
      tackyMin: 0,
      release: TINY_ORIGIN + step.release,
      state: { kind: 'to-do' },
    })),
    lags: tiny.lags.map(({ from, to, min, max }): Lag => ({
      from: `${from}`,
      to: `${to}`,
      minMin: min,
      maxMin: max,
      wait: 'none',
      name: `from ${from} to ${to}`,
    })),
    announced: [],
  }
}

function holdEnd({ until, step, minutes }: ShopTiny['steps'][number]['holds'][number]): Hold['until'] {
  switch (until) {
    case 'end':
      return { kind: 'end' }
    case 'after':
      return { kind: 'after', minutes: minutes ?? 0 }
    case 'start-of':
    case 'end-of':
      return { kind: until, step: `${step}` }
  }
}
