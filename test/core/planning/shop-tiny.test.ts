import { existsSync, readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { readShopTiny, shopTinyProblem } from '../../../benchmarks/formats/shop-tiny.ts'
import { planExactly } from '../../../core/planning/search/plan-exactly.ts'

// Answers proven by exhaustive search, and found again by a constraint model in another system; see the README beside them.
const folder = new URL('../../../../shared/bench-data/shop-tiny/', import.meta.url)
const known = new URL('known.csv', folder)

interface Known {
  readonly instance: string
  readonly makespan: number
  readonly status: string
  readonly tardiness: number
  readonly makespanAtTardiness: number
}

const rows = (): Known[] =>
  readFileSync(known, 'utf8')
    .trim()
    .split('\n')
    .slice(1)
    .map((line) => line.split(','))
    .map((cells) => ({
      instance: cells[0] ?? '',
      makespan: Number(cells[1]),
      status: cells[4] ?? '',
      tardiness: Number(cells[6]),
      makespanAtTardiness: Number(cells[7]),
    }))

const problemOf = ({ instance }: Known) =>
  shopTinyProblem(readShopTiny(readFileSync(new URL(instance, folder), 'utf8')))

describe('tiny shops with proven answers', () => {
  if (!existsSync(known)) {
    it.skip('are missing: ../shared/bench-data/shop-tiny', () => undefined)
    return
  }
  it.each(rows().filter(({ status }) => status === 'optimal'))('$instance is planned as well as can be', (row) => {
    const soonest = planExactly(problemOf(row), ['makespanMin'])
    expect(soonest.ok && soonest.value.objective.makespanMin).toBe(row.makespan)
    const kept = planExactly(problemOf(row), ['weightedTardiness', 'makespanMin'])
    expect(kept.ok && kept.value.objective).toMatchObject({
      weightedTardiness: row.tardiness,
      makespanMin: row.makespanAtTardiness,
    })
  })

  it.each(rows().filter(({ status }) => status === 'infeasible'))('$instance is refused with the window', (row) => {
    const refused = planExactly(problemOf(row))
    expect(refused.ok ? '' : refused.problems[0]?.code).toBe('window-cannot-be-met')
  })
})
