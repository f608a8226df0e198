import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { PlanningProblem, PlanStep } from '../../../core/planning/problem/model.ts'
import { benchList } from '../../../core/planning/reasons/bench-list.ts'
import { plan } from '../../../core/planning/search/plan.ts'
import { aLag, aShop, aStep, when } from './a-shop.ts'

/** Saturday 9:00 to 17:00; a coat that is tacky for eight hours keeps dust down for the rest of it. */
const saturday = { from: when('Sat 9:00'), to: when('Sat 17:00') }

interface Told {
  /** When the order of the coat is promised. */
  readonly promise?: string
  readonly dusty: readonly PlanStep[]
  readonly lags?: PlanningProblem['lags']
  /** Of whatever shop: the plan may begin with something else than the coat. */
  readonly anyPlan?: boolean
}

/** What the list has on a Saturday on which the plan has the coat first, because nothing else is promised sooner. */
function listed({ promise = 'Fri+3 0:00', dusty, lags = [], anyPlan = false }: Told): string[] {
  const coat = aStep('Coat', 20, { tackyMin: 480, commissionId: 'near' })
  const steps = [coat, aStep('Second coat', 20, { tackyMin: 480, commissionId: 'near' }), ...dusty]
  const shop = aShop(steps, {
    now: when('Sat 9:00'),
    commissions: [
      { id: 'near', name: 'Near', promise: when(promise), weight: 1 },
      { id: 'order', name: 'Far', promise: when('Fri+4 0:00'), weight: 1 },
    ],
    lags: [aLag('Coat', 'Second coat', 1440, null, { wait: 'drying' }), ...lags],
  })
  const made = plan(shop, { schedules: 1 })
  if (!made.ok) throw new Error(made.problems[0]?.message)
  const start = new Map(made.value.steps.map((step) => [step.id, step.start]))
  if (!anyPlan) expect(start.get('Coat')).toBe(when('Sat 9:00'))
  return benchList(shop, made.value, saturday)
}

const dust = (id: string, minutes: number, more: Partial<PlanStep> = {}): PlanStep =>
  aStep(id, minutes, { dusty: true, ...more })

test('dusty work goes before a coat that would keep dust down for the rest of the session, as much as leaves room for the coat', () => {
  // 8 hours less the coat are 460 minutes; a quarter more than said is 375 for 300, and 75 for 60. No third fits.
  const dusty = [dust('Mill', 300), dust('Rip', 60), dust('Plane', 90)]
  const list = listed({ dusty, lags: [aLag('Mill', 'Rip'), aLag('Rip', 'Plane')] })
  expect(list.slice(0, 3)).toEqual(['Mill', 'Rip', 'Coat'])
  expect(list.slice(3).sort()).toEqual(['Plane', 'Second coat'])
})

test('the coat of an order without days to spare delays nothing that follows it', () => {
  // Its second coat is planned for Monday 18:00: a coat that goes on by Saturday 16:40 is ready for it.
  expect(listed({ promise: 'Tue+1 0:00', dusty: [dust('Mill', 300)] })).toEqual(['Mill', 'Coat', 'Second coat'])
  const lags = [aLag('Coat', 'Second coat', 57 * 60, null, { wait: 'drying' as const })]
  expect(listed({ promise: 'Tue+1 0:00', dusty: [dust('Mill', 300)], lags })).toEqual(['Coat', 'Second coat', 'Mill'])
  expect(listed({ dusty: [dust('Mill', 300)], lags })).toEqual(['Mill', 'Coat', 'Second coat'])
})

test('what opens a window, is in another room, needs a station or waits for something stays for later', () => {
  const window = aLag('Mill', 'Glue', 0, 2880)
  const glue = aStep('Glue', 20)
  const stays = (...dusty: PlanStep[]) => listed({ dusty })[0]
  expect(listed({ dusty: [dust('Mill', 60), glue], lags: [window] })[0]).toBe('Coat')
  expect(stays(dust('Mill', 60, { room: 'shed' }))).toBe('Coat')
  expect(stays(dust('Mill', 60, { release: when('Mon+1 0:00') }))).toBe('Coat')
  expect(stays(dust('Mill', 60, { holds: [{ station: 'clamps', units: 1, until: { kind: 'end' } }] }))).toBe('Coat')
  expect(stays(dust('Mill', 400))).toBe('Coat')
  expect(stays(dust('Mill', 60))).toBe('Mill')
})

const anyChains = fc.array(
  fc.array(
    fc.record({ minutes: fc.integer({ min: 5, max: 120 }), dusty: fc.boolean(), wait: fc.constantFrom(0, 0, 90) }),
    {
      minLength: 1,
      maxLength: 4,
    },
  ),
  { minLength: 1, maxLength: 4 },
)

test('whatever goes first, the list names every step once, each behind what leads to it', () => {
  let moved = 0
  fc.assert(
    fc.property(anyChains, (chains) => {
      const name = (chain: number, at: number): string => `${chain}.${at}`
      const dusty = chains.flatMap((chain, of) =>
        chain.map((step, at) => aStep(name(of, at), step.minutes, { dusty: step.dusty })),
      )
      const lags = chains.flatMap((chain, of) =>
        chain.slice(1).map(({ wait }, at) => aLag(name(of, at), name(of, at + 1), wait)),
      )
      const list = listed({ dusty, lags, anyPlan: true })
      expect([...list].sort()).toEqual(['Coat', 'Second coat', ...dusty.map(({ id }) => id)].sort())
      for (const { from, to } of lags) expect(list.indexOf(from)).toBeLessThan(list.indexOf(to))
      if (list[0] !== 'Coat') moved += 1
    }),
    { numRuns: 100, seed: 1 },
  )
  expect(moved).toBeGreaterThan(20)
})
