import fc from 'fast-check'
import type { PlanningProblem, PlanStep } from '../../../core/planning/problem/model.ts'
import { aLag, aShop, aStep, DAY, held, monday } from './a-shop.ts'

/** One maker, up to six steps without pauses, minimum lags, releases, and a set of clamps that stays on for a while. */
export const smallShop = (): fc.Arbitrary<PlanningProblem> =>
  fc
    .array(
      fc.record({
        order: fc.nat(2),
        minutes: fc.integer({ min: 5, max: 170 }),
        release: fc.option(fc.nat(4), { freq: 3 }),
        clampedFor: fc.option(fc.integer({ min: 0, max: 1500 }), { freq: 2 }),
        after: fc.option(fc.record({ back: fc.integer({ min: 1, max: 3 }), minutes: fc.nat(2000) })),
      }),
      { minLength: 1, maxLength: 6 },
    )
    .chain((raw) =>
      fc
        .tuple(
          fc.array(fc.record({ promise: fc.nat(6), aim: fc.nat(2), weight: fc.integer({ min: 1, max: 5 }) }), {
            minLength: 3,
            maxLength: 3,
          }),
          fc.option(fc.nat(3)),
        )
        .map(([orders, patience]) => {
          const steps = raw.map(({ order, minutes, release, clampedFor }, index) =>
            aStep(`${index}`, minutes, {
              commissionId: `${order}`,
              holds: clampedFor === null ? [] : [held('clamps', { kind: 'after', minutes: clampedFor })],
              ...(release === null ? {} : { release: monday + release * DAY }),
            }),
          )
          const lags = raw.flatMap(({ after }, index) =>
            after === null || after.back > index ? [] : [aLag(`${index - after.back}`, `${index}`, after.minutes)],
          )
          const commissions = orders.map(({ promise, aim, weight }, index) => ({
            ...{ id: `${index}`, name: `Order ${index}`, weight },
            promise: monday + promise * DAY,
            ...(aim === 0 ? {} : { aim: monday + (promise - aim) * DAY }),
          }))
          return aShop(steps, { lags, commissions, ...(patience === null ? {} : { patienceMin: patience * DAY }) })
        }),
    )

/** The least weighted tardiness over every order of the steps, each as early as the order allows. Plain, and shares no code with the planner. */
export function leastTardiness(problem: PlanningProblem): number {
  const { steps, lags, commissions, now, patienceMin = Infinity } = problem
  const { hours } = problem.makers[0]!
  let least = Infinity
  const ends = new Map<string, number>()
  const goOn = (left: readonly PlanStep[], handsFree: number, clampsFree: number): void => {
    if (left.length === 0) {
      const late = commissions.map(({ id, promise, aim, weight }) => {
        const done = Math.max(
          now,
          ...steps.filter(({ commissionId }) => commissionId === id).map((step) => ends.get(step.id)!),
        )
        const lateness = Math.max(0, done - (aim ?? promise!))
        return weight * (lateness + Math.max(0, lateness - patienceMin) ** 2 / DAY)
      })
      least = Math.min(
        least,
        late.reduce((sum, each) => sum + each, 0),
      )
      return
    }
    for (const step of left) {
      const into = lags.filter(({ to }) => to === step.id)
      if (!into.every(({ from }) => ends.has(from))) continue
      const hold = step.holds[0]
      const from = Math.max(
        ...[now, handsFree, step.release ?? 0, hold === undefined ? 0 : clampsFree],
        ...into.map((lag) => ends.get(lag.from)! + lag.minMin),
      )
      const session = hours.find((each) => each.to - Math.max(from, each.from) >= step.minutes)!
      const end = Math.max(from, session.from) + step.minutes
      ends.set(step.id, end)
      const kept = hold?.until.kind === 'after' ? end + hold.until.minutes : clampsFree
      goOn(
        left.filter((each) => each !== step),
        end,
        Math.max(clampsFree, kept),
      )
      ends.delete(step.id)
    }
  }
  goOn(steps, now, now)
  return least
}
