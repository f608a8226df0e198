import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { laggedProjectProblems } from '../../../../core/planning/search/project/lagged-project.ts'
import { leastLaggedMakespan } from '../../../../core/planning/search/project/lagged-search.ts'
import { readProgenMax } from '../../../../benchmarks/formats/progen-max.ts'
import { describeOpenData } from './open-data.ts'
import { anyLaggedProject, faults, lastFinish, leastByExhaustion } from './small-projects.ts'

const plenty = { schedules: 100_000 }

describe('least makespan with minimum and maximum lags', () => {
  it('is what trying every start gives, and so is its absence', () => {
    fc.assert(
      fc.property(anyLaggedProject({ activities: 5, longest: 2 }), (small) => {
        const result = leastLaggedMakespan(small, plenty)
        const least = leastByExhaustion(small)
        if (least === null) {
          expect(result.kind).toBe('infeasible')
          return
        }
        if (result.kind !== 'found')
          throw new Error(`there is a schedule of ${least}, but the search says ${result.kind}`)
        expect(result.makespan).toBe(least)
        expect(result.proved).toBe(true)
        expect(faults(small, result.starts)).toEqual([])
      }),
      { numRuns: 400 },
    )
  })

  it('never answers with a broken schedule, however little it may search', () => {
    fc.assert(
      fc.property(
        anyLaggedProject({ activities: 15, longest: 8 }),
        fc.integer({ min: 1, max: 60 }),
        (project, schedules) => {
          const result = leastLaggedMakespan(project, { schedules })
          if (result.kind !== 'found') return
          expect(faults(project, result.starts)).toEqual([])
          expect(lastFinish(project, result.starts)).toBe(result.makespan)
          expect(result.leastEnd).toBeLessThanOrEqual(result.makespan)
        },
      ),
    )
  })

  it('refuses a window that no order of two exclusive activities meets', () => {
    const recoat = {
      durations: [4, 3, 2],
      needs: [[1], [1], [1]],
      capacities: [1],
      lags: [
        { from: 0, to: 2, lag: 4 },
        { from: 2, to: 0, lag: -5 },
        { from: 0, to: 1, lag: 1 },
        { from: 1, to: 0, lag: -5 },
      ],
    }
    expect(leastLaggedMakespan(recoat, plenty).kind).toBe('infeasible')
    const wider = { ...recoat, lags: recoat.lags.map((arc) => (arc.lag === -5 ? { ...arc, lag: -7 } : arc)) }
    expect(leastLaggedMakespan(wider, plenty)).toMatchObject({ kind: 'found', makespan: 9, proved: true })
  })

  it('names lags that join nothing', () => {
    const project = { durations: [1], needs: [[]], capacities: [], lags: [{ from: 0, to: 3, lag: 1 }] }
    expect(laggedProjectProblems(project).map(({ code }) => code)).toEqual(['project-lag'])
  })
})

// Values: proved by another clause-learning solver, see the README beside the data.
describeOpenData('rcpsp-max', /(j10|j20|ubo10|ubo20)\/.*\.sch$/, 9, (instances) => {
  it('are solved or refused as published', () => {
    for (const { name, text, known } of instances) {
      const result = leastLaggedMakespan(readProgenMax(text), { schedules: 3000 })
      if (known.status === 'infeasible') expect([name, result.kind]).toEqual([name, 'infeasible'])
      else expect([name, result.kind === 'found' && result.makespan]).toEqual([name, known.value])
    }
  }, 60_000)
})
