import { fileURLToPath } from 'node:url'
import type { Hold, Interval, Lag, NewWork, PlanCommission, PlanningProblem, PlanStep } from '../core/planning/index.ts'
import { randomStream, type RandomStream } from '../core/chance/seeded-random.ts'

const DAY = 1440
const HOUR = 60
/** Monday 5 January 2026, 0:00, as minutes since the Unix epoch; civil time without clock changes is enough here. */
const MONDAY = 20_458 * DAY

/**
 * An invented order book: one maker with evenings and Saturdays and a helper on Saturdays, and framed end-grain boards of
 * 30 steps each, with two glue-ups, a frame that is made while the field cures, and four coats. Some were promised a date
 * that can be kept, some one that cannot, some none; some are well on.
 * @param commissions how many are open
 * @param seed the same seed gives the same book
 */
export function generateOrderBook(commissions: number, seed: number): PlanningProblem {
  const chance = randomStream(seed)
  const now = MONDAY + 17 * HOUR
  const steps: PlanStep[] = []
  const lags: Lag[] = []
  const orders: PlanCommission[] = []
  let workAhead = 0
  for (let order = 0; order < commissions; order++) {
    const board = framedBoard(`c${order}`, `Board ${order + 1}`, chance)
    const done = chance.fraction() < 0.3 ? chance.below(22) : 0
    steps.push(...board.steps.map((step, index) => (index < done ? finished(step, index, done, now) : step)))
    lags.push(...board.lags)
    workAhead += board.steps.slice(done).reduce((sum, { minutes }) => sum + minutes, 0)
    const isPromised = chance.fraction() < 0.75
    const honest = now + (workAhead / WORK_PER_WEEK) * 7 * DAY + (7 + chance.below(28)) * DAY
    const hopeful = chance.fraction() < 0.15 ? 0.6 : 1.1
    orders.push({
      id: `c${order}`,
      name: `Customer ${order + 1}`,
      promise: isPromised ? Math.round(now + (honest - now) * hopeful) : null,
      weight: 1 + chance.below(3),
    })
  }
  return {
    now,
    makers: [
      { id: 'maker', name: 'The maker', hours: hoursOfYears(10, true) },
      { id: 'helper', name: 'The helper', hours: hoursOfYears(10, false) },
    ],
    stations: [
      { id: 'clamps', name: 'clamps', capacity: 12 },
      { id: 'bench', name: 'glue-up bench', capacity: 2 },
      { id: 'rack', name: 'drying rack', capacity: 8 },
    ],
    clocks: [{ id: 'shop', segments: winterNights(now) }],
    commissions: shuffled(orders, chance),
    steps,
    lags,
    announced: [],
  }
}

/** One more board like those of the book, of which nothing is done and nothing promised yet: work that somebody asks for. */
export function generateNewWork(seed: number): NewWork {
  const board = framedBoard('new', 'New board', randomStream(seed))
  return { commission: { id: 'new', name: 'New customer', promise: null, weight: 1 }, ...board }
}

/** Minutes of work that get done in a week, roughly. */
const WORK_PER_WEEK = 23 * HOUR

function hoursOfYears(years: number, evenings: boolean): Interval[] {
  const hours: Interval[] = []
  for (let day = 0; day < years * 365; day++) {
    const midnight = MONDAY + day * DAY
    if (evenings && day % 7 < 5) hours.push({ from: midnight + 18 * HOUR, to: midnight + 21 * HOUR })
    if (day % 7 === 5) hours.push({ from: midnight + 9 * HOUR, to: midnight + 17 * HOUR })
  }
  return hours
}

/** A shop that is heated while somebody works: slower by half at night, for four months of each year. */
function winterNights(now: number): { readonly from: number; readonly rate: number }[] {
  const segments = [{ from: now - DAY, rate: 1 }]
  for (let day = 0; day < 10 * 365; day++) {
    if (day % 365 > 120) continue
    segments.push(
      { from: MONDAY + day * DAY + 22 * HOUR, rate: 0.5 },
      { from: MONDAY + (day + 1) * DAY + 17 * HOUR, rate: 1 },
    )
  }
  return segments.filter(({ from }, index) => index === 0 || from > now)
}

function finished(step: PlanStep, index: number, done: number, now: number): PlanStep {
  const endedAt = now - (done - index) * 20 * HOUR
  return { ...step, state: { kind: 'done', startedAt: endedAt - step.minutes, endedAt, maker: 'maker' } }
}

interface Draft {
  readonly name: string
  readonly minutes: number
  readonly more?: Partial<PlanStep>
  /** Positions of what it follows, with the wait. */
  readonly after: readonly (readonly [number, number?, (number | undefined)?, Partial<Lag>?])[]
}

const glue = {
  wait: 'in-clamps',
  name: 'glue in clamps',
  clock: 'shop',
  spread: { optimistic: 60, pessimistic: 240 },
} as const
const cure = {
  wait: 'curing',
  name: 'glue curing',
  clock: 'shop',
  spread: { optimistic: 960, pessimistic: 1920 },
} as const
const coat = {
  wait: 'drying',
  name: 'coat drying',
  clock: 'shop',
  spread: { optimistic: 300, pessimistic: 600 },
  remedy: { name: 'scuff-sand', minutes: 20 },
} as const

