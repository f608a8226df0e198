import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { criticalPath, makespanLowerBound } from '../../../../core/planning/search/project/critical-path.ts'
import { leastMakespan } from '../../../../core/planning/search/project/makespan-search.ts'
import { projectProblems } from '../../../../core/planning/search/project/project.ts'
import { readPsplib } from '../../../../benchmarks/formats/psplib.ts'
import { describeOpenData } from './open-data.ts'
import { anyProject, asLagged, faults, lastFinish, leastByExhaustion } from './small-projects.ts'

describe('least makespan', () => {
  it('is what trying every start gives', () => {
    fc.assert(
      fc.property(anyProject({ activities: 5, longest: 3 }), fc.integer(), (small, seed) => {
        const result = leastMakespan(small, { schedules: 500 }, seed)
        expect(result.makespan).toBe(leastByExhaustion(asLagged(small)))
        expect(result.lowerBound).toBe(result.makespan)
        expect(faults(asLagged(small), result.starts)).toEqual([])
        expect(lastFinish(small, result.starts)).toBe(result.makespan)
      }),
    )
  })

  it('is the same for the same seed and number of schedules', () => {
    fc.assert(
      fc.property(anyProject({ activities: 30, longest: 9 }), fc.integer(), (project, seed) => {
        expect(leastMakespan(project, { schedules: 200 }, seed)).toEqual(
          leastMakespan(project, { schedules: 200 }, seed),
        )
      }),
      { numRuns: 30 },
    )
  })

  it('generates no more schedules than allowed, and always at least one', () => {
    fc.assert(
      fc.property(
        anyProject({ activities: 30, longest: 9 }),
        fc.integer({ min: 3, max: 300 }),
        (project, schedules) => {
          const result = leastMakespan(project, { schedules }, 1)
          expect(result.schedules).toBeLessThanOrEqual(schedules)
          expect(faults(asLagged(project), result.starts)).toEqual([])
        },
      ),
      { numRuns: 50 },
    )
  })

  it('stops when told to and hands over what it has', () => {
    const project = fc.sample(anyProject({ activities: 30, longest: 9 }), { numRuns: 1, seed: 7 })[0]!
    const result = leastMakespan(project, { schedules: Number.POSITIVE_INFINITY, goOn: () => false }, 1)
    expect(faults(asLagged(project), result.starts)).toEqual([])
  })
})

describe('project problems', () => {
  const sound = { durations: [1, 2], needs: [[1], [2]], capacities: [2], successors: [[1], []] }

  it('are none for a sound project', () => {
    expect(projectProblems(sound)).toEqual([])
  })

  it('name a circle of precedence, a need above the capacity and a bad number', () => {
    const codes = (project: typeof sound) => projectProblems(project).map(({ code }) => code)
    expect(codes({ ...sound, successors: [[1], [0]] })).toEqual(['precedence-cycle'])
    expect(codes({ ...sound, needs: [[1], [3]] })).toEqual(['need-above-capacity'])
    expect(codes({ ...sound, durations: [1, Number.NaN] })).toEqual(['project-duration'])
  })
})

// Values: PSPLIB's and Ghent University's tables, see the README beside the data.
describeOpenData('rcpsp-j30', /\.sm$/, 1, (instances) => {
  it('have the published critical path', () => {
    for (const { text, known } of instances) expect(criticalPath(readPsplib(text)).length).toBe(known.criticalPath)
  })

  it('have no lower bound above the optimum', () => {
    for (const { text, known } of instances)
      expect(makespanLowerBound(readPsplib(text))).toBeLessThanOrEqual(known.value!)
  })
})

describeOpenData('rcpsp-j30', /\.sm$/, 6, (instances) => {
  it('are solved to the published optimum within 5,000 schedules', () => {
    for (const { name, text, known } of instances) {
      const { makespan, lowerBound } = leastMakespan(readPsplib(text), { schedules: 5000 }, 1)
      expect([name, makespan]).toEqual([name, known.value])
      expect(lowerBound).toBeLessThanOrEqual(makespan)
    }
  }, 60_000)
})
