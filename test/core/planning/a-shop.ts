import type { Hold, Interval, Lag, PlanningProblem, PlanStep } from '../../../core/planning/problem/model.ts'

/** Builds small shops in words: a Monday at 0:00 is minute `monday`, evenings are 18:00-21:00, Saturdays 9:00-17:00. */
export const DAY = 1440
export const monday = 20_000 * DAY + 4 * DAY

/** "Mon 18:00" and the like in the first weeks; "Mon+1 18:00" is a week later. */
export function when(text: string): number {
  const [day, time] = text.split(' ') as [string, string]
  const [name, weeks] = day.split('+') as [string, string | undefined]
  const [hours, minutes] = time.split(':').map(Number) as [number, number]
  const index = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'].indexOf(name)
  return monday + (index + 7 * Number(weeks ?? 0)) * DAY + hours * 60 + minutes
}

/** The other way round. */
export function written(instant: number): string {
  const day = Math.floor((instant - monday) / DAY)
  const rest = (instant - monday) % DAY
  const week = Math.floor(day / 7)
  const name = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'][day - 7 * week]!
  return `${name}${week > 0 ? `+${week}` : ''} ${Math.floor(rest / 60)}:${String(rest % 60).padStart(2, '0')}`
}

export function evenings(weeks: number): Interval[] {
  const hours: Interval[] = []
  for (let day = 0; day < weeks * 7; day++) {
    const midnight = monday + day * DAY
    if (day % 7 < 5) hours.push({ from: midnight + 18 * 60, to: midnight + 21 * 60 })
    if (day % 7 === 5) hours.push({ from: midnight + 9 * 60, to: midnight + 17 * 60 })
  }
  return hours
}

export const aStep = (id: string, minutes: number, more: Partial<PlanStep> = {}): PlanStep => ({
  id,
  name: id,
  pieceId: 'piece',
  pieceName: 'board',
  commissionId: 'order',
  minutes,
  hands: 1,
  interruptible: false,
  smallestStretchMin: 0,
  holds: [],
  room: 'shop',
  dusty: false,
  tackyMin: 0,
  state: { kind: 'to-do' },
  ...more,
})

export const aLag = (
  from: string,
  to: string,
  minMin = 0,
  maxMin: number | null = null,
  more: Partial<Lag> = {},
): Lag => ({
  from,
  to,
  minMin,
  maxMin,
  wait: minMin > 0 ? 'curing' : 'none',
  name: minMin > 0 ? 'the wait' : 'next',
  ...more,
})

export const held = (station: string, until: Hold['until'], units = 1): Hold => ({ station, units, until })

export function aShop(steps: readonly PlanStep[], more: Partial<PlanningProblem> = {}): PlanningProblem {
  const orders = [...new Set(steps.map(({ commissionId }) => commissionId))]
  return {
    now: monday + 12 * 60,
    makers: [{ id: 'ada', name: 'Ada', hours: evenings(12) }],
    stations: [{ id: 'clamps', name: 'clamps', capacity: 1 }],
    clocks: [],
    commissions: orders.map((id) => ({ id, name: id, promise: null, weight: 1 })),
    steps,
    lags: [],
    announced: [],
    ...more,
  }
}
