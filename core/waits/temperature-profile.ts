import type { Conditions } from './finish-bands.ts'

/** How warm and damp the shop is through the year. */
export type ShopClimate =
  /** Always the same, night and day. */
  | { readonly kind: 'steady'; readonly celsius: number; readonly rh: number }
  /** Heated while somebody works; in between it falls to what the season gives. */
  | {
      readonly kind: 'heated-for-work'
      readonly celsius: number
      readonly rh: number
      /** Unheated temperature and humidity in the middle of each month, January first: 12 values each. */
      readonly restC: readonly number[]
      readonly restRh: readonly number[]
      /** Hours until the room (and the wood, which is slower than the air) is warm, and until it has fallen to rest. */
      readonly warmUpHours: number
      readonly coolDownHours: number
    }

/** Air that stays the same from `from` (an instant in minutes) until the next segment. */
export interface ClimateSegment extends Conditions {
  readonly from: number
}

/** When somebody works: half-open intervals of instants, sorted and disjoint. */
export interface WorkingInterval {
  readonly from: number
  readonly to: number
}

/**
 * A shop's air hour by hour between two instants, equal hours joined; each hour has the air of its middle. The last segment
 * counts for ever after: it is the air while somebody works, so give it a horizon well past the plan.
 * @param work hours worked between `fromMin - 24 h` and `toMin`, so that an evening before `fromMin` still warms the night
 */
export function climateProfile(
  climate: ShopClimate,
  work: readonly WorkingInterval[],
  fromMin: number,
  toMin: number,
): readonly ClimateSegment[] {
  if (climate.kind === 'steady') return [{ from: fromMin, celsius: climate.celsius, rh: climate.rh }]
  const segments: ClimateSegment[] = []
  const add = (from: number, air: Conditions): void => {
    const last = segments.at(-1)
    if (last !== undefined && last.celsius === air.celsius && last.rh === air.rh) return
    segments.push({ from, celsius: air.celsius, rh: air.rh })
  }
  let session = 0
  let before: Ended | null = null
  for (let hour = Math.floor(fromMin / 60) * 60; hour < toMin; hour += 60) {
    const middle = hour + 30
    for (; session < work.length && (work[session]?.to ?? Infinity) <= middle; session++) {
      const over = work[session]
      if (over !== undefined) before = { at: over.to, warmth: warmthAt(climate, over.to, before, over) }
    }
    add(Math.max(hour, fromMin), airAt(climate, middle, before, work[session]))
  }
  add(Math.max(toMin, fromMin), { celsius: climate.celsius, rh: climate.rh })
  return segments
}

/**
 * A starting guess for an unheated shop in a temperate northern climate; every maker replaces it with a thermometer's figures.
 * @source common practice, no source
 */
export const UNHEATED_TEMPERATE = {
  restC: [3, 4, 8, 12, 17, 21, 23, 22, 18, 13, 8, 4],
  restRh: [0.6, 0.6, 0.55, 0.55, 0.55, 0.55, 0.55, 0.55, 0.6, 0.6, 0.65, 0.65],
  warmUpHours: 1,
  coolDownHours: 4,
} as const

/** The air at an instant of a profile; before its first segment that of the first. */
export function airOf(profile: readonly ClimateSegment[], instant: number): Conditions {
  let low = 0
  let high = profile.length - 1
  while (low < high) {
    const middle = (low + high + 1) >> 1
    if ((profile[middle]?.from ?? Infinity) <= instant) low = middle
    else high = middle - 1
  }
  const found = profile[low]
  if (found === undefined) throw new Error('A profile has at least one segment.')
  return found
}

type Heated = Extract<ShopClimate, { kind: 'heated-for-work' }>

/** A session that is over, and the share of the full heating that was in the room at its end: a short one does not warm it through. */
interface Ended {
  readonly at: number
  readonly warmth: number
}

/** `before` ended at or before `instant`; `now` is the session that contains it or the next one. */
function airAt(climate: Heated, instant: number, before: Ended | null, now: WorkingInterval | undefined): Conditions {
  const rest = restAt(climate, instant)
  const warmth = warmthAt(climate, instant, before, now)
  return {
    celsius: rounded(rest.celsius + Math.max(0, climate.celsius - rest.celsius) * warmth, 10),
    rh: rounded(rest.rh + (climate.rh - rest.rh) * warmth, 100),
  }
}

/** Share of the full heating that is in the room: what is left of the last session, or what this one has brought. */
function warmthAt(climate: Heated, instant: number, before: Ended | null, now: WorkingInterval | undefined): number {
  const left =
    before === null || climate.coolDownHours <= 0
      ? 0
      : Math.max(0, before.warmth - (instant - before.at) / (climate.coolDownHours * 60))
  if (now === undefined || now.from > instant) return left
  const brought = climate.warmUpHours <= 0 ? 1 : Math.min(1, (instant - now.from) / (climate.warmUpHours * 60))
  return Math.max(left, brought)
}

const MINUTES_PER_YEAR = 365.2425 * 1440

/** Between the middles of two months, in a straight line; seasons are slow enough to leave time zones aside. */
function restAt(climate: Heated, instant: number): Conditions {
  const share = instant / MINUTES_PER_YEAR
  const month = (share - Math.floor(share)) * 12 - 0.5
  const before = (Math.floor(month) + 12) % 12
  const after = (before + 1) % 12
  const along = month - Math.floor(month)
  const between = (values: readonly number[]): number =>
    (values[before] ?? 0) * (1 - along) + (values[after] ?? 0) * along
  return { celsius: between(climate.restC), rh: between(climate.restRh) }
}

/** Tenths of a degree and whole percents, so that hours alike become one segment. */
const rounded = (value: number, parts: number): number => Math.round(value * parts) / parts
