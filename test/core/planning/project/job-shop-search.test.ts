import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { jobShopLowerBound, jobShopProblems, type JobShop } from '../../../../core/planning/search/project/job-shop.ts'
import { JobShopGraph } from '../../../../core/planning/search/project/job-shop-graph.ts'
import { shortJobShop } from '../../../../core/planning/search/project/job-shop-search.ts'
import type { LaggedProject } from '../../../../core/planning/search/project/lagged-project.ts'
import { leastLaggedMakespan } from '../../../../core/planning/search/project/lagged-search.ts'
import { readJobShop } from '../../../../benchmarks/formats/job-shop.ts'
import { describeOpenData } from './open-data.ts'
import { anyJobShop, faults } from './small-projects.ts'

describe('job shop', () => {
  it('ends as early as a complete search proves possible', () => {
    fc.assert(
      fc.property(anyJobShop(4, 3), fc.integer(), (shop, seed) => {
        const project = asProject(shop)
        const exact = leastLaggedMakespan(project, { schedules: 100_000 })
        const result = shortJobShop(shop, { schedules: 3000 }, seed)
        expect(faults(project, result.starts.flat())).toEqual([])
        expect(exact).toMatchObject({ kind: 'found', proved: true, makespan: result.makespan })
        expect(jobShopLowerBound(shop)).toBeLessThanOrEqual(result.makespan)
      }),
      { numRuns: 40 },
    )
  })

  it('keeps heads and tails as a fresh timing would have them after any safe moves', () => {
    fc.assert(
      fc.property(anyJobShop(6, 4), fc.array(fc.nat(), { maxLength: 30 }), (shop, choices) => {
        const graph = new JobShopGraph(shop)
        graph.sequenceBy(Int32Array.from({ length: graph.count }, (_, operation) => operation))
        for (const choice of choices) {
          const operation = choice % graph.count
          const after = choice % 2 === 0
          let target = operation
          const steps = 1 + (choice % 3)
          for (let step = 0; step < steps; step++) {
            const next = (after ? graph.machineAfter : graph.machineBefore)[target]!
            if (next < 0) break
            target = next
          }
          if (target !== operation && graph.safe({ operation, target, after }))
            graph.apply({ operation, target, after })
        }
        const fresh = new JobShopGraph(shop)
        const order = new Int32Array(graph.count)
        graph.copyOrder(order)
        fresh.sequenceBy(order)
        expect(fresh.makespan).toBe(graph.makespan)
        expect(fresh.heads).toEqual(graph.heads)
        expect(fresh.tails).toEqual(graph.tails)
        expect(fresh.machineAfter).toEqual(graph.machineAfter)
      }),
    )
  })

  it('is the same for the same seed and number of schedules', () => {
    const shop = fc.sample(anyJobShop(8, 5), { numRuns: 1, seed: 3 })[0]!
    expect(shortJobShop(shop, { schedules: 500 }, 5)).toEqual(shortJobShop(shop, { schedules: 500 }, 5))
  })

  it('names an operation on a machine that does not exist', () => {
    expect(jobShopProblems({ machines: 1, jobs: [[{ machine: 1, duration: 2 }]] })[0]?.code).toBe('job-machine')
  })
})

// Optima: Fisher and Thompson 1963, Lawrence 1984, as collected in the known values beside the data.
describeOpenData('jobshop', /^.*(ft06|la0[1-5]|la1[1-5])\.txt$/, 1, (instances) => {
  it('reach the published optimum', () => {
    for (const { name, text, known } of instances) {
      expect([name, shortJobShop(readJobShop(text), { schedules: 100_000 }, 1).makespan]).toEqual([name, known.value])
    }
  }, 60_000)
})

function asProject(shop: JobShop): LaggedProject {
  const operations = shop.jobs.flat()
  let first = 0
  const lags = shop.jobs.flatMap((job) => {
    const base = first
    first += job.length
    return job.slice(1).map((_, place) => ({ from: base + place, to: base + place + 1, lag: job[place]!.duration }))
  })
  return {
    durations: operations.map(({ duration }) => duration),
    needs: operations.map(({ machine }) =>
      Array.from({ length: shop.machines }, (_, other) => (other === machine ? 1 : 0)),
    ),
    capacities: new Array<number>(shop.machines).fill(1),
    lags,
  }
}
