import fc from 'fast-check'
import type {
  CureClock,
  Hold,
  Interval,
  Lag,
  PlanMaker,
  PlanningProblem,
  PlanStep,
} from '../../../core/planning/problem/model.ts'

/** Shops for property tests: small, and with everything that the model knows somewhere in them. */
export interface ShopRange {
  readonly commissions: number
  readonly steps: number
  /** Steps that have started, pins, releases, announced starts. */
  readonly reality: boolean
}

const DAY = 1440
const monday = 20_000 * DAY + 4 * DAY
export const shopNow = monday + 10 * 60

export function anyShop(range: ShopRange = { commissions: 4, steps: 6, reality: true }): fc.Arbitrary<PlanningProblem> {
  return fc
    .record({
      makers: fc.array(anyWeek, { minLength: 1, maxLength: 3 }),
      capacities: fc.array(fc.integer({ min: 1, max: 3 }), { minLength: 1, maxLength: 3 }),
      airs: fc.array(fc.integer({ min: 30, max: 900 }), { minLength: 2, maxLength: 9 }),
      rates: fc.array(fc.constantFrom(0, 0.3, 0.5, 1, 1.7), { minLength: 1, maxLength: 5 }),
      commissions: fc.array(anyCommission(range), { minLength: 1, maxLength: range.commissions }),
      patience: fc.option(fc.nat(5 * DAY)),
    })
    .map((raw) => shopOf(raw, range))
}

const anyWeek = fc.record({
  evenings: fc.integer({ min: 1, max: 31 }),
  opens: fc.integer({ min: 16 * 60, max: 19 * 60 }),
  length: fc.integer({ min: 60, max: 240 }),
  saturday: fc.boolean(),
})

const anyCommission = (range: ShopRange) =>
  fc.record({
    weight: fc.integer({ min: 1, max: 5 }),
    promise: fc.option(fc.integer({ min: -1, max: 30 })),
    aim: fc.option(fc.nat(4 * DAY)),
    steps: fc.array(anyStep, { minLength: 1, maxLength: range.steps }),
    started: range.reality ? fc.integer({ min: 0, max: 3 }) : fc.constant(0),
    runs: range.reality ? fc.boolean() : fc.constant(false),
  })

const rarely = <T>(value: fc.Arbitrary<T>) => fc.option(value, { freq: 4 })

const anyStep = fc.record({
  minutes: fc.oneof(
    { weight: 1, arbitrary: fc.constant(0) },
    { weight: 8, arbitrary: fc.integer({ min: 1, max: 60 }) },
    { weight: 2, arbitrary: fc.integer({ min: 60, max: 400 }) },
  ),
  hands: fc.oneof({ weight: 6, arbitrary: fc.constant(1) }, { weight: 1, arbitrary: fc.integer({ min: 2, max: 3 }) }),
  onlyMaker: rarely(fc.nat(2)),
  interruptible: fc.boolean(),
  smallest: fc.constantFrom(0, 0, 10, 45),
  dusty: fc.boolean(),
  tacky: rarely(fc.integer({ min: 1, max: 600 })),
  tackyOnClock: fc.boolean(),
  family: rarely(fc.constantFrom('dado', 'spray')),
  familyMinutes: fc.integer({ min: 0, max: 30 }),
  release: rarely(fc.integer({ min: -2, max: 10 })),
  pin: rarely(fc.integer({ min: -1, max: 10 })),
  isForAir: rarely(fc.constant(true)),
  announced: rarely(fc.integer({ min: 0, max: 3000 })),
  back: fc.constantFrom(1, 1, 1, 1, 2),
  also: rarely(fc.integer({ min: 1, max: 6 })),
  minMin: fc.oneof(fc.constant(0), fc.integer({ min: 0, max: 2000 }), fc.integer({ min: -60, max: 0 })),
  onClock: fc.boolean(),
  window: rarely(fc.integer({ min: 0, max: 2000 })),
  remedy: fc.option(fc.integer({ min: 0, max: 40 }), { freq: 2 }),
  holds: fc.array(
    fc.record({
      station: fc.nat(2),
      units: fc.integer({ min: 0, max: 2 }),
      until: fc.constantFrom('end', 'after', 'start-of', 'end-of'),
      minutes: fc.nat(900),
      ahead: fc.integer({ min: 1, max: 3 }),
      onClock: fc.boolean(),
    }),
    { maxLength: 2 },
  ),
})

type RawStep = typeof anyStep extends fc.Arbitrary<infer T> ? T : never
type RawCommission = ReturnType<typeof anyCommission> extends fc.Arbitrary<infer T> ? T : never
type RawWeek = typeof anyWeek extends fc.Arbitrary<infer T> ? T : never