function drafts(): readonly Draft[] {
  const flexible = { interruptible: true, smallestStretchMin: 15 }
  const saw = (family: string) => ({ ...flexible, dusty: true, setUp: { family, minutes: 10 } })
  const hold = (station: string, units: number, until: Hold['until']): Hold => ({ station, units, until })
  const until = (kind: 'start-of' | 'end-of', step: number): Hold['until'] => ({ kind, step: String(step) })
  const finish = { room: 'shop', tackyMin: 120, tackyClock: 'shop' }
  return [
    { name: 'Choose and cut the boards', minutes: 30, after: [], more: flexible },
    { name: 'Joint and plane', minutes: 40, after: [[0]], more: saw('planer') },
    { name: 'Rip the strips', minutes: 35, after: [[1]], more: saw('rip') },
    {
      name: 'First glue-up',
      minutes: 25,
      after: [[2, 0, 2880]],
      more: { holds: [hold('clamps', 4, until('end-of', 4)), hold('bench', 1, { kind: 'end' })] },
    },
    { name: 'Release the clamps', minutes: 10, after: [[3, 120, undefined, glue]] },
    { name: 'Flatten the panel', minutes: 30, after: [[4, 1440, undefined, cure]], more: saw('planer') },
    { name: 'Crosscut the slices', minutes: 30, after: [[5]], more: saw('crosscut') },
    { name: 'Turn and match the slices', minutes: 20, after: [[6]], more: flexible },
    {
      name: 'Second glue-up',
      minutes: 30,
      after: [[7, 0, 2880]],
      more: { holds: [hold('clamps', 5, until('end-of', 9)), hold('bench', 1, { kind: 'end' })] },
    },
    { name: 'Release the clamps again', minutes: 10, after: [[8, 120, undefined, glue]] },
    { name: 'Flatten the field', minutes: 45, after: [[9, 1440, undefined, cure]], more: { ...flexible, dusty: true } },
    { name: 'Trim square', minutes: 20, after: [[10]], more: saw('crosscut') },
    { name: 'Mill the frame stock', minutes: 30, after: [[1]], more: saw('planer') },
    { name: 'Cut the grooves', minutes: 20, after: [[12]], more: saw('dado') },
    { name: 'Cut the tongues', minutes: 20, after: [[11]], more: saw('dado') },
    { name: 'Mitre the frame', minutes: 30, after: [[13], [14]], more: saw('mitre') },
    { name: 'Dry-fit the frame', minutes: 20, after: [[15]], more: flexible },
    {
      name: 'Glue the frame',
      minutes: 25,
      after: [[16]],
      more: { holds: [hold('clamps', 3, until('end-of', 18)), hold('bench', 1, { kind: 'end' })] },
    },
    { name: 'Release the frame', minutes: 10, after: [[17, 120, undefined, glue]] },
    {
      name: 'Cut and glue the splines',
      minutes: 30,
      after: [[18, 1440, undefined, cure]],
      more: { setUp: { family: 'mitre', minutes: 10 } },
    },
    { name: 'Trim the splines', minutes: 15, after: [[19, 240, undefined, glue]], more: flexible },
    { name: 'Sand coarse', minutes: 45, after: [[20]], more: { ...flexible, dusty: true } },
    { name: 'Raise the grain', minutes: 10, after: [[21]] },
    {
      name: 'Sand fine',
      minutes: 30,
      after: [[22, 480, undefined, { wait: 'drying', name: 'water drying' }]],
      more: { ...flexible, dusty: true },
    },
    {
      name: 'First coat',
      minutes: 20,
      after: [[23, 0, 2880]],
      more: { ...finish, holds: [hold('rack', 1, until('end-of', 27))] },
    },
    { name: 'Second coat', minutes: 20, after: [[24, 420, 4320, coat]], more: finish },
    { name: 'Third coat', minutes: 20, after: [[25, 420, 4320, coat]], more: finish },
    { name: 'Fourth coat', minutes: 20, after: [[26, 420, 4320, coat]], more: finish },
    {
      name: 'Rub out and feet',
      minutes: 25,
      after: [[27, 2880, undefined, { wait: 'drying', name: 'finish hardening', clock: 'shop' }]],
      more: flexible,
    },
    { name: 'Photograph and pack', minutes: 20, after: [[28]], more: flexible },
  ]
}

function framedBoard(
  commission: string,
  title: string,
  chance: RandomStream,
): { readonly steps: PlanStep[]; readonly lags: Lag[] } {
  const size = 0.6 + 0.9 * chance.fraction()
  const id = (position: number | string): string => `${commission}-${position}`
  const steps = drafts().map(({ name, minutes, more }, position): PlanStep => {
    const scaled = Math.max(5, Math.round((minutes * size * (0.8 + 0.4 * chance.fraction())) / 5) * 5)
    return {
      id: id(position),
      name,
      pieceId: commission,
      pieceName: title,
      commissionId: commission,
      minutes: scaled,
      timing: { operation: name, standardMin: scaled, workedMin: 0 },
      hands: 1,
      interruptible: false,
      smallestStretchMin: 0,
      room: 'shop',
      dusty: false,
      tackyMin: 0,
      state: { kind: 'to-do' },
      ...more,
      holds: (more?.holds ?? []).map((hold) =>
        'step' in hold.until ? { ...hold, until: { ...hold.until, step: id(hold.until.step) } } : hold,
      ),
    }
  })
  const lags = drafts().flatMap(({ after }, position) =>
    after.map(([from, minMin, maxMin, more]): Lag => ({
      from: id(from),
      to: id(position),
      minMin: minMin ?? 0,
      maxMin: maxMin ?? null,
      wait: 'none',
      name: 'next',
      ...more,
    })),
  )
  return { steps, lags }
}

function shuffled<T>(items: readonly T[], chance: RandomStream): T[] {
  const mixed = [...items]
  for (let last = mixed.length - 1; last > 0; last--) {
    const other = chance.below(last + 1)
    const kept = mixed[last]!
    mixed[last] = mixed[other]!
    mixed[other] = kept
  }
  return mixed
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const [commissions, seed] = process.argv.slice(2).map(Number)
  console.log(JSON.stringify(generateOrderBook(commissions ?? 20, seed ?? 1)))
}