function shopOf(
  raw: {
    makers: readonly RawWeek[]
    capacities: readonly number[]
    rates: readonly number[]
    airs: readonly number[]
    commissions: readonly RawCommission[]
    patience: number | null
  },
  range: ShopRange,
): PlanningProblem {
  const makers = raw.makers.map(makerOf)
  const stations = raw.capacities.map((capacity, index) => ({ id: `s${index}`, name: `Station ${index}`, capacity }))
  const clock: CureClock = {
    id: 'clock',
    segments: [
      ...raw.rates.map((rate, index) => ({ from: shopNow - DAY + index * 1000, rate })),
      { from: shopNow + 3 * DAY, rate: 1 },
    ],
  }
  const allowed = windowsOf(raw.airs)
  const steps: PlanStep[] = []
  const lags: Lag[] = []
  const announced: { step: string; start: number }[] = []
  raw.commissions.forEach((commission, c) => {
    const idOf = (index: number): string => `c${c}-${index}`
    commission.steps.forEach((step, index) => {
      const lagsHere =
        index === 0 ? [] : [...new Set([step.back, step.also ?? step.back])].filter((back) => back <= index)
      for (const back of lagsHere) lags.push(lagOf(step, idOf(index - back), idOf(index)))
      if (index > 0 && lagsHere.length === 0) lags.push(lagOf(step, idOf(index - 1), idOf(index)))
      steps.push(stepOf(step, { id: idOf(index), c, index, commission, makers, stations, range, allowed }))
      if (step.announced !== null && range.reality)
        announced.push({ step: idOf(index), start: shopNow + step.announced })
    })
  })
  return {
    now: shopNow,
    makers,
    stations,
    clocks: [clock],
    ...(raw.patience === null ? {} : { patienceMin: raw.patience }),
    commissions: raw.commissions.map(({ weight, promise, aim }, c) => ({
      id: `c${c}`,
      name: `Commission ${c}`,
      promise: promise === null ? null : shopNow + promise * DAY,
      ...(promise === null || aim === null ? {} : { aim: shopNow + promise * DAY - aim }),
      weight,
    })),
    steps,
    lags,
    announced,
  }
}

/** Open and shut by turns, then open for good, so that everything fits in the end. */
function windowsOf(lengths: readonly number[]): Interval[] {
  const windows: Interval[] = []
  let at = shopNow - DAY
  lengths.forEach((length, index) => {
    if (index % 2 === 0) windows.push({ from: at, to: at + length })
    at += length + (index % 2)
  })
  return [...windows, { from: at + 1, to: shopNow + 210 * DAY }]
}

function makerOf({ evenings, opens, length, saturday }: RawWeek, index: number): PlanMaker {
  const hours: { from: number; to: number }[] = []
  for (let day = -7; day < 200; day++) {
    const weekday = ((day % 7) + 7) % 7
    const midnight = monday + day * DAY
    if (weekday < 5 && (evenings >> weekday) % 2 === 1)
      hours.push({ from: midnight + opens, to: midnight + opens + length })
    if (weekday === 5 && saturday)
      hours.push(
        { from: midnight + 9 * 60, to: midnight + 12 * 60 },
        { from: midnight + 12 * 60, to: midnight + 17 * 60 },
      )
  }
  return { id: `m${index}`, name: `Maker ${index}`, hours }
}

function lagOf(step: RawStep, from: string, to: string): Lag {
  const minMin = step.minMin
  return {
    from,
    to,
    minMin,
    maxMin: step.window === null ? null : Math.max(0, minMin) + step.window,
    wait: 'drying',
    name: `${from} to ${to}`,
    ...(step.onClock && minMin >= 0 ? { clock: 'clock' } : {}),
    ...(step.remedy === null ? {} : { remedy: { name: 'scuff-sand', minutes: step.remedy } }),
  }
}

function stepOf(
  step: RawStep,
  place: {
    id: string
    c: number
    index: number
    commission: RawCommission
    makers: readonly PlanMaker[]
    stations: readonly { id: string; capacity: number }[]
    range: ShopRange
    allowed: readonly Interval[]
  },
): PlanStep {
  const { id, c, index, commission, makers, stations, range, allowed } = place
  const only = step.onlyMaker === null ? undefined : [makers[step.onlyMaker % makers.length]!.id]
  const hands = Math.min(step.hands, only?.length ?? makers.length)
  const isDone = index < commission.started
  const runs = index === commission.started && commission.runs
  const startedAt = shopNow - 300 + index * 60
  const stationsTaken = new Set<number>()
  const apart = step.holds.filter(({ station, units }) => {
    const index = station % stations.length
    if (stationsTaken.has(index) && units > 1) return false
    stationsTaken.add(index)
    return true
  })
  const holds = apart.map((hold): Hold => {
    const station = stations[hold.station % stations.length]!
    const target = Math.min(index + hold.ahead, commission.steps.length - 1)
    const until: Hold['until'] =
      (hold.until === 'start-of' || hold.until === 'end-of') && target > index
        ? { kind: hold.until, step: `c${c}-${target}` }
        : hold.until === 'after'
          ? { kind: 'after', minutes: hold.minutes, ...(hold.onClock ? { clock: 'clock' } : {}) }
          : { kind: 'end' }
    return { station: station.id, units: Math.min(hold.units, station.capacity), until }
  })
  return {
    id,
    name: `Step ${index}`,
    pieceId: `p${c}-${index % 2}`,
    pieceName: `Piece ${c}`,
    commissionId: `c${c}`,
    minutes: step.minutes,
    hands,
    ...(only === undefined ? {} : { makers: only }),
    interruptible: step.interruptible,
    smallestStretchMin: step.smallest,
    holds,
    room: step.minutes % 3 === 0 ? 'yard' : 'shop',
    dusty: step.dusty && step.tacky === null,
    tackyMin: step.tacky ?? 0,
    ...(step.tackyOnClock ? { tackyClock: 'clock' } : {}),
    ...(step.family === null ? {} : { setUp: { family: step.family, minutes: step.familyMinutes } }),
    ...(step.isForAir === null ? {} : { allowed }),
    ...(step.release === null || !range.reality ? {} : { release: shopNow + step.release * DAY }),
    ...(step.pin === null || !range.reality
      ? {}
      : { pinned: { from: monday + step.pin * DAY, to: monday + (step.pin + 1) * DAY } }),
    state: isDone
      ? { kind: 'done', startedAt, endedAt: startedAt + 60 }
      : runs
        ? { kind: 'running', startedAt, maker: step.onlyMaker === null ? null : (only?.[0] ?? null) }
        : { kind: 'to-do' },
  }
}
